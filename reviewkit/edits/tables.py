"""Edits as tables for a spreadsheet: times in seconds to the millisecond, and as timecode."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from reviewkit.edits.records import Edits, Trim
from reviewkit.edits.timecode import FrameRate, nearest_frame, timecode
from reviewkit.report.tables import csv_text
from reviewkit.report.wording import say_move
from reviewkit.times import Span, format_clock

CUT_COLUMNS = (
    "from_s",
    "to_s",
    "from_timecode",
    "to_timecode",
    "cut_s",
    "what",
    "words",
    "said_before_s",
    "move",
    "part",
    "planned_s",
    "length_s",
    "length_once_cut_s",
)
RECORD_COLUMNS = (
    "line",
    "do",
    "from_s",
    "to_s",
    "from_timecode",
    "to_timecode",
    "takes_s",
    "move",
    "point",
    "kind",
    "verdict",
    "asked_by",
    "words_of",
    "words_per_min",
)
MARKER_COLUMNS = (
    "from_s",
    "to_s",
    "from_timecode",
    "to_timecode",
    "from_frame",
    "to_frame",
    "kind",
    "name",
    "note",
)
CHANGE_COLUMNS = ("at_s", "at", "from", "to", "move", "why")


def cuts_csv(edits: Edits) -> str:
    """Write a line a cut, and one for each interval and rest in which nothing can be cut."""
    return csv_text([row for trim in edits.trims for row in _trim(trim, edits)], CUT_COLUMNS)


def _trim(trim: Trim, edits: Edits) -> Iterator[dict[str, Any]]:
    about = {
        "move": say_move(trim.interval),
        "part": "rest after it" if trim.is_rest else "interval",
        "planned_s": seconds(trim.planned_ms),
        "length_s": seconds(trim.length_ms),
        "length_once_cut_s": seconds(trim.result_ms),
    }
    if not trim.cuts:
        yield about | {"what": "nothing to cut"}
    for cut in trim.cuts:
        before_ms = cut.said_before_ms
        yield (
            about
            | _place(cut.span, edits.rate)
            | {
                "cut_s": seconds(cut.span.length_ms),
                "what": cut.kind,
                "words": cut.text,
                "said_before_s": None if before_ms is None else seconds(before_ms),
            }
        )


def record_csv(edits: Edits) -> str:
    """Write a line of the table for each line to record or to show."""
    rows = [
        {
            "line": line.text,
            "do": "record" if line.slot else "show as a caption",
            **(_place(line.slot, edits.rate) if line.slot else {}),
            "takes_s": seconds(line.takes_ms),
            "move": line.move,
            "point": line.point,
            "kind": line.kind,
            "verdict": "late" if line.is_late else "missing",
            "asked_by": "lexicon" if line.is_suggested else "plan",
            "words_of": line.source_name or line.source,
            "words_per_min": edits.speaking.words_per_min,
        }
        for line in edits.lines
    ]
    return csv_text(rows, RECORD_COLUMNS)


def markers_csv(edits: Edits) -> str:
    """Write a line a marker; frames count from 0."""
    rows = [
        {
            "from_s": seconds(one.start_ms),
            "to_s": seconds(one.end_ms),
            "from_timecode": _timecode(one.start_ms, edits.rate),
            "to_timecode": _timecode(one.end_ms, edits.rate),
            "from_frame": nearest_frame(one.start_ms, edits.rate),
            "to_frame": nearest_frame(one.end_ms, edits.rate),
            "kind": one.kind,
            "name": one.name,
            "note": one.note,
        }
        for one in edits.markers
    ]
    return csv_text(rows, MARKER_COLUMNS)


def changes_csv(edits: Edits) -> str:
    """Write a line for each name that was put right in the transcript."""
    rows = [
        {
            "at_s": seconds(one.at_ms),
            "at": format_clock(one.at_ms),
            "from": one.heard,
            "to": one.meant,
            "move": one.move,
            "why": one.why,
        }
        for one in edits.renamed
    ]
    return csv_text(rows, CHANGE_COLUMNS)


def seconds(at_ms: int) -> str:
    """Write milliseconds as seconds, all three places shown."""
    return f"{at_ms / 1000:.3f}"


def _place(span: Span, rate: FrameRate) -> dict[str, Any]:
    return {
        "from_s": seconds(span.start_ms),
        "to_s": seconds(span.end_ms),
        "from_timecode": _timecode(span.start_ms, rate),
        "to_timecode": _timecode(span.end_ms, rate),
    }


def _timecode(at_ms: int, rate: FrameRate) -> str:
    return timecode(nearest_frame(at_ms, rate), rate)
