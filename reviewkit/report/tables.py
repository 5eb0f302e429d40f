"""Tables for spreadsheets: one line an interval, one line a point of a move."""

from __future__ import annotations

import csv
import io
from typing import Any

from reviewkit.report.document import Document
from reviewkit.report.wording import clean

INTERVAL_COLUMNS = (
    "id",
    "plan_row",
    "block",
    "kind",
    "round",
    "move",
    "side",
    "status",
    "done_instead",
    "planned_s",
    "length_s",
    "length_low_s",
    "length_high_s",
    "drift_s",
    "timing",
    "start_s",
    "start_low_s",
    "start_high_s",
    "end_s",
    "end_low_s",
    "end_high_s",
    "planned_rest_s",
    "rest_after_s",
    "words",
    "cues",
    "cues_per_min",
    "longest_silence_s",
    "form",
    "safety",
    "breathing",
    "option",
    "motivation",
)
MOVE_COLUMNS = (
    "move",
    "point",
    "kind",
    "asked_by",
    "verdict",
    "first_said_s",
    "words",
    "why",
    "line",
)
_FORMULA_STARTS = ("=", "+", "-", "@")


def intervals_csv(document: Document) -> str:
    """Write the intervals of a review document as CSV, in the order they happened.

    Times are seconds, empty where there are none.
    """
    return csv_text([_interval_row(one) for one in document["intervals"]], INTERVAL_COLUMNS)


def moves_csv(document: Document) -> str:
    """Write every point of every move as CSV; breathing and options are lines of their own."""
    rows = [row for move in document["moves"] for row in _move_rows(move)]
    return csv_text(rows, MOVE_COLUMNS)


def csv_text(rows: list[dict[str, Any]], columns: tuple[str, ...]) -> str:
    """Write rows as CSV with these columns; a cell that a row does not have stays empty."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows([safe_cell(row.get(column)) for column in columns] for row in rows)
    return out.getvalue()


def safe_cell(value: Any) -> Any:
    """Keep a spreadsheet from taking someone's words for a formula."""
    if not isinstance(value, str):
        return value
    text = clean(value)
    return f"'{text}" if text.startswith(_FORMULA_STARTS) else text


def _interval_row(one: Document) -> dict[str, Any]:
    row = {**one, **(one["talk"] or {})}
    for name in ("start", "end", "length"):
        row[f"{name}_low_s"], row[f"{name}_high_s"] = one[f"{name}_range_s"] or (None, None)
    return row


def _move_rows(move: Document) -> list[dict[str, Any]]:
    points = [
        {"move": move["move"], **point, "words": _words(point["evidence"])}
        for point in move["points"]
    ]
    prompts = [
        {
            "move": move["move"],
            "kind": kind,
            "verdict": move[key]["verdict"],
            "first_said_s": move[key]["evidence"][0]["at_s"] if move[key]["evidence"] else None,
            "words": _words(move[key]["evidence"]),
        }
        for kind, key in (("breathing", "breathing"), ("option", "options"))
    ]
    return points + prompts


def _words(evidence: list[Document]) -> str:
    return " | ".join(one["text"] for one in evidence)
