"""Plain text with stamps -> cues: ``[0:40] ...``, ``(0:40) ...``, ``0:40 ...``.

A stamp may stand before the words, on a line of its own, after a speaker's name, or,
in brackets, inside a line. Stamps are cut to the second unless they show fractions.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from reviewkit.model import Cue, Piece
from reviewkit.read.reading import Reading, at_line

_CLOCK = r"(?:(\d{1,2}):)?(\d{1,3}):([0-5]\d)(?:[.,](\d{1,3}))?"
_END = r"(?:\s{0,3}(?:-{1,3}>?|\u2013|\u2014|to)\s{0,3}" + _CLOCK + r")?"
_BRACKETED = re.compile(rf"(?:\[\s?{_CLOCK}{_END}\s?\]|\(\s?{_CLOCK}{_END}\s?\))")
_BARE = re.compile(rf"\s{{0,20}}{_CLOCK}{_END}(?![\d:])(?:\s{{0,3}}[-\u2013\u2014|:](?=\s))?")
_NAMED = re.compile(rf"[^\d\W][\w .'-]{{0,40}}?[\s,]{{1,4}}{_CLOCK}\s{{0,4}}:?")


@dataclass(frozen=True, slots=True)
class _Stamp:
    start_ms: int
    end_ms: int | None
    is_whole: bool
    line: int


_Block = tuple[_Stamp, list[str]]
_MOST_STRAYS = 0.2


def has_stamps(text: str) -> bool:
    """Tell whether at least one line begins with a stamp, or holds one in brackets."""
    return any(
        _BRACKETED.search(line) or _BARE.match(line) or _NAMED.fullmatch(line.strip())
        for line in text.split("\n")
    )


def read_stamped_text(text: str, source: str) -> Reading:
    """Read stamped text; a block's end is known only where the stamp gave it."""
    del source
    lines = text.split("\n")
    in_brackets = sum(1 for line in lines if _BRACKETED.match(line.lstrip()))
    bare = sum(1 for line in lines if _BARE.match(line) or _NAMED.fullmatch(line.strip()))
    split = _split_brackets if in_brackets >= bare else _split_bare
    blocks: list[_Block] = []
    warnings: list[str] = []
    for number, line in enumerate(lines, 1):
        for stamp, words in split(line, number):
            if stamp is not None:
                blocks.append((stamp, []))
            if words.strip():
                _keep(words.strip(), number, blocks, warnings)
    kept = _join_strays(blocks, warnings)
    cues = tuple(
        Cue(stamp.start_ms, stamp.end_ms, (Piece("\n".join(words)),), stamp.line)
        for stamp, words in kept
        if words
    )
    is_whole = all(stamp.is_whole for stamp, _ in kept)
    return Reading("text", cues, tuple(warnings), 1000 if is_whole else 1)


def _join_strays(blocks: list[_Block], warnings: list[str]) -> list[_Block]:
    """Give the words of a stamp that does not fit the order to the block before it.

    A few such stamps are slips, or figures that were spoken ("1:30 of rest"); many mean
    that the text is not in time order, and then all are believed.
    """
    rising = _longest_rising([stamp.start_ms for stamp, _ in blocks])
    if len(blocks) - len(rising) > _MOST_STRAYS * len(blocks):
        return blocks
    kept: list[_Block] = []
    for at, (stamp, words) in enumerate(blocks):
        if at in rising:
            kept.append((stamp, list(words)))
            continue
        warnings.append(at_line(stamp.line, "the time does not fit those around it; not used"))
        if kept:
            kept[-1][1].extend(words)
    return kept


def _longest_rising(times: Sequence[int]) -> set[int]:
    """Find the places of the longest run of times that never fall (patience sorting)."""
    tops: list[int] = []
    top_at: list[int] = []
    before: list[int] = []
    for at, time in enumerate(times):
        pile = bisect_right(tops, time)
        before.append(top_at[pile - 1] if pile else -1)
        tops[pile : pile + 1] = [time]
        top_at[pile : pile + 1] = [at]
    rising: set[int] = set()
    at = top_at[-1] if top_at else -1
    while at >= 0:
        rising.add(at)
        at = before[at]
    return rising


def _keep(words: str, line: int, blocks: list[_Block], warnings: list[str]) -> None:
    if blocks:
        blocks[-1][1].append(words)
    elif not warnings:
        warnings.append(at_line(line, "words before the first time are left out"))


def _split_brackets(line: str, number: int) -> list[tuple[_Stamp | None, str]]:
    parts: list[tuple[_Stamp | None, str]] = []
    stamp: _Stamp | None = None
    at = 0
    for match in _BRACKETED.finditer(line):
        parts.append((stamp, line[at : match.start()]))
        groups = match.groups()
        given = groups[:8] if groups[2] is not None else groups[8:]
        stamp, at = _to_stamp(given, number), match.end()
    parts.append((stamp, line[at:].lstrip(" :-") if stamp else line[at:]))
    return parts


def _split_bare(line: str, number: int) -> list[tuple[_Stamp | None, str]]:
    match = _BARE.match(line)
    if match:
        return [(_to_stamp(match.groups(), number), line[match.end() :])]
    named = _NAMED.fullmatch(line.strip())
    if named:
        return [(_to_stamp((*named.groups(), None, None, None, None), number), "")]
    return [(None, line)]


def _to_stamp(groups: tuple[str | None, ...], line: int) -> _Stamp:
    start, end = groups[:4], groups[4:8]
    end_ms = None if end[2] is None else _clock_ms(end)
    return _Stamp(_clock_ms(start), end_ms, start[3] is None, line)


def _clock_ms(groups: tuple[str | None, ...]) -> int:
    hours, minutes, seconds, fraction = groups
    ms = int((fraction or "0").ljust(3, "0"))
    return ((int(hours or 0) * 60 + int(minutes or 0)) * 60 + int(seconds or 0)) * 1000 + ms
