"""All classes together: trends, and points that are missing class after class."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from reviewkit.progress.figures import FIGURES, ClassRecord, PointSeen
from reviewkit.progress.trends import Trend, find_trends

STILL_AFTER = 3


@dataclass(frozen=True, slots=True)
class PointHistory:
    """A point of a move over the classes that asked for it, the earliest first.

    Attributes:
        move: As the latest class writes it; ``point``, ``kind`` and ``asked_by`` likewise.
        classes: Numbers of the reviews that asked for it.
        verdicts: "said", "late" or "missing", one a class.
    """

    move: str
    point: str
    kind: str
    asked_by: str
    classes: tuple[int, ...]
    verdicts: tuple[str, ...]

    @property
    def missing_run(self) -> int:
        """In how many classes it has been missing, counted back from the latest."""
        run = 0
        while run < len(self.verdicts) and self.verdicts[-1 - run] == "missing":
            run += 1
        return run

    @property
    def is_still_missing(self) -> bool:
        """Whether it was missing in each of the last three classes that asked for it."""
        return self.missing_run >= STILL_AFTER


@dataclass(frozen=True, slots=True)
class Overview:
    """The classes, the earliest first, with what they show together.

    Attributes:
        classes: Each class once.
        trends: By the figure's key, in the order of ``FIGURES``.
        points: Every point that was ever asked for, by move.
        left_out: Reviews that are not among them and why, a sentence each.
    """

    classes: tuple[ClassRecord, ...]
    trends: dict[str, Trend]
    points: tuple[PointHistory, ...]
    left_out: tuple[str, ...] = ()

    @property
    def still_missing(self) -> tuple[PointHistory, ...]:
        """Points missing in the last three classes that asked for them, or in more.

        The plan's come first, then safety, then the longest missing.
        """
        found = [one for one in self.points if one.is_still_missing]
        return tuple(
            sorted(
                found,
                key=lambda one: (one.asked_by != "plan", one.kind != "safety", -one.missing_run),
            )
        )


def make_overview(classes: Sequence[ClassRecord], left_out: Sequence[str] = ()) -> Overview:
    """Put classes together, in the order in which they were reviewed."""
    ordered = tuple(sorted(classes, key=lambda one: (one.made_at, one.id)))
    series = {one.key: [record.figures[one.key] for record in ordered] for one in FIGURES}
    return Overview(ordered, find_trends(series), _histories(ordered), tuple(left_out))


def _histories(classes: Sequence[ClassRecord]) -> tuple[PointHistory, ...]:
    found: dict[tuple[str, str, str], PointHistory] = {}
    for record in classes:
        for point in record.points:
            before = found.get(point_key(point))
            found[point_key(point)] = _with(before, record.id, point)
    return tuple(sorted(found.values(), key=lambda one: (one.move.casefold(), one.point)))


def _with(before: PointHistory | None, class_id: int, point: PointSeen) -> PointHistory:
    now = PointHistory(
        point.move, point.point, point.kind, point.asked_by, (class_id,), (point.verdict,)
    )
    if before is None:
        return now
    if before.classes[-1] == class_id:  # asked twice in one class: said once is said
        return before
    return replace(
        now,
        classes=(*before.classes, class_id),
        verdicts=(*before.verdicts, point.verdict),
    )


def point_key(point: PointSeen) -> tuple[str, str, str]:
    """Tell which points are the same from class to class: by their words, not their letters."""
    return _plain(point.move), _plain(point.point), point.asked_by


def _plain(text: str) -> str:
    return " ".join(text.split()).casefold()
