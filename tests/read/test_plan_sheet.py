"""Plans as spreadsheets: what cells may hold, and archives that are traps."""

from __future__ import annotations

import datetime
import io
import zipfile

import openpyxl
import pytest

from reviewkit.errors import InputError, InputErrors
from reviewkit.model import Plan
from reviewkit.read.plan import parse_plan


def sheet(*rows: tuple[object, ...], formats: dict[str, str] | None = None) -> bytes:
    book = openpyxl.Workbook()
    page = book.worksheets[0]
    for number, row in enumerate(rows, start=1):
        for column, value in enumerate(row, start=1):
            page.cell(number, column).value = value  # type: ignore[assignment]
    for place, number_format in (formats or {}).items():
        page[place].number_format = number_format
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def read(*rows: tuple[object, ...], formats: dict[str, str] | None = None) -> Plan:
    return parse_plan("plan.xlsx", sheet(*rows, formats=formats))


def rewritten(data: bytes, changes: dict[str, bytes | None]) -> bytes:
    """Copy an archive with some members changed, added, or (None) left out."""
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(data)) as old,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            if name not in changes:
                new.writestr(name, old.read(name))
        for name, content in changes.items():
            if content is not None:
                new.writestr(name, content)
    return out.getvalue()


@pytest.mark.parametrize(
    ("value", "number_format", "work_ms"),
    [
        pytest.param("45s", None, 45_000, id="text"),
        pytest.param(45, None, 45_000, id="whole number"),
        pytest.param(7.5, None, 7_500, id="number"),
        pytest.param(datetime.time(0, 0, 45), "h:mm:ss", 45_000, id="hours, minutes, seconds"),
        pytest.param(datetime.time(0, 1, 30), "mm:ss", 90_000, id="minutes and seconds"),
        pytest.param(datetime.time(0, 45), "h:mm", 45_000, id="0:45 taken for hours and minutes"),
        pytest.param(datetime.time(1, 30), "h:mm", 90_000, id="1:30 taken for hours and minutes"),
        pytest.param(datetime.timedelta(seconds=45), "[h]:mm:ss", 45_000, id="duration"),
        pytest.param(datetime.timedelta(hours=26), "[h]:mm", 1_560_000, id="26:00 taken for hours"),
        pytest.param(45 / 86_400, None, 45_000, id="share of a day"),
    ],
)
def test_lengths_are_text_numbers_or_times(
    value: object, number_format: str | None, work_ms: int
) -> None:
    formats = {"B2": number_format} if number_format else None
    assert read(("move", "work"), ("Squat", value), formats=formats).rows[0].work_ms == work_ms


def test_blank_rows_titles_and_number_rounds_are_fine() -> None:
    plan = read(
        ("Tuesday class",),
        (None,),
        ("Round", "Move", "Work", "Must say"),
        (None, None, None, None),
        (2.0, "Squat", 45, "knees out\nchest up"),
        (3, "Squat", 45, None),
    )
    assert [(row.round, row.must_say) for row in plan.rows] == [
        (2, ("knees out", "chest up")),
        (3, ()),
    ]


def test_the_sheet_that_holds_the_plan_is_found() -> None:
    book = openpyxl.Workbook()
    book.worksheets[0].append(["Ideas"])
    second = book.create_sheet()
    second.append(["move", "work"])
    second.append(["Squat", 45])
    out = io.BytesIO()
    book.save(out)
    assert parse_plan("plan", out.getvalue()).rows[0].move == "Squat"


def test_problems_name_the_row_of_the_sheet() -> None:
    with pytest.raises(InputErrors) as caught:
        read(("move", "work"), (None, None), ("Squat", "long"), (None, datetime.date(2024, 1, 2)))
    assert str(caught.value).splitlines() == [
        'plan.xlsx, line 3: work "long" is no length of time; write 45s, 1m30s or 0:45',
        'plan.xlsx, line 4: work "2024-01-02 00:00:00" is no length of time; '
        "write 45s, 1m30s or 0:45",
        "plan.xlsx, line 4: move is empty; write the exercise",
    ]


def test_a_sheet_with_a_row_far_below_is_read_without_the_gap() -> None:
    data = sheet(("move", "work"), ("Squat", 45))
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        page = archive.read("xl/worksheets/sheet1.xml")
    far = page.replace(b"</sheetData>", b'<row r="1048576"></row></sheetData>')
    assert len(parse_plan("p", rewritten(data, {"xl/worksheets/sheet1.xml": far})).rows) == 1


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"xl/workbook.xml": None}, id="no workbook"),
        pytest.param({"xl/worksheets/sheet1.xml": b"<worksheet"}, id="broken sheet"),
        pytest.param(
            {
                "xl/sharedStrings.xml": b'<!DOCTYPE x [<!ENTITY a "aaaa">]>'
                b'<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"/>'
            },
            id="entities",
        ),
    ],
)
def test_what_is_no_proper_workbook_is_refused(changes: dict[str, bytes | None]) -> None:
    data = rewritten(sheet(("move", "work"), ("Squat", 45)), changes)
    with pytest.raises(InputError, match=r"is no \.xlsx spreadsheet"):
        parse_plan("plan.xlsx", data)


def test_an_archive_that_unpacks_to_far_too_much_is_refused() -> None:
    data = rewritten(sheet(("move", "work")), {"xl/media/big.bin": bytes(60_000_000)})
    assert len(data) < 1_000_000
    with pytest.raises(InputError, match="unpacks to far more"):
        parse_plan("plan.xlsx", data)


def test_a_cut_off_archive_is_refused() -> None:
    data = sheet(("move", "work"), ("Squat", 45))
    with pytest.raises(InputError, match="is no"):
        parse_plan("plan.xlsx", data[: len(data) // 2])
