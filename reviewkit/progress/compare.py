"""Two classes side by side."""

from __future__ import annotations

from dataclasses import dataclass

from reviewkit.progress.figures import FIGURES, ClassRecord, Figure, PointSeen
from reviewkit.progress.overview import point_key


@dataclass(frozen=True, slots=True)
class FigurePair:
    """A figure of two classes; ``change`` is the second less the first."""

    figure: Figure
    first: float | None
    second: float | None

    @property
    def change(self) -> float | None:
        """The second less the first; None where one is not known."""
        if self.first is None or self.second is None:
            return None
        return self.second - self.first


@dataclass(frozen=True, slots=True)
class PointPair:
    """A point and its verdict in two classes; None where a class did not ask for it."""

    move: str
    point: str
    kind: str
    asked_by: str
    first: str | None
    second: str | None


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two classes side by side.

    Attributes:
        first: The earlier one, as chosen.
        second: The other one.
        figures: Every figure of both.
        changed: Points that both asked for and that went otherwise.
        missing: Points that both asked for and that were missing in both.
        only_one: Points that only one asked for and that were missing or late there.
    """

    first: ClassRecord
    second: ClassRecord
    figures: tuple[FigurePair, ...]
    changed: tuple[PointPair, ...]
    missing: tuple[PointPair, ...]
    only_one: tuple[PointPair, ...]


def compare(first: ClassRecord, second: ClassRecord) -> Comparison:
    """Set two classes side by side."""
    figures = tuple(
        FigurePair(one, first.figures[one.key], second.figures[one.key]) for one in FIGURES
    )
    pairs = _pairs(first, second)
    both = [one for one in pairs if one.first and one.second]
    return Comparison(
        first,
        second,
        figures,
        tuple(one for one in both if one.first != one.second),
        tuple(one for one in both if one.first == one.second == "missing"),
        tuple(one for one in pairs if one not in both and "said" not in (one.first, one.second)),
    )


def _pairs(first: ClassRecord, second: ClassRecord) -> list[PointPair]:
    before = {point_key(one): one for one in first.points}
    after = {point_key(one): one for one in second.points}
    return [_pair(before.get(key), after.get(key)) for key in dict.fromkeys((*before, *after))]


def _pair(before: PointSeen | None, after: PointSeen | None) -> PointPair:
    one = after or before
    assert one is not None  # noqa: S101 - each key is of one of the two
    return PointPair(
        one.move, one.point, one.kind, one.asked_by,
        before.verdict if before else None,
        after.verdict if after else None,
    )  # fmt: skip
