"""Say whether an interval ran long or short, from all the lengths it may have had."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reviewkit.model import Clock, Timing

Floats = NDArray[np.float64]

# A verdict needs this much of the weight behind it. Half-sure verdicts are the errors that
# coaches remember; waiting for nineteen in twenty leaves four true drifts in ten uncalled.
# Where one stamp covers many words the weights themselves are less to be trusted.
CALLED: dict[Clock, float] = {"words": 0.85, "captions": 0.85, "blocks": 0.93}
# Lengths closer than this are one: words have no finer times.
_STEP_MS = 100.0
_LEAST_WEIGHT = 1e-5


@dataclass(frozen=True, slots=True, eq=False)
class Spread:
    """Values in milliseconds that something may have, with weights that add up to 1."""

    at_ms: Floats
    weights: Floats

    def below(self, limit_ms: float) -> float:
        """Give the weight of all values below a limit."""
        return float(self.weights[self.at_ms < limit_ms].sum())

    def above(self, limit_ms: float) -> float:
        """Give the weight of all values above a limit."""
        return float(self.weights[self.at_ms > limit_ms].sum())


def exactly(at_ms: float) -> Spread:
    """Give the spread of something beyond doubt."""
    return Spread(np.array([float(at_ms)]), np.ones(1))


def gather(at_ms: Iterable[float] | Floats, weights: Iterable[float] | Floats) -> Spread:
    """Make a spread of weighed values, those of a tenth of a second put together."""
    values = np.rint(np.asarray(at_ms, dtype=np.float64) / _STEP_MS)
    steps, place = np.unique(values, return_inverse=True)
    sums = np.bincount(place, np.asarray(weights, dtype=np.float64))
    kept = sums > _LEAST_WEIGHT * sums.sum()
    return Spread(_STEP_MS * steps[kept], sums[kept] / sums[kept].sum())


def add(one: Spread, other: Spread) -> Spread:
    """Give the spread of the sum of two independent quantities."""
    sums = one.at_ms[:, None] + other.at_ms[None, :]
    return gather(sums.ravel(), (one.weights[:, None] * other.weights[None, :]).ravel())


def judge_timing(
    planned_ms: int, lengths: Spread, tolerance_ms: int | None, clock: Clock = "words"
) -> Timing:
    """Say whether a length is on time; ``unclear`` when too little weight speaks for any answer.

    Args:
        planned_ms: The length planned.
        lengths: The lengths that it may have had.
        tolerance_ms: How far a length may be off; the larger of 3 s and 8 % of the plan
            when None.
        clock: How exact the transcript's times are.
    """
    called = CALLED[clock]
    tolerance = tolerance_of(planned_ms, tolerance_ms)
    long, short = lengths.above(planned_ms + tolerance), lengths.below(planned_ms - tolerance)
    if long >= called:
        return "long"
    if short >= called:
        return "short"
    return "on time" if 1 - long - short >= called else "unclear"


def tolerance_of(planned_ms: int, tolerance_ms: int | None) -> int:
    """Give how far a length may be off its plan; arguments as for ``judge_timing``."""
    return max(3000, round(0.08 * planned_ms)) if tolerance_ms is None else tolerance_ms
