"""Pick the reader for a plan by what the file holds, not by its name."""

from __future__ import annotations

from reviewkit.errors import InputError
from reviewkit.model import Plan
from reviewkit.read.plan_table import read_table_text

MAX_BYTES = 5_000_000
_OTHER_FORMATS = {
    b"\xd0\xcf\x11\xe0": "is an old binary office file; save it as .xlsx, CSV or plain text",
    b"%PDF": "is a PDF; save the plan as CSV, .xlsx or plain text",
    b"{\\rtf": "is a rich-text file; save it as plain text",
    b"\x89PNG": "is a picture; write the plan as CSV, .xlsx or plain text",
    b"\xff\xd8\xff": "is a picture; write the plan as CSV, .xlsx or plain text",
}
_WIDE_MARKS = (b"\xff\xfe", b"\xfe\xff")


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
    text = decode_plan(source, data)
    return read_table_text(source, text)


def decode_plan(source: str, data: bytes) -> str:
    """Decode text as UTF-8, as UTF-16 where it is marked so, else as Windows-1252.

    Raises:
        InputError: The bytes are a file of another kind, or no text at all.
    """
    for signature, problem in _OTHER_FORMATS.items():
        if data.startswith(signature):
            raise InputError(source, None, problem)
    text = _decode(data)
    if "\0" in text:
        raise InputError(source, None, "is no text; save the plan as CSV, .xlsx or plain text")
    return text


def _decode(data: bytes) -> str:
    if data.startswith(_WIDE_MARKS):
        return data.decode("utf-16", errors="replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")
