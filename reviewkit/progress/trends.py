"""Whether a figure goes up or down from class to class by more than chance would make it.

The test is Mann's (H. B. Mann, 1945, Econometrica 13, 245-259) with Kendall's statistic
(M. G. Kendall, 1938, Biometrika 30, 81-93): how many pairs of classes rise, less how many
fall. Its chance distribution is exact, ties and all, up to ``MAX_EXACT`` classes: over the
orders of values of which some are equal it is that of the inversions of a multiset, whose
generating function is the q-multinomial coefficient (P. A. MacMahon, 1916, Combinatory
Analysis). The slope is the median of all pairs' slopes (H. Theil, 1950; P. K. Sen, 1968,
JASA 63, 1379-1389). Several figures looked at together are corrected by S. Holm (1979,
Scandinavian Journal of Statistics 6, 65-70).
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from statistics import median

MIN_CLASSES = 5
MAX_EXACT = 60
LEVEL = 0.05

Point = tuple[int, float]


@dataclass(frozen=True, slots=True)
class Trend:
    """How a figure went over the classes.

    Attributes:
        key: The figure's.
        classes: How many classes have the figure.
        chance: How often chance alone would make at least as much of a trend, 0 to 1,
            corrected for the number of figures looked at; None under ``MIN_CLASSES``.
        slope: Change from one class to the next, in the figure's unit; None likewise. It may be
            0 where the figure goes one way: most pairs of a few whole numbers are equal.
        direction: 1 where more pairs of classes rise than fall, -1 the other way, else 0.
        is_claimed: Whether the trend is beyond chance.
    """

    key: str
    classes: int
    chance: float | None
    slope: float | None
    direction: int
    is_claimed: bool


def find_trends(series: Mapping[str, Sequence[float | None]]) -> dict[str, Trend]:
    """Test every figure for a trend.

    Args:
        series: The figure of each class, in their order, by the figure's key; None where a
            class does not have it.
    """
    known = {
        key: [(at, value) for at, value in enumerate(values) if value is not None]
        for key, values in series.items()
    }
    tested = [key for key, points in known.items() if len(points) >= MIN_CLASSES]
    chances = [chance_of([value for _, value in known[key]]) for key in tested]
    corrected = dict(zip(tested, correct_for_many(chances), strict=True))
    return {key: _trend(key, points, corrected.get(key)) for key, points in known.items()}


def _trend(key: str, points: Sequence[Point], chance: float | None) -> Trend:
    if chance is None:
        return Trend(key, len(points), None, None, 0, False)
    rises = rises_of([value for _, value in points])
    direction = (rises > 0) - (rises < 0)
    return Trend(key, len(points), chance, slope_of(points), direction, chance <= LEVEL)


def slope_of(points: Sequence[Point]) -> float:
    """Give the median change a class over all pairs of classes; at least two are needed."""
    return median(
        (b - a) / (later - earlier) for (earlier, a), (later, b) in combinations(points, 2)
    )


def rises_of(values: Sequence[float]) -> int:
    """Count the pairs of values that rise, less those that fall: Kendall's statistic."""
    return sum((b > a) - (b < a) for a, b in combinations(values, 2))


def chance_of(values: Sequence[float]) -> float:
    """Tell how often values in no order at all rise or fall at least as much as these, 0 to 1."""
    rises = rises_of(values)
    ties = sorted(Counter(values).values())
    if len(values) > MAX_EXACT:
        return _approximate(rises, len(values), ties)
    ways = orders_by_inversions(ties)
    untied = len(ways) - 1
    as_much = sum(n for at, n in enumerate(ways) if abs(untied - 2 * at) >= abs(rises))
    return as_much / sum(ways)


def orders_by_inversions(ties: Sequence[int]) -> list[int]:
    """Count the orders of values by their pairs that fall, from none to all.

    Args:
        ties: How often each value occurs.
    """
    ways, placed = [1], 0
    for size in ties:
        for step in range(1, size + 1):
            ways = _divided(_times(ways, placed + step), step)
        placed += size
    return ways


def _times(ways: Sequence[int], power: int) -> list[int]:
    """Multiply a polynomial by 1 - q^power."""
    longer = [*ways, *([0] * power)]
    return [n - (longer[at - power] if at >= power else 0) for at, n in enumerate(longer)]


def _divided(ways: list[int], power: int) -> list[int]:
    """Divide a polynomial by 1 - q^power, which is a factor of it."""
    found = [*ways]
    for at in range(power, len(found)):
        found[at] += found[at - power]
    return found[: len(found) - power]


def _approximate(rises: int, n: int, ties: Sequence[int]) -> float:
    """Take the normal distribution, a step of one taken off as the statistic goes by steps."""
    spread = n * (n - 1) * (2 * n + 5) - sum(t * (t - 1) * (2 * t + 5) for t in ties)
    if not spread:
        return 1.0
    score = max(0, abs(rises) - 1) / math.sqrt(spread / 18)
    return math.erfc(score / math.sqrt(2))


def correct_for_many(chances: Sequence[float]) -> list[float]:
    """Raise chances so that, by Holm's steps, the many that were looked at are allowed for."""
    order = sorted(range(len(chances)), key=lambda at: chances[at])
    corrected, reached = [0.0] * len(chances), 0.0
    for rank, at in enumerate(order):
        reached = max(reached, min(1.0, (len(chances) - rank) * chances[at]))
        corrected[at] = reached
    return corrected
