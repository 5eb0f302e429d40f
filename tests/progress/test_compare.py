from __future__ import annotations

from dataclasses import replace

from reviewkit.progress.compare import compare
from reviewkit.progress.figures import ClassRecord, PointSeen
from tests.progress.build import a_document, a_record


def with_points(number: int, **verdicts: str) -> ClassRecord:
    points = [PointSeen("Squat", point, "form", "plan", one) for point, one in verdicts.items()]
    return replace(a_record(number), points=tuple(points))


def test_figures_stand_side_by_side() -> None:
    pairs = {
        one.figure.key: one
        for one in compare(
            a_record(1, a_document(timing=60, cues=None)), a_record(2, a_document(timing=70))
        ).figures
    }
    assert pairs["timing"].change == 10
    assert pairs["cues"].change is None
    assert pairs["density"].change == 0


def test_points_are_told_by_what_became_of_them() -> None:
    found = compare(
        with_points(1, won="missing", lost="said", kept="said", never="missing", old="late"),
        with_points(2, won="said", lost="late", kept="said", never="missing", new="missing"),
    )
    assert [(one.point, one.first, one.second) for one in found.changed] == [
        ("won", "missing", "said"),
        ("lost", "said", "late"),
    ]
    assert [one.point for one in found.missing] == ["never"]
    assert [(one.point, one.first, one.second) for one in found.only_one] == [
        ("old", "late", None),
        ("new", None, "missing"),
    ]


def test_a_class_beside_itself_has_changed_in_nothing() -> None:
    found = compare(a_record(), a_record())
    assert not found.changed
    assert not found.only_one
    assert all(not one.change for one in found.figures)
