"""Measure the rests of a class between neighbours of the plan, for what was promised of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.model import UNNAMED, HeardClass, Interval

# What has no rest may take so much all the same, to change sides or the grip.
CHANGE_MS = 12_500
# Of a rest whose edges are unsure so much is told by its best guess.
_LIKELY_SHARE = 0.8


@dataclass(frozen=True, slots=True)
class Rest:
    """A rest between two planned neighbours: planned, best guess, its range and start, in ms."""

    planned_ms: int | None
    length_ms: int
    low_ms: int
    high_ms: int
    start_ms: int
    moves: tuple[str, str]
    is_between_rounds: bool
    is_between_sides: bool

    @property
    def likely_least_ms(self) -> float:
        """How long it was at the least, or nearly all of its best guess where it is unsure."""
        return max(self.low_ms, _LIKELY_SHARE * self.length_ms)


def _rest(before: Interval, after: Interval, planned: Mapping[int, int | None]) -> Rest | None:
    """Measure a rest; ``None`` when something was skipped, added or moved beside it.

    ``planned`` holds the rest after each row that was done.
    """
    if before.plan_row is None or after.plan_row is None:
        return None
    around = {before.plan_row + 1, after.plan_row - 1}
    if not around <= planned.keys() or planned[after.plan_row - 1] != before.planned_rest_ms:
        return None
    end, start = before.end, after.start
    if end is None or start is None:
        return None
    is_between = (before.block, before.round) != (after.block, after.round)
    if not is_between and _may_hold_work(before, start.at_ms - end.at_ms):
        return None
    return Rest(
        before.planned_rest_ms,
        max(0, start.at_ms - end.at_ms),
        max(0, start.low_ms - end.high_ms),
        max(0, start.high_ms - end.low_ms),
        end.at_ms,
        (before.move, after.move),
        is_between,
        before.move == after.move and before.side != after.side,
    )


def _may_hold_work(before: Interval, length_ms: int) -> bool:
    """Tell whether a rest is so long that work nobody planned may be unheard in it."""
    rest_ms = before.planned_rest_ms or 0
    return rest_ms > 0 and rest_ms + (before.planned_ms or 0) <= length_ms


def _is_only_rest(added: Interval, work: Sequence[Interval]) -> bool:
    """Tell whether work that nobody planned or named is no more than a long rest.

    It fills what lies between its neighbours, and that is too short for work and a rest.
    """
    if added.plan_row is not None or added.move != UNNAMED:
        return False
    at = work.index(added)
    if not 0 < at < len(work) - 1:
        return False
    before, after = work[at - 1], work[at + 1]
    gap_ms = start_ms(after) - end_ms(before)
    return not _may_hold_work(before, gap_ms) and gap_ms == end_ms(added) - start_ms(added)


def rests_of(heard: HeardClass, blocks: Sequence[str]) -> list[Rest]:
    """Measure the rests inside the work of some blocks."""
    work = [one for one in done_intervals(heard) if one.kind == "work" and one.block in blocks]
    work = [one for one in work if not _is_only_rest(one, work)]
    planned = {one.plan_row: one.planned_rest_ms for one in work if one.plan_row is not None}
    measured = (_rest(before, after, planned) for before, after in pairwise(work))
    return [one for one in measured if one is not None]
