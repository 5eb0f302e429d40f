"""What the class clock runs through, as plain values: every stretch of the class in order."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from reviewkit.rehearse.records import Cue, CueSheet
from reviewkit.rehearse.wording import say_title
from reviewkit.report.wording import clean

# Time to get from the keyboard to one's place before the class begins.
LEAD_MS = 10_000
SIDES = {"": "", "left": "left side", "right": "right side", "each": "change sides halfway"}


def clock_data(sheet: CueSheet) -> dict[str, Any]:
    """Give the stretches of a class with their moves and words, ready for JSON.

    The lead before the class lies below 0; times are milliseconds of the class's clock.
    """
    return {
        "title": say_title(sheet),
        "total": sheet.total_ms,
        "stretches": list(_stretches(sheet)),
    }


def _stretches(sheet: CueSheet) -> Iterator[dict[str, Any]]:
    if sheet.cues:
        yield _pause("ready", "Get ready", -LEAD_MS, 0, sheet.cues[0])
    following = (*sheet.cues[1:], None)
    for cue, after in zip(sheet.cues, following, strict=True):
        yield {
            "kind": "work",
            "name": clean(cue.row.move),
            "side": SIDES[cue.row.side],
            "part": clean(cue.part),
            "place": f"{cue.number} of {len(sheet.cues)}",
            "start": cue.start_ms,
            "end": cue.end_ms,
            "next": _next(after),
            "say": _say(cue),
            "calls": [{"at": call.at_ms, "text": call.text} for call in cue.calls],
        }
        if after is not None and after.start_ms > cue.end_ms:
            yield _pause("rest", "Rest", cue.end_ms, after.start_ms, after)


def _pause(kind: str, name: str, start_ms: int, end_ms: int, after: Cue) -> dict[str, Any]:
    """Give a stretch without a move; the words are those of the move that comes."""
    return {
        "kind": kind,
        "name": name,
        "side": "",
        "part": clean(after.part),
        "place": "",
        "start": start_ms,
        "end": end_ms,
        "next": _next(after),
        "say": _say(after),
        "calls": [],
    }


def _next(cue: Cue | None) -> str:
    if cue is None:
        return ""
    side = SIDES[cue.row.side]
    return f"{clean(cue.row.move)}{', ' + side if side else ''}"


def _say(cue: Cue) -> list[dict[str, Any]]:
    """Give what must be said, and nothing that is only suggested, but for the breath."""
    due = [
        {"text": clean(point.text), "last": point.last, "safety": point.kind == "safety"}
        for point in cue.points
        if not point.is_suggested
    ]
    again = [{"text": clean(text), "last": "", "safety": False} for text in cue.again]
    breath = {
        "text": cue.breath,
        "last": "missing" if cue.is_breath_missing else "",
        "safety": False,
    }
    return [*due, *again, breath]
