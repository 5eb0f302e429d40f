"""Flag moves that traded places with others, against the plan."""

from __future__ import annotations

from itertools import groupby

from reviewkit.findings.places import done_intervals, start_ms
from reviewkit.model import Flag, HeardClass, Interval
from reviewkit.times import format_clock

KIND = "order"


def _row(interval: Interval) -> int:
    return interval.plan_row or 0


def _tangles(intervals: list[Interval]) -> list[list[Interval]]:
    """Cut a sequence into the smallest runs that hold all their plan rows out of order."""
    runs: list[list[Interval]] = []
    run: list[Interval] = []
    for at, interval in enumerate(intervals):
        run.append(interval)
        highest = max(_row(one) for one in run)
        if all(highest < _row(later) for later in intervals[at + 1 :]):
            runs.append(run)
            run = []
    return [one for one in runs if len(one) > 1]


def _flag(run: list[Interval]) -> Flag:
    moved = min(run, key=_row)
    first = run[0] if run[0] is not moved else run[-1]
    return Flag(
        KIND,
        start_ms(first),
        moved.move,
        moved.round,
        f"{first.move} at {format_clock(start_ms(first))}, "
        f"{moved.move} at {format_clock(start_ms(moved))}",
        f"{first.move} came before {moved.move}; the plan has them the other way round.",
        interval=first.id,
        other_at_ms=start_ms(moved),
        other_text=moved.move,
    )


def find_traded_places(heard: HeardClass) -> tuple[Flag, ...]:
    """Flag each run of planned moves that happened in another order than planned.

    Left before right of the same move is no trade: sides are often done either way round.
    """
    planned = [one for one in done_intervals(heard) if one.plan_row is not None]
    return tuple(
        _flag(run)
        for _, block in groupby(planned, key=lambda one: one.block)
        for run in _tangles(list(block))
        if len({one.move for one in run}) > 1
    )
