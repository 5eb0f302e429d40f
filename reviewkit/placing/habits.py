"""Learn how this coach keeps the plan's lengths and rests from a first look at the class.

A coach may end every interval a tenth early, or six seconds late, all through. The
lengths found on a first pass cluster there; the second pass expects it, so that the
plan does not talk the drift away.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from reviewkit.model import Plan
from reviewkit.placing.edges_found import Found
from reviewkit.placing.slots import Habits

# A habit is learned from this many intervals at least, when this share of them has it.
LEAST_INTERVALS = 6
LEAST_SHARE = 0.4
NEAR_MS = 1000.0

Floats = NDArray[np.float64]


def learn_habits(found: Sequence[Found], plan: Plan, habits: Habits) -> Habits:
    """Give the habits with this class's own lengths and rests, where it has any of its own."""
    return _own_rests(found, plan, _own_lengths(found, plan, habits))


def _own_lengths(found: Sequence[Found], plan: Plan, habits: Habits) -> Habits:
    rows = [(plan.rows[one.row].work_ms, one) for one in found if one.row is not None]
    if len(rows) < LEAST_INTERVALS:
        return habits
    planned = np.array([float(work) for work, _ in rows])
    lengths = np.array([float(one.end.at_ms - one.start.at_ms) for _, one in rows])
    kept = int(np.sum(np.abs(lengths - planned) <= NEAR_MS))
    shift, shifted = _mode(lengths - planned, lambda value: planned + value, lengths)
    factor, scaled = _mode(lengths / planned, lambda value: planned * value, lengths)
    if not _is_habit(max(shifted, scaled), kept, len(rows)):
        return habits
    if scaled >= shifted:
        return replace(habits, length_factor=factor)
    return replace(habits, length_shift_ms=round(shift))


def _own_rests(found: Sequence[Found], plan: Plan, habits: Habits) -> Habits:
    pairs = [
        (rest_ms, after.start.at_ms - one.end.at_ms)
        for one, after in pairwise(found)
        if one.row is not None
        and after.row == one.row + 1
        and (rest_ms := plan.rows[one.row].rest_ms) is not None
    ]
    if len(pairs) < LEAST_INTERVALS:
        return habits
    planned, rests = (np.array(side, dtype=np.float64) for side in zip(*pairs, strict=True))
    kept = int(np.sum(np.abs(rests - planned) <= NEAR_MS))
    shift, shifted = _mode(rests - planned, lambda value: planned + value, rests)
    if not _is_habit(shifted, kept, len(pairs)):
        return habits
    return replace(habits, rest_shift_ms=round(shift))


def _is_habit(having: int, kept: int, total: int) -> bool:
    """Tell whether a habit explains many, and clearly more than the plan itself does."""
    return having >= max(LEAST_SHARE * total, 1.5 * kept)


def _mode(values: Floats, expect: Callable[[float], Floats], lengths: Floats) -> tuple[float, int]:
    """Give the value that explains the most lengths, averaged over those it explains."""
    best, count = 0.0, 0
    for value in values:
        near = np.abs(lengths - expect(float(value))) <= NEAR_MS
        if int(near.sum()) > count:
            best, count = float(np.median(values[near])), int(near.sum())
    return best, count
