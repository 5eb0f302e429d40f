from __future__ import annotations

from dataclasses import replace

from reviewkit.progress.figures import ClassRecord, PointSeen
from reviewkit.progress.overview import make_overview
from tests.progress.build import a_record, a_year


def asking(number: int, verdict: str | None, **other: str) -> ClassRecord:
    """Give a class in which one point had that verdict; None where it was not asked for."""
    words = {"move": "Squat", "point": "knees out", "kind": "form", "asked_by": "plan", **other}
    points = (PointSeen(**words, verdict=verdict),) if verdict else ()
    return replace(a_record(number), points=points)


def missing_runs(*verdicts: str | None) -> list[int]:
    classes = [asking(at, verdict) for at, verdict in enumerate(verdicts, start=1)]
    return [one.missing_run for one in make_overview(classes).still_missing]


def test_a_point_said_again_is_not_still_missing() -> None:
    assert missing_runs("missing", "missing", "missing", "said") == []
    assert missing_runs("missing", "missing", "late") == []


def test_two_classes_are_too_few() -> None:
    assert missing_runs("said", "missing", "missing") == []


def test_a_point_is_still_missing_after_three_classes() -> None:
    assert missing_runs("said", "missing", "missing", "missing") == [3]


def test_classes_that_did_not_ask_neither_count_nor_break_the_run() -> None:
    assert missing_runs("missing", None, "missing", None, "missing", None) == [3]


def test_points_are_the_same_by_their_words() -> None:
    classes = [
        asking(1, "missing"),
        asking(2, "missing", move="squat"),
        asking(3, "missing", point="Knees  out"),
    ]
    (still,) = make_overview(classes).still_missing
    assert (still.missing_run, still.classes) == (3, (1, 2, 3))
    assert make_overview([*classes, asking(4, "said", move="Goblet squat")]).still_missing


def test_the_plans_points_come_before_suggestions_and_safety_before_form() -> None:
    classes = [
        replace(
            a_record(number),
            points=(
                PointSeen("A", "one", "safety", "lexicon", "missing"),
                PointSeen("B", "two", "form", "plan", "missing"),
                PointSeen("C", "three", "safety", "plan", "missing"),
            ),
        )
        for number in range(3)
    ]
    assert [one.point for one in make_overview(classes).still_missing] == ["three", "two", "one"]


def test_classes_stand_in_the_order_in_which_they_were_reviewed() -> None:
    year = a_year([10, 20, 30, 40, 50, 60, 70, 80])
    overview = make_overview(year[::-1])
    assert [one.id for one in overview.classes] == [*range(1, 9)]
    assert overview.trends["timing"].slope == 10
    assert overview.trends["timing"].is_claimed


def test_no_class_is_no_trouble() -> None:
    overview = make_overview([])
    assert (overview.classes, overview.points, overview.still_missing) == ((), (), ())
