"""SubRip (and captions that nearly are) -> cues.

There is no standard; this reads what files in the field look like: a number line or
none, a comma or a point before the milliseconds, hours or none, blank lines inside a
caption, a last line that is only a figure.
"""

from __future__ import annotations

import re
from collections import Counter

from reviewkit.model import Cue, Piece
from reviewkit.read.markup import split_at_stamps, unescape
from reviewkit.read.reading import Reading, at_line

_CLOCK = r"(?:(\d{1,4})[ ]?:[ ]?)?(\d{1,4})[ ]?:[ ]?(\d{1,2})(?:[ ]?[,.:;][ ]?(\d{1,3})\d{0,6})?"
_TIMING = re.compile(rf"\s{{0,20}}{_CLOCK}\s{{0,20}}(?:-{{1,3}}|\u2013|\u2014)>\s{{0,20}}{_CLOCK}")
_INDEX = re.compile(r"\s{0,20}\d{1,9}\s{0,20}")
_TAG = re.compile(r"</?[a-zA-Z][^<>]*>|\{\\[^{}]*\}|\{/?[bius]\}")
_HAS_STAMP = re.compile(r"<[0-9:.]{9,14}>")


def has_timing(text: str) -> bool:
    """Tell whether any line holds two times with an arrow between them."""
    return any(_TIMING.match(line) for line in text.split("\n") if ">" in line)


def read_srt(text: str, source: str) -> Reading:
    """Read SubRip captions; what stands between two timing lines is the caption's text."""
    del source
    lines = text.split("\n")
    timings = [
        (at, match)
        for at, line in enumerate(lines)
        if ">" in line and (match := _TIMING.match(line))
    ]
    indexes = _index_lines(lines, [at for at, _ in timings])
    warnings = [
        at_line(at + 1, "no two times around the arrow; the words are kept with the caption before")
        for at, line in enumerate(lines)
        if "-->" in line and not _TIMING.match(line)
    ]
    cues: list[Cue] = []
    stops = [at for at, _ in timings[1:]] + [len(lines)]
    for (at, match), stop in zip(timings, stops, strict=True):
        body = [lines[below] for below in range(at + 1, stop) if below not in indexes]
        start_ms, end_ms = _clock_ms(match.groups()[:4]), _clock_ms(match.groups()[4:])
        cues.append(Cue(start_ms, end_ms, _pieces(body), at + 1))
    return Reading("srt", tuple(cues), tuple(warnings))


def _index_lines(lines: list[str], timing_ats: list[int]) -> set[int]:
    """Find the number lines above the times; a caption's last line may be a figure too.

    Where most numbers run on by one they are indexes, even with blank lines between;
    otherwise only where most times have a number right above them.
    """
    found: list[tuple[int, int, bool]] = []
    floor = -1
    for order, at in enumerate(timing_ats):
        above = at - 1
        while above > floor and not lines[above].strip():
            above -= 1
        if above > floor and _INDEX.fullmatch(lines[above]):
            found.append((above, int(lines[above]) - order, above == at - 1))
        floor = at
    shifts = Counter(shift for _, shift, _ in found)
    usual, count = shifts.most_common(1)[0] if shifts else (0, 0)
    runs_on = 2 * count > len(timing_ats)
    close = sum(is_close for _, _, is_close in found)
    if not runs_on and 2 * close <= len(timing_ats):
        return set()
    return {at for at, shift, is_close in found if is_close or (runs_on and shift == usual)}


def _clock_ms(groups: tuple[str | None, ...]) -> int:
    hours, minutes, seconds, fraction = groups
    ms = int((fraction or "0").ljust(3, "0"))
    return ((int(hours or 0) * 60 + int(minutes or 0)) * 60 + int(seconds or 0)) * 1000 + ms


def _pieces(body: list[str]) -> tuple[Piece, ...]:
    lines = [line.strip() for line in body if "-->" not in line]
    text = "\n".join(line for line in lines if line)
    if _HAS_STAMP.search(text):
        return split_at_stamps(text)
    plain = unescape(_TAG.sub("", text))
    return (Piece(plain),) if plain else ()
