"""Turn files into records; the only place in this package that opens them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from reviewkit.errors import InputError
from reviewkit.model import Lexicon, Plan, Transcript, Weights
from reviewkit.read.decode import decode
from reviewkit.read.lexicon import LexiconFile, build_lexicon
from reviewkit.read.plan import MAX_BYTES as MAX_PLAN_BYTES
from reviewkit.read.plan import parse_plan
from reviewkit.read.transcript import MAX_BYTES as MAX_TRANSCRIPT_BYTES
from reviewkit.read.transcript import parse_transcript
from reviewkit.read.weights import parse_weights

__all__ = ["read_bytes", "read_lexicon", "read_plan", "read_transcript"]


def read_bytes(path: Path, max_bytes: int) -> bytes:
    """Read a whole file of at most ``max_bytes`` bytes.

    Raises:
        InputError: There is no such file, it is a folder, too large or not readable.
    """
    try:
        with path.open("rb") as file:
            data = file.read(max_bytes + 1)
    except FileNotFoundError:
        raise InputError(str(path), None, "there is no such file") from None
    except IsADirectoryError:
        raise InputError(str(path), None, "is a folder; name a file in it") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise InputError(str(path), None, f"cannot be read: {reason}") from None
    if len(data) > max_bytes:
        raise InputError(str(path), None, f"is larger than {max_bytes / 1_000_000:g} MB")
    return data


def read_plan(path: Path) -> Plan:
    """Read a plan from a CSV table, an .xlsx spreadsheet or plain text, told by content.

    Raises:
        InputError: The file cannot be read or is no plan.
        InputErrors: Every problem found in its lines.
    """
    return parse_plan(path.name, read_bytes(path, MAX_PLAN_BYTES))


MAX_LEXICON_FILE_BYTES = 5_000_000


def read_lexicon(own: Path | None = None, *, language: str = "en") -> Lexicon:
    """Read the bundled lexicon and, on top, a coach's own folder of the same files.

    Raises:
        InputError: ``own`` is no folder, or a file in it cannot be read.
        InputErrors: Every problem found in the files' lines.
    """
    files = _lexicon_files(_bundled_lexicons() / language, is_own=False)
    if own is not None:
        if not own.is_dir():
            raise InputError(str(own), None, "is no folder; name the folder that holds your lists")
        files += _lexicon_files(own, is_own=True)
    return replace(build_lexicon(files), weights=_weights(_bundled_lexicons() / language))


def _weights(folder: Path) -> dict[str, Weights]:
    """Read the fitted models of a language; they are not a coach's to edit."""
    return {
        path.stem: parse_weights(str(path), path.read_text(encoding="utf-8"))
        for path in sorted((folder / "fitted").glob("*.csv"))
    }


def _bundled_lexicons() -> Path:
    """Find the bundled lexicons: inside the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "lexicons"
    return inside if inside.is_dir() else package.parent / "lexicons"


def _lexicon_files(folder: Path, *, is_own: bool) -> tuple[LexiconFile, ...]:
    """Read the tables of one folder, in the order of their names."""
    paths = sorted(path for path in folder.iterdir() if path.suffix.lower() in (".csv", ".toml"))
    return tuple(
        LexiconFile(
            str(path), decode(read_bytes(path, MAX_LEXICON_FILE_BYTES), str(path))[0], is_own
        )
        for path in paths
    )


def read_transcript(path: Path) -> Transcript:
    """Read a timed transcript of any known format, told by content.

    Raises:
        InputError: The file cannot be read, has no timed speech, or is too long.
    """
    return parse_transcript(path.name, read_bytes(path, MAX_TRANSCRIPT_BYTES))
