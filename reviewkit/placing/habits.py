"""Learn how this coach keeps the plan's lengths and rests from a first look at the class.

A coach may end every interval a tenth early, or six seconds late, all through. The
lengths found on a first pass cluster there; the second pass expects it, so that the
plan does not talk the drift away. How closely a coach keeps to what is expected is
learned too: one who goes by a timer is hardly ever off, one who goes by feel always is.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from reviewkit.model import Plan
from reviewkit.placing.edges_found import Found
from reviewkit.placing.slots import Habits, Parts

# A habit is learned from this many intervals at least, when this share of them has it.
LEAST_INTERVALS = 6
LEAST_SHARE = 0.3
NEAR_MS = 1000.0
# How often a coach is exactly, nearly or far off what is expected starts from what is usual,
# which weighs as much as so many lengths, or rests; nothing becomes impossible.
USUAL_LENGTHS = 3.0
USUAL_RESTS = 3.0
LEAST_PART = 0.01
# The scale of what counts as exact: edges of captions are a little off.
EXACT_MS = 700.0
_ROUNDS = 15

Floats = NDArray[np.float64]


def learn_habits(
    found: Sequence[Found], plan: Plan, habits: Habits, *, is_exact: bool = True
) -> Habits:
    """Give the habits with this class's own lengths and rests, where it has any of its own.

    Args:
        found: What a first look placed.
        plan: The rows in their order.
        habits: What is usual.
        is_exact: Whether what was found is exact enough to tell a timer from a guess.
    """
    lengths = _lengths(found, plan)
    rests = _rests(found, plan)
    habits = _own_rests(*rests, _own_lengths(*lengths, habits))
    return _own_shares(*lengths, *rests, habits) if is_exact else habits


def _lengths(found: Sequence[Found], plan: Plan) -> tuple[Floats, Floats]:
    """Give the lengths planned and found of all rows that were placed."""
    placed = [(one.row, one.end.at_ms - one.start.at_ms) for one in found if one.row is not None]
    return _columns([(plan.rows[row].work_ms, length) for row, length in placed])


def _rests(found: Sequence[Found], plan: Plan) -> tuple[Floats, Floats]:
    """Give the rests planned and found between rows that follow each other."""
    return _columns(
        [
            (rest_ms, after.start.at_ms - one.end.at_ms)
            for one, after in pairwise(found)
            if one.row is not None
            and after.row == one.row + 1
            and (rest_ms := plan.rows[one.row].rest_ms) is not None
        ]
    )


def _columns(pairs: Sequence[tuple[int, int]]) -> tuple[Floats, Floats]:
    table = np.array(pairs, dtype=np.float64).reshape(-1, 2)
    return table[:, 0], table[:, 1]


def _own_lengths(planned: Floats, lengths: Floats, habits: Habits) -> Habits:
    if len(planned) < LEAST_INTERVALS:
        return habits
    kept = int(np.sum(np.abs(lengths - planned) <= NEAR_MS))
    shift, shifted = _mode(lengths - planned, lambda value: planned + value, lengths)
    factor, scaled = _mode(lengths / planned, lambda value: planned * value, lengths)
    if not _is_habit(max(shifted, scaled), kept, len(planned)):
        return habits
    if scaled >= shifted:
        return replace(habits, length_factor=factor)
    return replace(habits, length_shift_ms=round(shift))


def _own_rests(planned: Floats, rests: Floats, habits: Habits) -> Habits:
    if len(planned) < LEAST_INTERVALS:
        return habits
    kept = int(np.sum(np.abs(rests - planned) <= NEAR_MS))
    shift, shifted = _mode(rests - planned, lambda value: planned + value, rests)
    if not _is_habit(shifted, kept, len(planned)):
        return habits
    return replace(habits, rest_shift_ms=round(shift))


def _own_shares(
    planned: Floats, lengths: Floats, planned_rests: Floats, rests: Floats, habits: Habits
) -> Habits:
    """Give the habits with how often this coach is how far off what is expected."""
    expected = habits.length_factor * planned + habits.length_shift_ms
    return replace(
        habits,
        length_parts=own_parts(lengths - expected, habits.length_parts, USUAL_LENGTHS),
        rest_parts=own_parts(
            rests - planned_rests - habits.rest_shift_ms, habits.rest_parts, USUAL_RESTS
        ),
    )


def own_parts(off: Floats, usual: Parts, usual_count: float) -> Parts:
    """Learn the shares of a mixture from how far values are off, milliseconds.

    Expectation and maximisation over Laplace parts of known scales, the usual shares
    counting as a Dirichlet prior of ``usual_count`` values (Dempster, Laird & Rubin 1977).
    """
    prior = np.array([share for share, _ in usual])
    scales = np.array([EXACT_MS, *(scale for _, scale in usual[1:])])
    chances = np.exp(-np.abs(off)[:, None] / scales) / (2 * scales)
    shares = prior
    for _ in range(_ROUNDS):
        held = shares * chances
        held /= held.sum(axis=1, keepdims=True)
        shares = (held.sum(axis=0) + usual_count * prior) / (len(off) + usual_count)
    shares = np.maximum(shares, LEAST_PART)
    shares /= shares.sum()
    return tuple(zip(shares.tolist(), (scale for _, scale in usual), strict=True))


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
