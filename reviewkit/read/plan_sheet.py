"""Read a plan from an .xlsx spreadsheet: cells become text, then the table reader takes over."""

from __future__ import annotations

import datetime
import io
import warnings
import zipfile
from collections.abc import Iterator
from typing import Any

from reviewkit.errors import InputError
from reviewkit.model import Plan
from reviewkit.read.plan_fields import MAX_ROWS
from reviewkit.read.plan_table import TableLine, is_header, read_table_lines
from reviewkit.times import format_length

# Guards against archives that unpack to far more than they seem, and against endless sheets.
_MAX_UNPACKED_BYTES = 50_000_000
_MAX_MEMBERS = 500
_MAX_SHEET_ROWS = 5 * MAX_ROWS
_MAX_SHEET_COLUMNS = 60
_MAX_SHEETS = 5
_MAX_BLANK_ROWS = 500
_DAY_MS = 24 * 3_600_000

_NO_SHEET = "is no .xlsx spreadsheet; save the plan as .xlsx, CSV or plain text"


def read_sheet(source: str, data: bytes) -> Plan:
    """Read a plan from the bytes of an .xlsx spreadsheet.

    The first sheet that names the plan's columns is read, else the first. Lengths may be
    text, numbers (seconds) or times; a time shown as ``0:45`` means 45 seconds, as in text.

    Raises:
        InputError: The bytes are no spreadsheet, or unpack to too much.
        InputErrors: Every problem found, with the rows of the sheet as lines.
    """
    # Loaded here, because few plans are spreadsheets and every review would wait for it.
    import openpyxl

    _check_archive(source, data)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
            sheets = [tuple(_filled(sheet)) for sheet in book.worksheets[:_MAX_SHEETS]]
    except Exception as error:  # the library lets through whatever a broken file sets off
        raise InputError(source, None, _NO_SHEET) from error
    if not sheets:
        raise InputError(source, None, "has no sheet with cells")
    chosen = next((lines for lines in sheets if any(is_header(x.cells) for x in lines[:20])), None)
    return read_table_lines(source, chosen if chosen is not None else sheets[0])


def _check_archive(source: str, data: bytes) -> None:
    """Refuse what is no workbook, unpacks to too much or defines entities of its own."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = archive.infolist()
            names = {member.filename for member in members}
            if "xl/workbook.xml" not in names:
                raise InputError(source, None, _NO_SHEET)
            unpacked = sum(member.file_size for member in members)
            if len(members) > _MAX_MEMBERS or unpacked > _MAX_UNPACKED_BYTES:
                raise InputError(source, None, "unpacks to far more than a plan holds")
            for member in members:
                if member.filename.endswith((".xml", ".rels")):
                    _check_markup(source, archive.read(member))
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, OSError, ValueError):
        raise InputError(source, None, _NO_SHEET) from None


def _check_markup(source: str, markup: bytes) -> None:
    # Spreadsheets are UTF-8 and declare no document type; only an attack has reason to.
    if b"<!DOCTYPE" in markup or b"<!ENTITY" in markup or b"\0" in markup:
        raise InputError(source, None, _NO_SHEET)


def _filled(sheet: Any) -> Iterator[TableLine]:
    """Give the rows that hold something; a long run of blank rows ends the sheet."""
    last = 0
    for line in _lines(sheet):
        if not line.is_blank:
            last = line.line
            yield line
        elif line.line - last > _MAX_BLANK_ROWS:
            return


def _lines(sheet: Any) -> Iterator[TableLine]:
    sheet.reset_dimensions()
    rows = sheet.iter_rows(max_row=_MAX_SHEET_ROWS, max_col=_MAX_SHEET_COLUMNS)
    for number, row in enumerate(rows, start=1):
        yield TableLine(number, tuple(cell_text(cell.value, _format(cell)) for cell in row))


def _format(cell: Any) -> str:
    return str(getattr(cell, "number_format", None) or "General")


def cell_text(value: object, number_format: str = "General") -> str:
    """Write what a cell holds as it would stand in a text table.

    Args:
        value: The cell's value as the library gives it.
        number_format: How the sheet shows it; it tells minutes from hours.
    """
    if value is None or isinstance(value, bool):
        return "" if value is None else str(value)
    if isinstance(value, datetime.datetime):
        return value.isoformat(sep=" ")
    if isinstance(value, datetime.time):
        since_midnight = datetime.datetime.combine(datetime.date.min, value)
        return _length_text(since_midnight - datetime.datetime.min, number_format)
    if isinstance(value, datetime.timedelta):
        return _length_text(value, number_format)
    if isinstance(value, float):
        return _number_text(value)
    return str(value)


def _length_text(length: datetime.timedelta, number_format: str) -> str:
    length_ms = round(length.total_seconds() * 1000)
    if "s" not in number_format.casefold() and "h" in number_format.casefold():
        # Typed as 0:45 for 45 seconds; the sheet took it for hours and minutes.
        length_ms = round(length_ms / 60)
    return format_length(length_ms) if length_ms >= 0 else str(length)


def _number_text(value: float) -> str:
    if 0 < value < 1:
        # Sheets store a time as a share of a day; no interval is shorter than a second.
        return format_length(round(value * _DAY_MS / 1000) * 1000)
    return str(int(value)) if value.is_integer() else repr(value)
