"""Whatever form a plan is written in, it is read back as it was."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reviewkit.errors import ReviewkitError
from reviewkit.model import Plan
from reviewkit.read.plan import parse_plan
from reviewkit.read.plan_text import read_plan_text
from reviewkit.report.plan_files import plan_csv, plan_text
from reviewkit.report.plan_sheet import plan_xlsx
from tests.laws.plans import plans

_PIECES = (
    "- * 1. Main: Squat Row 45s 1 min 40/20 3 rounds x3 each side left right rest 30s "
    "( ) say: , ; : between after block no then 20 /"
)


@settings(deadline=None)
@given(plans())
def test_text_gives_the_same_plan_back(plan: Plan) -> None:
    assert read_plan_text("plan", plan_text(plan)) == plan


@settings(deadline=None)
@given(plans())
def test_a_table_gives_the_same_rows_back(plan: Plan) -> None:
    assert parse_plan("plan.csv", plan_csv(plan).encode()).rows == plan.rows


@settings(max_examples=25, deadline=None)
@given(plans())
def test_a_spreadsheet_gives_the_same_rows_back(plan: Plan) -> None:
    assert parse_plan("plan.xlsx", plan_xlsx(plan)).rows == plan.rows


@settings(deadline=None)
@given(plans())
def test_a_table_turned_into_text_and_back_is_the_same_table(plan: Plan) -> None:
    table = plan_csv(plan)
    through_text = read_plan_text("plan", plan_text(parse_plan("plan.csv", table.encode())))
    assert plan_csv(through_text) == table


@pytest.mark.parametrize("source", ["plan.csv", "plan.txt"])
@settings(deadline=None)
@given(data=st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_bad_input_is_refused_and_never_breaks(source: str, data: bytes) -> None:
    try:
        plan = parse_plan(source, data)
    except ReviewkitError:
        return
    assert plan.rows


@settings(deadline=None)
@given(
    lines=st.lists(
        st.lists(
            st.sampled_from(_PIECES.split()),
            max_size=7,
        ).map(" ".join),
        max_size=6,
    )
)
def test_any_lines_of_plain_text_are_read_or_refused(lines: list[str]) -> None:
    text = "\n".join(lines)
    try:
        plan = read_plan_text("plan", text)
    except ReviewkitError:
        return
    assert read_plan_text("plan", plan_text(plan)) == plan
