"""Write a plan as the spreadsheet that the reader of sheets takes."""

from __future__ import annotations

import io

import openpyxl
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from reviewkit.model import Plan
from reviewkit.report.plan_files import COLUMNS, plan_cells

_WIDTHS = (14, 10, 7, 30, 7, 8, 8, 60)


def plan_xlsx(plan: Plan) -> bytes:
    """Write a plan as an .xlsx spreadsheet, the columns those of the table."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)  # noqa: S101 - a new workbook has one
    sheet.title = "Plan"
    sheet.append(COLUMNS)
    for at, row in enumerate(plan.rows, start=2):
        for column, text in enumerate(plan_cells(row), start=1):
            cell = sheet.cell(at, column)
            if column == COLUMNS.index("round") + 1:
                cell.value = row.round
            elif text:
                cell.value = text
                # A move that starts with "=" is a name and no formula.
                cell.data_type = "s"
    for column, width in enumerate(_WIDTHS, start=1):
        sheet.cell(1, column).font = Font(bold=True)
        sheet.column_dimensions[get_column_letter(column)].width = width
    sheet.freeze_panes = "A2"
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()
