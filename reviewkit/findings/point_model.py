"""Turn what speaks for a point into chances, with weights fitted for the talk's clock."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class Weighing:
    """A weighted sum: the weights by name, and what is added."""

    bias: float
    weights: Mapping[str, float]

    def odds(self, rows: NDArray[Any], names: Sequence[str]) -> NDArray[Any]:
        """Give the log-odds of each row, whose columns have these names."""
        odds: NDArray[Any] = rows @ np.array([self.weights[name] for name in names]) + self.bias
        return odds

    def chances(self, rows: NDArray[Any], names: Sequence[str]) -> NDArray[Any]:
        """Give the chance of each row, 0 to 1."""
        chances: NDArray[Any] = 1 / (1 + np.exp(-self.odds(rows, names)))
        return chances


@dataclass(frozen=True, slots=True)
class PointModel:
    """What tells that an utterance gives a point, that it was said at all, and too late.

    A point counts as said, and one that was said as late, from ``said_from`` and
    ``late_from`` on.
    """

    utterance: Weighing
    said: Weighing
    late: Weighing
    said_from: float
    late_from: float
