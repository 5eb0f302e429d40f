"""The bundled word lists, without moves and points, for tests of single detectors."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from reviewkit.model import Lexicon
from reviewkit.read.lexicon import LexiconFile, build_lexicon

_FOLDER = Path(__file__).parent.parent / "lexicons" / "en"
_NOT_FLAT = ("moves", "patterns", "points")


@cache
def flat_lexicon() -> Lexicon:
    """Read every flat list of the English lexicon."""
    files = sorted(path for path in _FOLDER.glob("*.csv") if path.stem not in _NOT_FLAT)
    return build_lexicon([LexiconFile(path.name, path.read_text("utf-8")) for path in files])
