"""Flag moves whose two sides did not get the same time."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from math import hypot

from reviewkit.model import Flag, HeardClass, Interval
from reviewkit.times import format_seconds

KIND = "side_imbalance"
LEAST_MS = 4_700
LEAST_SHARE = 0.08
# A difference is clear when half of the limit lies this many spreads below it (five chances
# in six): more would leave most of them unsaid where one stamp covers many words, and three
# chances in four said twice as many that are none there (21 for 11 in 170 classes).
# Ranges hold nine chances in ten, and those of the two sides are rarely at their ends
# together, so spreads add up as squares.
_CLEAR = 1.0
_RANGE_SPREADS = 3.29
# How sure it must be that each interval was done, or was skipped. Where one side was skipped,
# which of the two was done may be in doubt, and that only one was is not.
_LEAST_CERTAINTY = 0.8
_LEAST_BESIDE_SKIPPED = 0.5
_SIDES = ("left", "right")


@dataclass(frozen=True, slots=True)
class _Total:
    """Time on one side: best guess and range, and the time planned."""

    length_ms: int
    low_ms: int
    high_ms: int
    planned_ms: int


def _total(intervals: list[Interval]) -> _Total:
    """Add up the intervals of one side; skipped ones give nothing."""
    done = [one for one in intervals if one.length_ms is not None]
    return _Total(
        sum(one.length_ms or 0 for one in done),
        sum(one.length_low_ms or one.length_ms or 0 for one in done),
        sum(one.length_high_ms or one.length_ms or 0 for one in done),
        sum(one.planned_ms or 0 for one in intervals),
    )


def _groups(heard: HeardClass) -> list[list[Interval]]:
    """Group sided intervals by move, by round where one round holds both sides."""
    by_move: dict[tuple[str, str], list[Interval]] = defaultdict(list)
    for interval in heard.intervals:
        if interval.side in _SIDES and interval.plan_row is not None:
            by_move[interval.block, interval.move].append(interval)
    groups = []
    for intervals in by_move.values():
        by_round: dict[int, list[Interval]] = defaultdict(list)
        for interval in intervals:
            by_round[interval.round].append(interval)
        has_pairs = any(len({one.side for one in group}) == 2 for group in by_round.values())
        groups += list(by_round.values()) if has_pairs else [intervals]
    return groups


def _sides(group: list[Interval]) -> tuple[_Total, _Total]:
    left, right = ([one for one in group if one.side == side] for side in _SIDES)
    return _total(left), _total(right)


def _is_known(group: list[Interval]) -> bool:
    """Tell whether it is sure enough what became of each interval of a group."""
    has_skipped = any(one.status == "skipped" for one in group)
    done_from = _LEAST_BESIDE_SKIPPED if has_skipped else _LEAST_CERTAINTY
    return all(
        one.certainty >= (_LEAST_CERTAINTY if one.status == "skipped" else done_from)
        and not one.done_instead
        for one in group
    )


def _excess_ms(group: list[Interval]) -> int:
    """Give how much longer one side got, 0 when that is little or unsure.

    Sides planned unevenly, and slots where another move was done, are left alone.
    """
    left, right = _sides(group)
    is_even = 0 < left.planned_ms == right.planned_ms
    if not is_even or not _is_known(group):
        return 0
    longer, shorter = (left, right) if left.length_ms >= right.length_ms else (right, left)
    limit_ms = max(LEAST_MS, LEAST_SHARE * left.planned_ms)
    excess_ms = longer.length_ms - shorter.length_ms
    spread_ms = hypot(*(one.high_ms - one.low_ms for one in (left, right))) / _RANGE_SPREADS
    is_clear = excess_ms >= limit_ms and excess_ms - limit_ms / 2 > _CLEAR * spread_ms
    return excess_ms if is_clear else 0


def _flag(group: list[Interval]) -> Flag:
    left, right = _sides(group)
    weaker = "right" if left.length_ms > right.length_ms else "left"
    short = next(one for one in group if one.side == weaker)
    last = max(group, key=lambda one: one.end.at_ms if one.end else 0)
    less_ms = abs(left.length_ms - right.length_ms)
    is_left_out = min(left.length_ms, right.length_ms) == 0
    text = f"left {format_seconds(left.length_ms)}, right {format_seconds(right.length_ms)}"
    why = (
        f"The {weaker} side was left out."
        if is_left_out
        else f"The {weaker} side got {format_seconds(less_ms)} less."
    )
    more = "Now the same" if is_left_out else f"{round(less_ms / 1000)} more seconds"
    at_ms = (short.start or last.end or last.start) if short.start is None else short.start
    return Flag(
        KIND, at_ms.at_ms if at_ms else 0, short.move, short.round, text, why, interval=short.id,
        instead=f"{more} on the {weaker}.",
    )  # fmt: skip


def find_side_imbalance(heard: HeardClass) -> tuple[Flag, ...]:
    """Flag each round of a move with clearly more time on one side, in order of time."""
    flags = [_flag(group) for group in _groups(heard) if _excess_ms(group)]
    return tuple(sorted(flags, key=lambda flag: flag.at_ms))
