"""Log densities of durations, tabulated so that large matrices are one look-up.

A density is given relative to a flat one of one event a minute, so that 0 says "as
likely as anywhere".
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

STEP_MS = 50
_FLOOR = 1e-9
_MINUTE_MS = 60_000


@dataclass(frozen=True, eq=False)
class Density:
    """Log density of a duration in milliseconds, on steps of ``STEP_MS`` from ``low_ms``.

    Durations outside the table are impossible, unless ``is_flat``. Those below and above
    ``usual_ms`` are short and long ones, of which talk may tell.
    """

    low_ms: int
    table: Floats
    is_flat: bool = False
    usual_ms: tuple[float, float] | None = None

    @property
    def high_ms(self) -> float:
        """The longest duration that is possible."""
        return math.inf if self.is_flat else self.low_ms + STEP_MS * (len(self.table) - 1)

    def at(self, durations_ms: Floats) -> Floats:
        """Look up durations of any shape; impossible ones give ``-inf``."""
        return self._look_up(self._logs, durations_ms)

    def chance_at(self, durations_ms: Floats) -> Floats:
        """Look up the likelihoods of durations of any shape; impossible ones give 0."""
        return self._look_up(self._chances, durations_ms)

    @cached_property
    def _logs(self) -> Floats:
        """The table, with an entry for what is impossible at either end."""
        return np.concatenate([[-np.inf], self.table, [-np.inf]])

    @cached_property
    def _chances(self) -> Floats:
        chances: Floats = np.exp(self._logs)
        return chances

    def _look_up(self, values: Floats, durations_ms: Floats) -> Floats:
        if self.is_flat:
            near: Floats = np.where(durations_ms >= self.low_ms, values[1], values[0])
            return near
        steps = np.rint((durations_ms - self.low_ms) / STEP_MS)
        # What lies before the first entry or after the last takes the impossible one there.
        found: Floats = values.take((steps + 1).astype(np.int64), mode="clip")
        return found


def flat(value: float = 0.0) -> Density:
    """Give a density that says the same of every duration of 0 or more."""
    return Density(0, np.array([value]), is_flat=True)


def spike_and_tail(
    centres_ms: Sequence[tuple[float, float]],
    parts: Sequence[tuple[float, float]],
    *,
    spike_ms: float,
    low_ms: int,
    high_ms: int,
    usual_ms: tuple[float, float] | None = None,
) -> Density:
    """Mix a narrow normal spike with heavy Laplace tails around each centre.

    Coaches run timers, so most durations lie within about a second of a centre and
    the rest anywhere.

    Args:
        centres_ms: Pairs of a centre and its share; shares add up to 1.
        parts: First the pair (share of the spike, unused); then pairs of a tail's share
            and its scale in milliseconds.
        spike_ms: Standard deviation of the spike.
        low_ms: Shortest possible duration.
        high_ms: Longest possible duration.
        usual_ms: The shortest and longest that nobody would remark on, if known.
    """
    x = np.arange(low_ms, max(high_ms, low_ms) + STEP_MS, STEP_MS, dtype=np.float64)
    total = np.zeros_like(x)
    for centre, share in centres_ms:
        off = np.abs(x - centre)
        total += share * parts[0][0] * np.exp(-0.5 * (off / spike_ms) ** 2) / (spike_ms * 2.5066)
        for tail_share, scale in parts[1:]:
            total += share * tail_share * np.exp(-off / scale) / (2 * scale)
    return Density(low_ms, np.log(total * _MINUTE_MS + _FLOOR), usual_ms=usual_ms)
