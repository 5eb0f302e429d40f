"""A review is set beside a class of two squats, one of them swapped, and one burpee more."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from reviewkit.evaluate import (
    Anomaly,
    LabelledClass,
    Match,
    Outcome,
    SaidLine,
    TrueInterval,
    judge,
    misses,
)
from reviewkit.model import Plan, PlanRow

PLAN = Plan(
    "plan.csv",
    (
        PlanRow("Squat", 40_000, round=1, must_say=("weight in the heels", "chest up")),
        PlanRow("Squat", 40_000, round=2, must_say=("weight in the heels", "chest up")),
        PlanRow("Side plank", 40_000, round=2, side="left"),
    ),
)


def line(start_s: float, text: str, *labels: str, **more: Any) -> SaidLine:
    points, left = more.get("points", ()), more.get("left")
    start_ms = round(1000 * start_s)
    return SaidLine(start_ms, start_ms + 1000, text, labels, points, left)


def interval(row: int | None, start_s: int, end_s: int, move: str, **more: Any) -> TrueInterval:
    planned_move, status = more.get("planned_move"), more.get("status", "done")
    return TrueInterval(
        row, move, "Main", 1, "", 40_000, 1000 * start_s, 1000 * end_s, status, planned_move
    )


TRUTH = LabelledClass(
    name="two-squats",
    plan=PLAN,
    words=(),
    said=(
        line(10, "weight in the heels", "form", points=("weight in the heels",)),
        line(40, "halfway", "time_call", left=0.5),
        line(85, "breathe out", "breathing"),
        line(120, "chest up", "form", points=("chest up",)),
        line(130, "ten to go", "time_call", left=10),
    ),
    intervals=(
        interval(1, 20, 60, "Squat"),
        interval(None, 80, 100, "Burpee", status="added"),
        interval(2, 110, 160, "Lunge", planned_move="Squat", status="swapped"),
    ),
    anomalies=(
        Anomaly("order", {"kind": "order", "moves": ["Squat", "Side plank"]}),
        Anomaly("risky_talk", {"move": "Squat"}),
        Anomaly("broken_promise", {"what": "minutes", "promised": 20, "actual": 21}),
        Anomaly("broken_promise", {"what": "rest_between_rounds", "promised": 30, "actual": 20}),
    ),
    length_ms=200_000,
)


def found(row: int | None, start_s: float | None, end_s: float | None, **more: Any) -> Any:
    return {"plan_row": row, "move": "Squat", "status": "done", "start_s": start_s, "end_s": end_s,
            "timing": "on time"} | more  # fmt: skip


def review(**parts: Any) -> dict[str, Any]:
    empty: dict[str, Any] = dict.fromkeys(
        ("intervals", "moves", "time_calls", "promises", "flags"), ()
    )
    return empty | parts


def judged(**parts: Any) -> Outcome:
    return judge(TRUTH, review(**parts))


def found_of(matches: tuple[Match, ...]) -> list[tuple[bool, bool]]:
    return [(match.is_true, match.is_found) for match in matches]


def move(verdicts: dict[str, str], breathing: str = "said") -> dict[str, Any]:
    points = [
        {"point": point, "asked_by": "plan", "verdict": verdict}
        for point, verdict in verdicts.items()
    ]
    return {"move": "squat", "points": points, "breathing": {"verdict": breathing}}


def test_an_empty_review_has_found_nothing() -> None:
    outcome = judged()
    assert [row.found_status for row in outcome.rows] == ["absent"] * 3
    assert found_of(outcome.calls) == [(True, False), (True, False)]


def test_rows_have_the_status_of_the_truth() -> None:
    rows = judged(
        intervals=[
            found(1, 21.0, 60.0, start_range_s=[19.0, 22.0], end_range_s=[61.0, 62.0]),
            found(2, 110.0, 150.0, status="swapped"),
            found(3, None, None, status="skipped"),
        ]
    ).rows
    assert [row.status for row in rows] == ["done", "swapped", "skipped"]
    assert [row.status == row.found_status for row in rows] == [True] * 3
    assert [edge.error_s for edge in rows[0].edges] == [1.0, 0.0]
    assert [edge.is_held for edge in rows[0].edges] == [True, False]
    assert (rows[1].drift_s, rows[1].found_drift_s, rows[1].wanted_timing) == (10.0, 0.0, "long")
    assert rows[2].edges == ()


def test_an_added_interval_is_found_when_half_of_it_is_covered() -> None:
    near = found(None, 85.0, 98.0, status="added")
    far = found(None, 95.0, 120.0, status="added")
    assert found_of(judged(intervals=[near]).added) == [(True, True)]
    assert found_of(judged(intervals=[far]).added) == [(True, False), (False, True)]


def test_points_given_before_the_first_end_are_in_time() -> None:
    points = judged(moves=[move({"weight in the heels": "said", "Chest up": "said"})]).points
    assert [(point.verdict, point.is_right) for point in points] == [("said", True), ("late", True)]
    missing = judged(moves=[move({"chest up": "missing"})]).points
    assert [(point.found, point.is_right) for point in missing] == [
        (None, False),
        ("missing", False),
    ]


def test_breath_counts_for_the_move_in_whose_interval_it_came() -> None:
    outcome = judged(moves=[move({}, breathing="said")])
    assert found_of(outcome.silent_moves) == [(True, False), (False, False)]


@pytest.mark.parametrize(
    ("at_s", "claimed_left_s", "is_found"),
    [(41.0, 20.0, True), (46.0, 20.0, False), (41.0, 30.0, False), (41.0, None, False)],
)
def test_a_call_is_found_by_place_and_claim(
    at_s: float, claimed_left_s: float | None, is_found: bool
) -> None:
    call = {"at_s": at_s, "claimed_left_s": claimed_left_s, "verdict": "right"}
    assert judged(time_calls=[call]).calls[0].is_found == is_found


def test_a_call_five_seconds_out_is_wrong() -> None:
    calls = [
        {"at_s": 41.0, "claimed_left_s": 20.0, "verdict": "right"},
        {"at_s": 131.0, "claimed_left_s": 10.0, "verdict": "wrong"},
    ]
    assert found_of(judged(time_calls=calls).wrong_calls) == [(False, False), (True, True)]


def test_a_slight_breach_may_be_judged_either_way() -> None:
    broken = [{"what": "minutes", "verdict": "broken"}, {"what": "rest", "verdict": "broken"}]
    assert found_of(judged(promises=broken).promises) == [(True, True)]
    assert found_of(judged().promises) == [(True, False)]


def test_flags_pair_by_kind_and_move() -> None:
    flags = [
        {"kind": "risky_talk", "move": "Lunge", "text": "push through"},
        {"kind": "order", "move": "Lunge", "text": ""},
        {"kind": "something_new", "move": "", "text": ""},
    ]
    assert found_of(judged(flags=flags).flags) == [(True, True), (True, False), (False, True)]


def test_misses_name_what_is_wrong() -> None:
    lines = misses(judged(intervals=[found(1, 30.0, 60.0, timing="short")]))
    assert "row 1 Squat r1: edges off +10.0 s and +0.0 s" in lines
    assert "row 1 Squat r1: drift +0.0 s, called short" in lines
    assert "risky_talk Squat: not found" in lines


@pytest.mark.parametrize(
    ("truth", "found"),
    [("no turns", "no_turning"), ("burpees", "no_burpees"), ("no floor work", "floor")],
)
def test_what_a_class_was_to_do_without_goes_by_one_name(truth: str, found: str) -> None:
    labelled = replace(TRUTH, anomalies=(Anomaly("broken_promise", {"what": truth}),))
    promises = [{"what": found, "verdict": "broken"}]
    assert found_of(judge(labelled, review(promises=promises)).promises) == [(True, True)]
