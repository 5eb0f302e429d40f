"""Number words, figures and lengths of time in speech, as values.

Works on normalised words (lower case, no outer punctuation), in figures or words, joined
by hyphens or run together by a recogniser ("twenty-five", "thirtyseconds"). Indexes are
positions in the words given; values are plain numbers, lengths are seconds.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from reviewkit.language.wordsets import word_set

UNITS = {
    **dict.fromkeys(("second", "seconds", "sec", "secs", "tick", "ticks", "s"), 1),
    **dict.fromkeys(("minute", "minutes", "min", "mins"), 60),
}
_ONES_TEXT = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
    "fifteen sixteen seventeen eighteen nineteen"
)
_TENS_TEXT = "twenty thirty forty fifty sixty seventy eighty ninety"
_ONES = {word: value for value, word in enumerate(_ONES_TEXT.split())}
_TENS = {word: 10 * value for value, word in enumerate(_TENS_TEXT.split(), start=2)}
# How recognisers and dialects write the same numbers.
_HEARD_AS = {
    "fiver": "five",
    "fife": "five",
    "fourty": "forty",
    "niner": "nine",
    "thirdy": "thirty",
    "thurty": "thirty",
    "tirty": "thirty",
    "twenney": "twenty",
    "twenny": "twenty",
    "twenteh": "twenty",
    "tweny": "twenty",
    "fitteen": "fifteen",
    "fiddy": "fifty",
}
_SETS = {"couple": 2, "pair": 2, "dozen": 12}
_MANY_QUARTERS = 0.75
_SHARES = {"half": 0.5, "quarter": 0.25, "quarters": _MANY_QUARTERS}
# What a number in words begins with.
_BEGINNINGS = frozenset((*_ONES, *_TENS, "half", "a", "another", "couple"))
_FIGURE = re.compile(r"\d{1,4}(?:\.\d+)?")
_CLOCK = re.compile(r"(\d{1,2}):([0-5]\d)")
_GLUED = re.compile(
    r"(?P<n>\d+|" + "|".join(sorted((*_ONES, *_TENS, *_HEARD_AS), key=len, reverse=True)) + r")"
    r"(?P<rest>seconds?|secs?|minutes?|mins?|more|left|(?<=\d)s)"
)
# Reads a value at a part: the value and how many parts it took, None where there is none.
_Reader = Callable[[Sequence[str], int], tuple[float, int] | None]
_BEFORE_UNIT = word_set("a another last final full whole entire good the")
# Words a coach slips between a number and its unit: "ten more little seconds".
_BETWEEN = word_set(
    "more little big long short quiet good last final full whole entire solid extra further odd "
    "measly glorious precious lovely or so tiny strong beautiful another of these those ones "
    "wee cheeky lousy horrible brutal wicked nasty naughty sweet bonus plus proper happy spicy "
    "juicy sweaty golden bloody flipping blooming ruddy stinking freaking silly slow easy hard "
    "tough honest clean steady smooth gentle calm mighty"
)


@dataclass(frozen=True, slots=True)
class Number:
    """A number said in words ``first`` to ``last`` (inclusive)."""

    first: int
    last: int
    value: float


@dataclass(frozen=True, slots=True)
class Length:
    """A length of time said in words ``first`` to ``last`` (inclusive), in seconds."""

    first: int
    last: int
    seconds: float


@dataclass(frozen=True, slots=True)
class _Pieces:
    """Words cut into the parts that numbers are made of, each with its word's position."""

    parts: tuple[str, ...]
    at: tuple[int, ...]


@lru_cache(maxsize=20_000)
def _cut(word: str) -> tuple[str, ...]:
    """Cut one word where a hyphen or a recogniser joined several; write numbers one way."""
    parts: Sequence[str] = word.split("-") if "-" in word else (word,)
    glued = _GLUED.fullmatch(word)
    if glued:
        parts = (glued["n"], glued["rest"])
    return tuple(_HEARD_AS.get(part, part) for part in parts if part)


def _pieces(words: Sequence[str]) -> _Pieces:
    parts: list[str] = []
    at: list[int] = []
    for index, word in enumerate(words):
        for part in _cut(word):
            parts.append(part)
            at.append(index)
    return _Pieces(tuple(parts), tuple(at))


def _part(parts: Sequence[str], at: int) -> str:
    return parts[at] if 0 <= at < len(parts) else ""


def _below_hundred(parts: Sequence[str], at: int) -> tuple[int, int] | None:
    """Read 0 to 99 in words: the value and how many parts it took."""
    word = _part(parts, at)
    if word in _TENS:
        unit = _ONES.get(_part(parts, at + 1), 0)
        return (_TENS[word] + unit, 2) if 1 <= unit <= 9 else (_TENS[word], 1)
    return (_ONES[word], 1) if word in _ONES else None


def _hundreds(parts: Sequence[str], at: int, hundreds: int) -> tuple[int, int]:
    """Read what follows "hundred": the whole value and how many further parts it took."""
    skip = int(_part(parts, at) == "and")
    more = _below_hundred(parts, at + skip)
    return (hundreds, 0) if more is None else (hundreds + more[0], skip + more[1])


def _read(parts: Sequence[str], at: int) -> tuple[float, int] | None:
    """Read a number that starts at a part: its value and how many parts it took."""
    word = _part(parts, at)
    if word not in _BEGINNINGS and not word[:1].isdecimal():
        return None
    if _FIGURE.fullmatch(word):
        return float(word), 1
    if word == "half" and "dozen" in parts[at + 1 : at + 3]:
        return 6.0, parts.index("dozen", at) - at + 1
    if word in ("a", "another") and _part(parts, at + 1) in (*_SETS, "hundred"):
        if _part(parts, at + 1) == "hundred":
            value, used = _hundreds(parts, at + 2, 100)
            return float(value), used + 2
        return float(_SETS[_part(parts, at + 1)]), 2
    if word == "couple":
        return 2.0, 1
    small = _below_hundred(parts, at)
    if small is None:
        return None
    value, used = small
    if _part(parts, at + used) == "hundred":
        value, more = _hundreds(parts, at + used + 1, value * 100)
        used += 1 + more
    if list(parts[at + used : at + used + 3]) == ["and", "a", "half"]:
        return value + 0.5, used + 3
    return float(value), used


def find_numbers(words: Sequence[str]) -> tuple[Number, ...]:
    """Find every number in order, none overlapping; ordinals ("third") are no numbers."""
    return _find_once(tuple(words))


# Every detector of amounts asks for the numbers of the same lines.
@lru_cache(maxsize=20_000)
def _find_once(words: tuple[str, ...]) -> tuple[Number, ...]:
    return tuple(Number(*one) for one in _each(_pieces(words), _read))


def _each(pieces: _Pieces, read: _Reader) -> Iterator[tuple[int, int, float]]:
    """Give every value that a reader finds, none overlapping, with its first and last word."""
    at = 0
    while at < len(pieces.parts):
        found = read(pieces.parts, at)
        if found is None:
            at += 1
            continue
        value, used = found
        yield pieces.at[at], pieces.at[at + used - 1], value
        at += used


def _share_unit(parts: Sequence[str], at: int) -> tuple[float, int] | None:
    """Read "half a minute", "quarter of a minute", "three quarters of a minute"."""
    start = at + (_part(parts, at) in ("a", "three", "3"))
    share = _SHARES.get(_part(parts, start))
    if share is None or (share == _MANY_QUARTERS) != (_part(parts, at) in ("three", "3")):
        return None
    unit = start + 1
    while unit < start + 3 and _part(parts, unit) in ("of", "a", "the"):
        unit += 1
    size = UNITS.get(_part(parts, unit))
    return (share * 60, unit - at + 1) if size == 60 else None


def _bare_minute(parts: Sequence[str], at: int) -> tuple[float, int] | None:
    """Read "minute and a half", which coaches say without the "a" before it."""
    if _part(parts, at) not in ("minute", "min"):
        return None
    more = _share_more(parts, at + 1)
    return (60 + more[0], 1 + more[1]) if more else None


def _share_more(parts: Sequence[str], at: int) -> tuple[float, int] | None:
    """Read the seconds of "and a half", "and half" or "and a quarter" behind minutes."""
    if _part(parts, at) != "and":
        return None
    share = at + 1 + (_part(parts, at + 1) == "a")
    seconds = {"half": 30.0, "quarter": 15.0}.get(_part(parts, share))
    return None if seconds is None else (seconds, share - at + 1)


def _one_unit(parts: Sequence[str], at: int) -> tuple[float, int] | None:
    """Read "a minute", "another whole minute", "last minute" without a number."""
    if _part(parts, at) not in _BEFORE_UNIT:
        return None
    unit = at + 1
    while unit < at + 3 and _part(parts, unit) in _BETWEEN:
        unit += 1
    return (60.0, unit - at + 1) if _part(parts, unit) in ("minute", "min") else None


def _counted_unit(parts: Sequence[str], at: int) -> tuple[float, int] | None:
    """Read "45 seconds", "ten more little seconds", "two and a half minutes"."""
    read = _read(parts, at)
    if read is None:
        return None
    value, used = read
    unit = at + used
    while unit < at + used + 4 and _part(parts, unit) in _BETWEEN:
        unit += 1
    size = UNITS.get(_part(parts, unit))
    return None if size is None else (value * size, unit - at + 1)


def _seconds_after(parts: Sequence[str], at: int) -> tuple[float, int] | None:
    """Read what follows minutes: "and a half", "thirty", "and ten seconds"."""
    start = at + (_part(parts, at) == "and")
    if share := _share_more(parts, at):
        return share
    read = _read(parts, start)
    if read is None or not 5 <= read[0] <= 59:
        return None
    value, used = read
    has_unit = UNITS.get(_part(parts, start + used)) == 1
    if start > at and not has_unit:
        return None
    return value, start - at + used + has_unit


def _length(parts: Sequence[str], at: int) -> tuple[float, int] | None:
    """Read a length that starts at a part: seconds and how many parts it took."""
    clock = _CLOCK.fullmatch(_part(parts, at))
    if clock:
        return 60.0 * int(clock[1]) + int(clock[2]), 1
    read = _share_unit(parts, at) or _counted_unit(parts, at) or _one_unit(parts, at)
    if read is None:
        return _bare_minute(parts, at)
    seconds, used = read
    if UNITS.get(_part(parts, at + used - 1)) == 60 and seconds >= 60:
        more = _seconds_after(parts, at + used)
        if more is not None:
            return seconds + more[0], used + more[1]
    return seconds, used


def find_lengths(words: Sequence[str]) -> tuple[Length, ...]:
    """Find every length of time that names its unit, in order, none overlapping."""
    pieces = _pieces(words)
    if not any(part in UNITS or ":" in part for part in pieces.parts):
        return ()
    return tuple(Length(*one) for one in _each(pieces, _length))


def number_value(words: Sequence[str]) -> float | None:
    """Give the value when the words are one number and nothing else."""
    found = find_numbers(words)
    whole = len(found) == 1 and (found[0].first, found[0].last) == (0, len(words) - 1)
    return found[0].value if whole else None
