"""Calls with a unit: "ten seconds", "half a minute to go", "a minute and a half of this"."""

from __future__ import annotations

from collections.abc import Iterator

from reviewkit.language.numbers import UNITS, Length, find_lengths
from reviewkit.marks.call_line import Call, CallLine, about_class

_LONGEST_CLAIM_S = 600
# Shorter lengths without a word such as "left" are tempo: "three seconds down".
_SHORTEST_BARE_S = 5
# A line that says nothing else is a call from here on.
_SHORTEST_ALONE_S = 3
_MINUTE_S = 60
# What stands before a minute that has no number.
_BARE_BEFORE = ("", "and", "okay", "right", "so", "first", "that's", "there's", "with")
_STRONG = ("last", "final", "another", "still", "only", "rests")
_REST = ("rest", "off", "break", "recovery")
# May stand between "we've done" and the length: "we've done about thirty seconds".
_LEADS_ON = ("about", "already", "a", "the", "nearly", "almost")
# "A minute" in a longer line is a figure of speech.
_SHORT_LINE = 8


def length_calls(line: CallLine) -> Iterator[Call]:
    """Give the calls of one line that name their unit, in order."""
    for length in (*find_lengths(line.words), *_bare_minutes(line)):
        if length.seconds > _LONGEST_CLAIM_S:
            continue
        call = _length_call(line, length)
        if call is not None:
            yield about_class(line, call)


def _bare_minutes(line: CallLine) -> Iterator[Length]:
    """Give each minute said without a number that is left or over: "minute to go"."""
    for at, word in enumerate(line.words):
        is_bare = UNITS.get(word) == _MINUTE_S and line.word(at - 1) in _BARE_BEFORE
        if is_bare and any(line.after(label, at + 1) >= 0 for label in ("after", "gone")):
            yield Length(at, at, _MINUTE_S)


def _is_short_call(line: CallLine, first: int, after: int) -> bool:
    """Tell "a minute on this side" from "sit there a minute"."""
    return line.opens_at(first) and line.closes_after(after - 1) and len(line.words) <= _SHORT_LINE


def _shortest_s(line: CallLine, length: Length) -> int:
    """Give the least seconds that are a call without a word such as "left"."""
    is_alone = line.is_all_filled(length.first, length.last)
    return _SHORTEST_ALONE_S if is_alone else _SHORTEST_BARE_S


def _is_gone(line: CallLine, at: int) -> bool:
    """Tell whether "we've had", "you have used" leads to a length."""
    start = at - 1 if line.word(at - 1) in _LEADS_ON else at
    return line.is_before("gone_lead", start)


def _length_call(line: CallLine, length: Length) -> Call | None:
    """Read a length as time left or gone; None for a dose, a story or a rest."""
    before, after = length.first, length.last + 1
    first = before - line.named("before").length_before(line.words, before)
    left = line.after("after", after, skip=2)
    is_more = bool({"more", "another", "left"} & set(line.words[first:after]))
    if left >= 0:
        return Call(first, left, "left", length.seconds)
    if _is_gone(line, before) and length.seconds >= _SHORTEST_BARE_S:
        return Call(first, length.last, "gone", length.seconds)
    if line.is_story(before, after) or line.word(after) in _REST:
        return None
    is_figure = line.words[before:after] == ("a", "minute") and line.after("gone", after) < 0
    if is_figure and not _is_short_call(line, before, after):
        return None
    if line.words[first] in _STRONG or is_more:
        return Call(first, length.last, "left", length.seconds)
    if line.after("dose_after", after) >= 0 or line.words[after:] == ("on",):
        return None
    gone = line.after("gone", after, skip=1)
    if gone >= 0 and length.seconds >= _SHORTEST_BARE_S:
        return Call(first, gone, "gone", length.seconds)
    if line.is_before("gone_before", before) and length.seconds == 30 and "half" in line.words:
        return Call(first, length.last, "gone", length.seconds)
    if first < before:
        return Call(first, length.last, "left", length.seconds)
    if line.is_before("dose_before", before) or length.seconds < _shortest_s(line, length):
        return None
    return Call(first, length.last, "left", length.seconds)
