"""Calls that claim a share: "halfway", "that's the middle", "half of it gone", "a quarter left"."""

from __future__ import annotations

from collections.abc import Iterator

from reviewkit.language.numbers import find_numbers, number_value
from reviewkit.language.wordsets import word_set
from reviewkit.marks.call_line import Call, CallLine, about_class

_POINTS_AT = word_set(
    "that's we're you're us at is are there's it's and now already okay just past gone one's coming"
)
_SHARES = {
    "half": 1 / 2, "third": 1 / 3, "quarter": 1 / 4, "fifth": 1 / 5, "sixth": 1 / 6,
    "eighth": 1 / 8, "tenth": 1 / 10,
}  # fmt: skip
# "Half I'm not tipping over": nothing is halved.
_NO_PART = word_set("i i'm you you're we it they he she what a an")
# "The last third" is left without another word.
_ENDS = ("last", "final")
# "Halfway through my morning", "halfway round the shop": half of something else.
_OF_LIFE = word_set(
    "day morning afternoon evening night saturday sunday monday tuesday wednesday thursday friday "
    "week weekend month year life career chapter book breakfast lunch dinner"
)
_AFTER_LIFE = 4
_THROUGH = word_set("through of into to")
_NO_HALF = word_set("across round around between was")
# "Half past two" and "half four" are hours.
_HOURS = word_set("past one two three four six seven eight nine eleven twelve")
# "That's the middle" is a call whatever follows.
_TELLS = word_set("that's we're you're")


def half_calls(line: CallLine) -> Iterator[Call]:
    """Give the halfway calls of one line, of every wording; they may overlap."""
    for first, last in line.named("halfway").find(line.words):
        if not _is_position(line, first, last):
            yield about_class(line, Call(first, last, "halfway"))
    for first, last in line.named("half_end").find(line.words):
        if _is_half_call(line, first, last):
            yield about_class(line, Call(first, last, "halfway"))
    for at, word in enumerate(line.words):
        is_half = word in ("half", "halfway's") and line.word(at + 1) not in _NO_PART
        is_half = is_half and line.word(at - 1) != "don't"
        done = _half_done(line, at) if is_half else -1
        if done >= 0:
            yield about_class(line, Call(at, done, "halfway"))
    for label in ("share_left", "share_way"):
        yield from share_calls(line, label)


def share_calls(line: CallLine, label: str) -> Iterator[Call]:
    """Read "a quarter left" or "two thirds gone" as the share that is left.

    Args:
        line: One utterance.
        label: ``share_left``, ``share_gone`` or ``share_way``, the words that follow the share.
    """
    for first, last, share in (*_fractions(line), *_percents(line)):
        end = line.after(label, last + 1, skip=3)
        if label == "share_left" and line.word(first) in _ENDS and end < 0:
            end = last
        if end >= 0 and share < 1:
            left = share if label == "share_left" else 1 - share
            yield about_class(line, Call(first, end, "share", left))


def _fractions(line: CallLine) -> Iterator[tuple[int, int, float]]:
    """Give "a quarter", "two thirds", "the last fifth" with what share they are."""
    for first, last in line.named("share").find(line.words):
        number = number_value(line.words[last - 1 : last]) if first < last else None
        yield first, last, (number or 1) * _SHARES[line.words[last].removesuffix("s")]


def _percents(line: CallLine) -> Iterator[tuple[int, int, float]]:
    """Give "eighty per cent" and "the last ten percent" with what share they are."""
    for number in find_numbers(line.words):
        length = line.named("percent").length_at(line.words, number.last + 1)
        if length:
            first = number.first - (line.word(number.first - 1) in _ENDS)
            yield first, number.last + length, number.value / 100


def _is_position(line: CallLine, first: int, last: int) -> bool:
    """Tell "only go halfway" and "halfway up" from "we're halfway"."""
    follows = line.word(last + 1)
    of_what = line.words[last + 2 : last + 1 + _AFTER_LIFE]
    if follows in _NO_HALF or (follows in _THROUGH and not _OF_LIFE.isdisjoint(of_what)):
        return True
    if line.word(first - 1) in ("we're", "you're", "that's", "us", "there's", "are"):
        return False
    before = line.is_before("position_before", first)
    return before or line.after("position_after", last + 1) >= 0


def is_hour(line: CallLine, last: int) -> bool:
    """Tell "half past two" and "half four" from a half of the time, by the word after."""
    return line.words[last] == "half" and line.word(last + 1) in _HOURS


def _is_half_call(line: CallLine, first: int, last: int) -> bool:
    """Tell "and half" from "half kneeling": it opens or is pointed at, and then closes."""
    if line.is_before("position_before", first) or is_hour(line, last):
        return False
    if line.opens_at(first) and set(line.words[:first]) & _TELLS and line.word(last + 1) != "of":
        return True
    starts = line.opens_at(first) or line.word(first - 1) in _POINTS_AT
    return starts and line.closes_after(last)


def _half_done(line: CallLine, at: int) -> int:
    """Give where "half the left leg done" ends, -1 when it is something else."""
    for end in range(at + 1, min(at + 6, len(line.words))):
        if line.words[end] == "what" or (
            line.words[end] != "one" and find_numbers(line.words[end : end + 1])
        ):
            return -1
        length = line.named("half_done").length_at(line.words, end)
        if length:
            return end + length - 1
    return -1
