"""Pick the reader for a plan by what the file holds, not by its name."""

from __future__ import annotations

from reviewkit.errors import InputError
from reviewkit.model import Plan
from reviewkit.read.decode import decode
from reviewkit.read.plan_sheet import read_sheet
from reviewkit.read.plan_table import find_delimiter, read_table_text
from reviewkit.read.plan_text import read_plan_text

MAX_BYTES = 5_000_000

_ZIP_SIGNATURE = b"PK\x03\x04"
_OTHER_FORMATS = {
    b"\xd0\xcf\x11\xe0": "is an old binary office file; save it as .xlsx, CSV or plain text",
    b"%PDF": "is a PDF; save the plan as .xlsx, CSV or plain text",
    b"{\\rtf": "is a rich-text file; save it as plain text",
    b"\x89PNG": "is a picture; write the plan as .xlsx, CSV or plain text",
    b"\xff\xd8\xff": "is a picture; write the plan as .xlsx, CSV or plain text",
    b"WEBVTT": "holds captions; a plan lists the moves and their lengths",
}
# A single column needs no delimiter, so only the name can tell such a table from text.
_TABLE_SUFFIXES = (".csv", ".tsv")


def parse_plan(source: str, data: bytes) -> Plan:
    """Read a plan from the bytes of a CSV table, an .xlsx spreadsheet or plain text.

    Args:
        source: Name of the file, for messages and the plan.
        data: The whole file.

    Raises:
        InputError: The file as a whole is no plan.
        InputErrors: Every problem found in its lines.
    """
    if len(data) > MAX_BYTES:
        raise InputError(source, None, f"is larger than {MAX_BYTES // 1_000_000} MB; no plan is")
    if not data.strip():
        raise InputError(source, None, "is empty; write one line for each move")
    if data.startswith(_ZIP_SIGNATURE):
        return read_sheet(source, data)
    text = _decode(source, data)
    if find_delimiter(text) is not None or source.casefold().endswith(_TABLE_SUFFIXES):
        return read_table_text(source, text)
    return read_plan_text(source, text)


def _decode(source: str, data: bytes) -> str:
    for signature, problem in _OTHER_FORMATS.items():
        if data.startswith(signature):
            raise InputError(source, None, problem)
    try:
        text, _ = decode(data, source)
    except InputError:
        raise InputError(
            source, None, "is no text; save the plan as .xlsx, CSV or plain text"
        ) from None
    return text
