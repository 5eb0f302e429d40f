"""Judge the promise that both sides get the same."""

from __future__ import annotations

from collections import Counter

from reviewkit.findings.claims import claims, is_for_class, planned_work, verdict_on
from reviewkit.model import HeardClass, Promise, Side

_SIDES: tuple[Side, Side] = ("left", "right")


def _forgotten(heard: HeardClass) -> str:
    """Name a move and side that was done less often than the other, though planned alike."""
    rows = planned_work(heard, [one.block for one in heard.intervals])
    planned = Counter((one.move, one.side) for one in rows)
    done = Counter((one.move, one.side) for one in rows if one.status != "skipped")
    for move in dict.fromkeys(one.move for one in rows):
        left, right = (done[move, side] for side in _SIDES)
        if left != right and planned[move, "left"] == planned[move, "right"]:
            return f"{move}, {'left' if left < right else 'right'}"
    return ""


def judge_sides(heard: HeardClass) -> list[Promise]:
    """Judge promises of both sides made before the work began, where the plan has sides."""
    if not any(row.side in _SIDES for row in heard.plan.rows):
        return []
    forgotten = _forgotten(heard)
    why = f"one side was left out: {forgotten}" if forgotten else ""
    return [
        verdict_on(
            "sides", mark, forgotten or "both", "broken" if forgotten else "kept", why, said="both"
        )
        for mark in claims(heard, "both_sides")
        if is_for_class(heard, mark)
    ]
