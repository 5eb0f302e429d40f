"""Turn files into records; the only place in this package that opens them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from itertools import groupby
from pathlib import Path, PurePath

from reviewkit.errors import InputError
from reviewkit.model import Lexicon, Plan, Transcript, Weights
from reviewkit.read.decode import decode
from reviewkit.read.lexicon import LexiconFile, build_lexicon, header_of
from reviewkit.read.plan import MAX_BYTES as MAX_PLAN_BYTES
from reviewkit.read.plan import parse_plan
from reviewkit.read.transcript import MAX_BYTES as MAX_TRANSCRIPT_BYTES
from reviewkit.read.transcript import parse_transcript
from reviewkit.read.weights import parse_weights

__all__ = [
    "POINTS_FILE",
    "BundledFile",
    "LexiconSources",
    "build",
    "bundled_class",
    "lexicon_file_names",
    "lexicon_sources",
    "own_lexicon_files",
    "read_bytes",
    "read_lexicon",
    "read_plan",
    "read_transcript",
]

OWN_LINES = "own lines"
# Points are no table; one of them fits on a line all the same.
POINTS_FILE = "points.toml"
DEMO_CLASS = "harbour-evening"


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


@dataclass(frozen=True, slots=True)
class BundledFile:
    """A file of the program's own, nothing made of it yet."""

    source: str
    data: bytes

    def read(self) -> LexiconFile:
        """Read it as text."""
        return LexiconFile(self.source, decode(self.data, self.source)[0])


@dataclass(frozen=True, slots=True)
class LexiconSources:
    """All that a lexicon is built from, as it stands in its files.

    ``fitted`` are the tables of the fitted models, which are not a coach's to edit.
    """

    bundled: tuple[BundledFile, ...]
    fitted: tuple[BundledFile, ...]
    own: tuple[LexiconFile, ...] = ()


def read_lexicon(
    own: Path | None = None,
    *,
    own_files: Sequence[LexiconFile] = (),
    own_lines: Iterable[tuple[str, str]] = (),
    language: str = "en",
) -> Lexicon:
    """Read the bundled lexicon and, on top, a coach's own folder of the same files.

    Args:
        own: Folder with files of the coach's own.
        own_files: Such files that were read before, by ``own_lexicon_files``.
        own_lines: Single lines of the coach's own, each with the name of its file; a point
            is a line of ``points.toml``.
        language: Whose bundled lexicon to read.

    Raises:
        InputError: ``own`` is no folder, or a file in it cannot be read.
        InputErrors: Every problem found in the files' lines.
    """
    files = _own_files(own, own_files, own_lines)
    return build(_sources(language, files)) if files else _bundled_lexicon(language)


def lexicon_sources(
    own: Path | None = None,
    *,
    own_files: Sequence[LexiconFile] = (),
    own_lines: Iterable[tuple[str, str]] = (),
    language: str = "en",
) -> LexiconSources:
    """Read the files of a lexicon and make nothing of them yet; arguments as ``read_lexicon``.

    Raises:
        InputError: ``own`` is no folder, or a file in it cannot be read.
    """
    return _sources(language, _own_files(own, own_files, own_lines))


def build(sources: LexiconSources) -> Lexicon:
    """Build a lexicon from its files.

    Raises:
        InputErrors: Every problem found in the files' lines.
    """
    files = (*(file.read() for file in sources.bundled), *sources.own)
    weights = {PurePath(file.source).stem: _weights(file) for file in sources.fitted}
    return replace(build_lexicon(files), weights=weights)


# The same for every coach, whatever words of their own there are.
@lru_cache(maxsize=32)
def _weights(file: BundledFile) -> Weights:
    return parse_weights(file.source, file.read().text)


# What is bundled stays as it is while the program runs.
@cache
def _bundled_lexicon(language: str) -> Lexicon:
    return build(_sources(language, ()))


def _own_files(
    own: Path | None, files: Sequence[LexiconFile], lines: Iterable[tuple[str, str]]
) -> tuple[LexiconFile, ...]:
    return (*(own_lexicon_files(own) if own is not None else ()), *files, *_files_of(lines))


def _sources(language: str, own_files: Sequence[LexiconFile]) -> LexiconSources:
    folder = _bundled_lexicons() / language
    return LexiconSources(
        _bundled_files(folder), _bundled_files(folder / "fitted"), tuple(own_files)
    )


def _bundled_files(folder: Path) -> tuple[BundledFile, ...]:
    return tuple(
        BundledFile(str(path), read_bytes(path, MAX_LEXICON_FILE_BYTES)) for path in _tables(folder)
    )


def own_lexicon_files(own: Path) -> tuple[LexiconFile, ...]:
    """Read the files of a coach's own folder without making anything of them yet.

    Raises:
        InputError: ``own`` is no folder, or a file in it cannot be read.
    """
    if not own.is_dir():
        raise InputError(str(own), None, "is no folder; name the folder that holds your lists")
    files = ((str(path), read_bytes(path, MAX_LEXICON_FILE_BYTES)) for path in _tables(own))
    return tuple(
        LexiconFile(source, decode(data, source)[0], is_own=True) for source, data in files
    )


def lexicon_file_names(*, language: str = "en") -> tuple[str, ...]:
    """Give the names of the tables that a coach's own single lines may go into."""
    paths = (_bundled_lexicons() / language).glob("*.csv")
    return tuple(sorted(path.name for path in paths))


def _files_of(lines: Iterable[tuple[str, str]]) -> tuple[LexiconFile, ...]:
    """Put single lines together into tables, each under its header.

    Every point is a file of its own: a later one of the same id changes it.
    """
    by_file = groupby(sorted(lines, key=lambda pair: pair[0]), key=lambda pair: pair[0])
    texts = [
        (name, text)
        for name, pairs in by_file
        for text in _texts_of(name, [line for _, line in pairs])
    ]
    return tuple(
        LexiconFile(f"{OWN_LINES}/{name}", f"{text}\n", is_own=True) for name, text in texts
    )


def _texts_of(name: str, lines: Sequence[str]) -> Sequence[str]:
    return lines if name == POINTS_FILE else ["\n".join((header_of(name), *lines))]


def bundled_class() -> Path:
    """Find the folder of the invented class that comes with the program."""
    return _bundled("fixtures") / DEMO_CLASS


def _bundled_lexicons() -> Path:
    return _bundled("lexicons")


def _bundled(name: str) -> Path:
    """Find what is bundled: inside the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    inside = package / name
    return inside if inside.is_dir() else package.parent / name


def _tables(folder: Path) -> list[Path]:
    """List the tables of one folder, in the order of their names."""
    return sorted(path for path in folder.iterdir() if path.suffix.lower() in (".csv", ".toml"))


def read_transcript(path: Path) -> Transcript:
    """Read a timed transcript of any known format, told by content.

    Raises:
        InputError: The file cannot be read, has no timed speech, or is too long.
    """
    return parse_transcript(path.name, read_bytes(path, MAX_TRANSCRIPT_BYTES))
