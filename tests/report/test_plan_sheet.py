from __future__ import annotations

import io

import openpyxl

from reviewkit.model import Plan, PlanRow
from reviewkit.report.plan_sheet import plan_xlsx


def test_the_spreadsheet_holds_numbers_and_text_and_no_formulas() -> None:
    plan = Plan("plan", (PlanRow("=1+1", 45_000, rest_ms=0), PlanRow("#N/A", 45_000)))
    page = openpyxl.load_workbook(io.BytesIO(plan_xlsx(plan))).worksheets[0]
    assert [cell.value for cell in page[1]] == [
        "block", "kind", "round", "move", "side", "work", "rest", "must_say",
    ]  # fmt: skip
    assert [cell.value for cell in page[2]] == ["Main", "work", 1, "=1+1", None, "45s", "0s", None]
    assert {cell.data_type for cell in (page["D2"], page["D3"])} == {"s"}
