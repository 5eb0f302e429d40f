"""Clock times of a plan."""

from __future__ import annotations

from reviewkit.model import Plan, PlanRow
from reviewkit.report.timetable import start_times, total_ms, work_ms

PLAN = Plan(
    "plan",
    (
        PlanRow("March", 30_000, rest_ms=10_000),
        PlanRow("Squat", 40_000),
        PlanRow("Row", 40_000, rest_ms=60_000),
    ),
)


def test_rows_start_after_work_and_rest() -> None:
    assert [at_ms for at_ms, _ in start_times(PLAN)] == [0, 40_000, 80_000]


def test_the_rest_after_the_last_row_is_not_counted() -> None:
    assert total_ms(PLAN) == 120_000
    assert work_ms(PLAN) == 110_000


def test_an_empty_plan_takes_no_time() -> None:
    assert total_ms(Plan("plan", ())) == 0
