"""Counts said aloud: runs of numbers that climb or fall by one.

A count may be laced with other words ("four, nice, three, soften it, two") and need not
end anything: counts up are mostly repetitions or beats. A mark of kind ``count`` has
``ref`` "down FIRST LAST" or "up FIRST LAST", ``value`` the last number, and covers all
words from the first number to the last, so its last word is where the count ends.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from reviewkit.language.numbers import Number, find_numbers
from reviewkit.language.wordsets import word_set
from reviewkit.model import Mark, Talk, Word

KIND = "count"
# Slower than this and the next number starts something new.
MOST_GAP_MS = 4500
MOST_WORDS_BETWEEN = 6
# Two numbers alone are a count only when nothing but these stands between them.
_GLUE = word_set("and in the uh um okay now a")
# "one" after these is a pronoun: "the last one", "good one".
_BEFORE_PRONOUN = word_set(
    "last next this that good other each every first second third big nice final which another "
    "easy hard same lovely the no any some great tough long little"
)
_UNITS = word_set("second seconds sec secs minute minutes min mins")


def _is_pronoun(words: tuple[Word, ...], number: Number) -> bool:
    before = words[number.first - 1].norm if number.first else ""
    return words[number.first].norm in ("one", "ones") and before in _BEFORE_PRONOUN


def _pairs_two(words: tuple[Word, ...], at: int, last: float, nxt: Number | None) -> bool:
    """Tell whether "to" or "too" is a mis-heard two between three and one."""
    return (
        words[at].norm in ("to", "too")
        and last == 3
        and nxt is not None
        and nxt.first == at + 1
        and nxt.value == 1
    )


def _with_misheard(words: tuple[Word, ...], numbers: list[Number]) -> list[Number]:
    """Add the twos that were written "to" inside "three to one"."""
    found: list[Number] = []
    for index, number in enumerate(numbers):
        found.append(number)
        at = number.last + 1
        nxt = numbers[index + 1] if index + 1 < len(numbers) else None
        if at < len(words) and _pairs_two(words, at, number.value, nxt):
            found.append(Number(at, at, 2.0))
    return found


def _spoken_numbers(words: tuple[Word, ...]) -> list[Number]:
    """List whole numbers, tens and units said apart kept apart."""
    numbers = []
    for number in find_numbers([word.norm for word in words]):
        if number.value != int(number.value) or _is_pronoun(words, number):
            continue
        numbers.append(number)
    return _with_misheard(words, numbers)


def _follows(words: tuple[Word, ...], before: Number, after: Number) -> bool:
    gap_ms = words[after.first].start_ms - words[before.last].end_ms
    between = after.first - before.last - 1
    return gap_ms <= MOST_GAP_MS and between <= MOST_WORDS_BETWEEN


def _runs(words: tuple[Word, ...], numbers: list[Number]) -> Iterator[list[Number]]:
    """Cut the numbers into runs of one direction; a number may start the next run."""
    run: list[Number] = []
    for number in numbers:
        if run and _follows(words, run[-1], number):
            step = number.value - run[-1].value
            way = run[1].value - run[0].value if len(run) > 1 else step
            if step in (1, -1) and step == way:
                run.append(number)
                continue
        yield run
        run = [number]
    yield run


def _is_count(words: tuple[Word, ...], run: list[Number]) -> bool:
    """Tell a count from two numbers that happen to be neighbours."""
    if len(run) < 2:
        return False
    if len(run) == 2:
        between = words[run[0].last + 1 : run[1].first]
        after = words[run[1].last + 1].norm if run[1].last + 1 < len(words) else ""
        return all(word.norm in _GLUE for word in between) and after not in _UNITS
    return True


def _mark(words: tuple[Word, ...], run: list[Number]) -> Mark:
    first, last = run[0].first, run[-1].last
    way = "down" if run[-1].value < run[0].value else "up"
    between = sum(b.first - a.last - 1 for a, b in pairwise(run))
    tight = len(run) / (len(run) + between)
    return Mark(
        kind=KIND,
        first=first,
        last=last,
        start_ms=words[first].start_ms,
        end_ms=words[last].end_ms,
        text=" ".join(word.text for word in words[first : last + 1]),
        ref=f"{way} {run[0].value:.0f} {run[-1].value:.0f}",
        value=run[-1].value,
        weight=min(1.0, 0.4 + 0.6 * tight) if len(run) > 2 else 0.6,
    )


def find_counts(talk: Talk) -> tuple[Mark, ...]:
    """Find every count, in order of its first word; none overlap.

    Args:
        talk: The words of the class; the times of words limit how far apart the numbers
            of one count may be.

    Returns:
        Marks of kind ``count``. A countdown that comes down to one has ``ref`` ending in
        " 1" and starting with "down"; ``weight`` falls with the words in between.
    """
    words = talk.words
    runs = _runs(words, _spoken_numbers(words))
    return tuple(_mark(words, run) for run in runs if _is_count(words, run))
