"""Edit decision lists in the CMX 3600 form that editing programs take.

Each list is of one video whose first frame is 00:00:00:00. ``markers_edl`` lays it whole
on the timeline, with a locator for each marker; ``cuts_edl`` lays what stays of it, piece
after piece. Written here and not by the library that reads it back in the tests: that one
has no non-drop timecode at 29.97, says nothing of drop frames in the head, and writes
every name in capitals.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence

from reviewkit.edits.records import Cut, Marker, MarkerKind
from reviewkit.edits.timecode import (
    FrameRate,
    frame_not_before,
    nearest_frame,
    timecode,
)
from reviewkit.report.wording import clean

# Any source without a tape of its own.
REEL = "AX"
MAX_TITLE_CHARS = 60
MAX_NAME_CHARS = 120
COLOURS: dict[MarkerKind, str] = {
    "interval": "BLUE",
    "cut": "RED",
    "record": "GREEN",
    "caption": "YELLOW",
    "look": "MAGENTA",
}
_PLAIN_SIGNS = str.maketrans("\u201c\u201d\u2018\u2019\u2013\u2014\u2192", "\"\"''-->")


def markers_edl(title: str, markers: Sequence[Marker], length_ms: int, rate: FrameRate) -> str:
    """Write markers as locators on the whole video."""
    ends = (nearest_frame(one.start_ms, rate) + 1 for one in markers)
    frames = max([frame_not_before(length_ms, rate), 1, *ends])
    locators = [
        f"* LOC: {timecode(nearest_frame(one.start_ms, rate), rate)} {COLOURS[one.kind]:<7} "
        f"{_plain(one.name)[:MAX_NAME_CHARS]}"
        for one in markers
    ]
    return _text([*_head(title, rate), _event(1, "V", 0, frames, 0, rate), *locators])


def cuts_edl(title: str, cuts: Sequence[Cut], length_ms: int, rate: FrameRate) -> str:
    """Write the pieces that stay when all cuts are made, picture and sound together."""
    lines, at = _head(title, rate), 0
    for number, (first, end) in enumerate(_pieces(cuts, length_ms, rate), 1):
        lines.append(_event(number, "B", first, end, at, rate))
        at += end - first
    return _text(lines)


def _pieces(cuts: Sequence[Cut], length_ms: int, rate: FrameRate) -> Iterator[tuple[int, int]]:
    at, end = 0, max(frame_not_before(length_ms, rate), 1)
    for cut in sorted(cuts, key=lambda one: one.span):
        first = nearest_frame(cut.span.start_ms, rate)
        if at < first:
            yield at, first
        at = nearest_frame(cut.span.end_ms, rate)
    if at < end:
        yield at, end


def _head(title: str, rate: FrameRate) -> list[str]:
    drop = "DROP FRAME" if rate.is_drop else "NON-DROP FRAME"
    return [f"TITLE: {_plain(title)[:MAX_TITLE_CHARS] or 'CLASS'}", f"FCM: {drop}", ""]


def _event(number: int, tracks: str, first: int, end: int, at: int, rate: FrameRate) -> str:
    """Write a cut: where it comes from, from its first frame to the one after its last, and to."""
    times = " ".join(timecode(one, rate) for one in (first, end, at, at + end - first))
    return f"{number:03d}  {REEL:<8} {tracks:<5} C        {times}"


def _plain(text: str) -> str:
    """Write with the signs that the format knows: those of ASCII."""
    signs = unicodedata.normalize("NFKD", clean(text).translate(_PLAIN_SIGNS))
    return signs.encode("ascii", "ignore").decode()


def _text(lines: Sequence[str]) -> str:
    return "\r\n".join(lines) + "\r\n"
