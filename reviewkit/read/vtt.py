"""WebVTT -> cues, by the parsing algorithm of the standard.

Source: W3C, WebVTT: The Web Video Text Tracks Format, section 6 (parsing).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from reviewkit.errors import InputError
from reviewkit.model import Cue
from reviewkit.read.markup import parse_stamp, split_at_stamps
from reviewkit.read.reading import Reading, at_line

_SIGNATURE = re.compile(r"WEBVTT(?:[ \t]|$)")
_BLANK = " \t\f\n\r"


@dataclass(frozen=True, slots=True)
class RawCue:
    """A cue as the standard's parser leaves it: times in order or not, text with markup."""

    start_ms: int
    end_ms: int
    text: str
    line: int


def is_vtt(text: str) -> bool:
    """Tell whether the first line that is not blank is the signature of WebVTT."""
    return bool(_SIGNATURE.match(text.lstrip().split("\n", 1)[0]))


def read_vtt(text: str, source: str) -> Reading:
    """Read WebVTT; inline word times become the times of pieces.

    Blank lines before the signature, which the standard does not allow, are forgiven.

    Raises:
        InputError: The file does not begin with the signature.
    """
    stripped = text.lstrip()
    skipped = text.count("\n", 0, len(text) - len(stripped))
    if skipped:
        # The blank lines move behind the signature, so that line numbers stay true.
        signature, _, body = stripped.partition("\n")
        text = signature + "\n" * (skipped + 1) + body
    raw_cues, warnings = parse_vtt(text, source)
    cues = tuple(
        Cue(raw.start_ms, raw.end_ms, split_at_stamps(raw.text), raw.line) for raw in raw_cues
    )
    return Reading("webvtt", cues, warnings)


def parse_vtt(text: str, source: str) -> tuple[tuple[RawCue, ...], tuple[str, ...]]:
    r"""Find the cues of a WebVTT file and warn about timing lines that are none.

    Args:
        text: The decoded file, line ends ``\n``, without a byte order mark.
        source: Name of the file, for the error.

    Raises:
        InputError: The file does not begin with the signature.
    """
    lines = text.split("\n")
    if not _SIGNATURE.match(lines[0]):
        raise InputError(source, 1, "this is no WebVTT; its first line would be WEBVTT")
    cues: list[RawCue] = []
    warnings: list[str] = []
    at = 1
    if at < len(lines) and lines[at]:
        at = _skip_header(lines, at)
    while at < len(lines):
        if not lines[at]:
            at += 1
            continue
        at, cue = _collect_block(lines, at, warnings)
        if cue:
            cues.append(cue)
    return tuple(cues), tuple(warnings)


def _skip_header(lines: list[str], at: int) -> int:
    while at < len(lines) and lines[at] and "-->" not in lines[at]:
        at += 1
    return at


def _collect_block(lines: list[str], at: int, warnings: list[str]) -> tuple[int, RawCue | None]:
    """Collect one block: an identifier line may stand before the times, text follows them."""
    timing_at = at if "-->" in lines[at] else at + 1
    if timing_at >= len(lines) or "-->" not in lines[timing_at]:
        return _block_end(lines, timing_at), None
    end = _block_end(lines, timing_at + 1)
    times = _parse_timing(lines[timing_at])
    if times is None:
        warnings.append(
            at_line(timing_at + 1, "no two times around the arrow; this caption is left out")
        )
        return end, None
    body = "\n".join(lines[timing_at + 1 : end])
    return end, RawCue(*times, body, timing_at + 1)


def _block_end(lines: list[str], at: int) -> int:
    while at < len(lines) and lines[at] and "-->" not in lines[at]:
        at += 1
    return at


def _parse_timing(line: str) -> tuple[int, int] | None:
    """Read both times of a timing line; settings after them do not matter to speech."""
    start = parse_stamp(line, _skip_blank(line, 0))
    if start is None:
        return None
    arrow = _skip_blank(line, start[1])
    if not line.startswith("-->", arrow):
        return None
    end = parse_stamp(line, _skip_blank(line, arrow + 3))
    return None if end is None else (start[0], end[0])


def _skip_blank(line: str, at: int) -> int:
    while at < len(line) and line[at] in _BLANK:
        at += 1
    return at
