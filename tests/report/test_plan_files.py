"""Plans as they are written: what a coach sees in each form."""

from __future__ import annotations

from reviewkit.model import Plan, PlanRow
from reviewkit.report.plan_files import plan_csv, plan_text


def circuit(rounds: int) -> tuple[PlanRow, ...]:
    return tuple(
        row
        for number in range(1, rounds + 1)
        for row in (
            PlanRow("Goblet squat", 40_000, round=number, rest_ms=20_000, must_say=("knees out",)),
            PlanRow("Row", 45_000, round=number, side="each", rest_ms=60_000),
        )
    )


def test_rounds_that_repeat_are_written_once() -> None:
    warm_up = PlanRow("March", 30_000, "Warm-up", "warm-up")
    plan = Plan("plan", (warm_up, *circuit(3)), title="Harbour Steps", minutes=20)
    assert plan_text(plan) == (
        "Harbour Steps, 20 minutes\n"
        "\n"
        "Warm-up: 30s each\n"
        "- March\n"
        "\n"
        "Main, 3 rounds: 40s work, 20s rest\n"
        "- Goblet squat (say: knees out)\n"
        "- Row, 45s, 1 min rest, each side\n"
    )


def test_a_longer_rest_between_rounds_is_named() -> None:
    *rows, last = circuit(2)
    plan = Plan("plan", (*rows, PlanRow("Row", 45_000, round=2, side="each", rest_ms=20_000)))
    assert plan_text(plan).splitlines()[0] == (
        "Main, 2 rounds: 40s work, 20s rest, 1 min rest between rounds"
    )
    assert last.rest_ms == 60_000


def test_names_that_could_be_settings_stand_in_quotes() -> None:
    rows = (
        PlanRow("Rest", 40_000),
        PlanRow('Row, 45s "hard"', 40_000),
        PlanRow("Arrive", 40_000, "Arrive", "work"),
    )
    assert plan_text(Plan("plan", rows)) == (
        'Main: 40s each\n- "Rest"\n- "Row, 45s ""hard"""\n\nArrive (work): 40s each\n- Arrive\n'
    )


def test_points_that_brackets_cannot_hold_stand_below_the_move() -> None:
    rows = (
        PlanRow("Squat", 40_000, must_say=("knees out (both)", "chest up")),
        PlanRow("Row", 40_000, must_say=("slow, please",)),
    )
    assert plan_text(Plan("plan", rows)).splitlines()[1:] == [
        "- Squat",
        "  say: knees out (both), chest up",
        "- Row (say: slow, please;)",
    ]


def test_the_table_has_the_columns_of_a_plan() -> None:
    plan = Plan("plan", (PlanRow("Row, slow", 90_500, side="left", must_say=("a", "b")),))
    assert plan_csv(plan) == (
        'block,kind,round,move,side,work,rest,must_say\nMain,work,1,"Row, slow",left,90.5s,,a; b\n'
    )
