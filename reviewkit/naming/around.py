"""Gather what is said around the start of each interval: moves named and given away, words."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from operator import attrgetter

from reviewkit.model import Interval, Mark, Talk
from reviewkit.naming.mentions import How, how_named

# Where a move is named or given away: from a while before the start until a little after.
WINDOW_MS = 25_000
NAMED_AFTER_MS = 10_000
# Giving the last move's rest away may begin with the last words of that move; where there
# is hardly a rest, what comes is told while that move is still being done.
BEFORE_FREE_MS = 1500
LEAST_WINDOW_MS = 12_000
# Single words tell of a change until they are this late.
WORDS_AFTER_MS = 4000
# A name this sure, or surer, may be what was meant.
LEAST_WEIGHT = 0.25


@dataclass(frozen=True, slots=True)
class Near:
    """What is said around the start of one interval.

    ``mentions`` pairs each move named with how it is named; ``calls`` give a move away;
    ``words`` are positions in the talk.
    """

    mentions: tuple[tuple[Mark, How], ...]
    calls: tuple[Mark, ...]
    words: range

    @property
    def names(self) -> tuple[Mark, ...]:
        """The moves named."""
        return tuple(mark for mark, _ in self.mentions)


NOTHING = Near((), (), range(0))


def look_around(
    intervals: Sequence[Interval], talk: Talk, names: Sequence[Mark], calls: Sequence[Mark]
) -> Mapping[str, Near]:
    """Give what is said around every interval that was done, by its id.

    Args:
        intervals: In any order.
        talk: The words of the class.
        names: All moves named.
        calls: All words that give a move away.
    """
    done = [(one.start.at_ms, one.end.at_ms, one) for one in intervals if one.start and one.end]
    near: dict[str, Near] = {}
    free_ms, done_before = 0, ""
    for start_ms, end_ms, one in sorted(done, key=lambda item: item[:2]):
        low_ms = min(free_ms - BEFORE_FREE_MS, start_ms - LEAST_WINDOW_MS)
        low_ms = max(low_ms, start_ms - WINDOW_MS)
        high_ms = min(end_ms, start_ms + NAMED_AFTER_MS)
        heard = [
            mark
            for mark in names
            if low_ms <= mark.start_ms < high_ms
            and not (mark.ref == done_before != one.move and mark.start_ms < free_ms)
        ]
        given = tuple(mark for mark in calls if low_ms <= mark.start_ms < high_ms)
        near[one.id] = Near(
            tuple((mark, how_named(mark, given, talk)) for mark in _longest(heard)),
            given,
            words_between(talk, low_ms, min(high_ms, start_ms + WORDS_AFTER_MS)),
        )
        free_ms, done_before = end_ms, one.move
    return near


def words_between(talk: Talk, low_ms: float, high_ms: float) -> range:
    """Give the positions of the words that start between two moments."""
    first, last = (
        bisect_left(talk.words, at_ms, key=attrgetter("start_ms")) for at_ms in (low_ms, high_ms)
    )
    return range(first, last)


def _longest(names: Sequence[Mark]) -> list[Mark]:
    """Leave out names inside longer, fairly sure ones ("row" in "bent-over row")."""
    return [
        one
        for one in names
        if not any(
            other.first <= one.first
            and one.last <= other.last
            and other.last - other.first > one.last - one.first
            and other.weight >= LEAST_WEIGHT
            for other in names
        )
    ]
