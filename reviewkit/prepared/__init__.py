"""Keep a lexicon made ready for listening, so that only the first review has to make it.

Thousands of lines are read, indexed and weighed before the first word is listened to, and
always to the same end. What comes of them is kept in the user's own cache folder.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from pathlib import Path

import platformdirs

from reviewkit.model import Lexicon
from reviewkit.prepared.keeping import make_ready
from reviewkit.read import lexicon_sources
from reviewkit.read.lexicon import LexiconFile

__all__ = ["default_folder", "prepared_lexicon"]

# A process listens with one lexicon, or with an old and a new one where a word is added.
_made_ready = lru_cache(maxsize=2)(make_ready)


def default_folder() -> Path:
    """Give the folder in which this computer's programs keep what they can make again."""
    return Path(platformdirs.user_cache_dir("reviewkit", appauthor=False))


def prepared_lexicon(
    own: Path | None = None,
    *,
    own_files: Sequence[LexiconFile] = (),
    own_lines: Iterable[tuple[str, str]] = (),
) -> Lexicon:
    """Give the lexicon that ``read_lexicon`` reads, ready for listening; arguments as there.

    Raises:
        InputError: ``own`` is no folder, or a file in it cannot be read.
        InputErrors: Every problem found in the files' lines.
    """
    sources = lexicon_sources(own, own_files=own_files, own_lines=own_lines)
    return _made_ready(sources, default_folder())
