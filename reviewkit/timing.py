"""The range of a length, from all the lengths it may have had, and what follows from it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from reviewkit.model import Clock, Interval, Timing

Floats = NDArray[np.float64]

# The range of a length, which a verdict goes by, leaves out this much of the weight on either
# side. In 223 classes kept back it calls 96 in 100 drifts of five seconds, and 12 in 1,000
# on-time intervals wrongly. Of the drifts that are not called a third lies within the tolerance
# of a long interval. Where one stamp covers many words the weights themselves are less to be
# trusted, and a twentieth calls 17 drifts in 100, and 14 in 1,000 on-time intervals wrongly.
LEFT_OUT: dict[Clock, float] = {"words": 0.48, "captions": 0.48, "blocks": 0.05}
# Lengths closer than this are one: words have no finer times.
_STEP_MS = 100.0
_LEAST_WEIGHT = 1e-5
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Spread:
    """Values in milliseconds that something may have, with weights that add up to 1."""

    at_ms: Floats
    weights: Floats

    def quantile(self, share: float) -> float:
        """Give the value up to which a share of the weight lies."""
        at = int(np.searchsorted(np.cumsum(self.weights), share - _ROUNDING))
        return float(self.at_ms[min(at, len(self.at_ms) - 1)])


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


def length_range(lengths: Spread, best_ms: int, reach_ms: float, clock: Clock) -> tuple[int, int]:
    """Give the range of a length: all but ``LEFT_OUT`` of its weight on either side.

    Args:
        lengths: The lengths that it may have had.
        best_ms: The length found; the range holds it.
        reach_ms: How far the range reaches at least to either side of it.
        clock: How exact the transcript's times are.
    """
    left_out = LEFT_OUT[clock]
    low, high = lengths.quantile(left_out), lengths.quantile(1 - left_out)
    return max(0, round(min(low, best_ms - reach_ms))), round(max(high, best_ms + reach_ms))


def judge_timing(planned_ms: int, low_ms: int, high_ms: int, tolerance_ms: int | None) -> Timing:
    """Say whether a length is on time; ``unclear`` when its range allows more than one answer.

    Args:
        planned_ms: The length planned.
        low_ms: The least length it may have had.
        high_ms: The most.
        tolerance_ms: How far a length may be off; the larger of 3 s and 8 % of the plan
            when None.
    """
    tolerance = tolerance_of(planned_ms, tolerance_ms)
    if low_ms > planned_ms + tolerance:
        return "long"
    if high_ms < planned_ms - tolerance:
        return "short"
    is_inside = low_ms >= planned_ms - tolerance and high_ms <= planned_ms + tolerance
    return "on time" if is_inside else "unclear"


def with_timing(interval: Interval, tolerance_ms: int | None) -> Interval:
    """Give an interval that was planned and done the verdict on its length."""
    planned_ms, low_ms, high_ms = (
        interval.planned_ms, interval.length_low_ms, interval.length_high_ms,
    )  # fmt: skip
    if planned_ms is None or low_ms is None or high_ms is None:
        return interval
    return replace(interval, timing=judge_timing(planned_ms, low_ms, high_ms, tolerance_ms))


def tolerance_of(planned_ms: int, tolerance_ms: int | None) -> int:
    """Give how far a length may be off its plan; arguments as for ``judge_timing``."""
    return max(3000, round(0.08 * planned_ms)) if tolerance_ms is None else tolerance_ms
