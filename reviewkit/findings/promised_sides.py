"""Judge the promise that both sides get the same."""

from __future__ import annotations

from collections import Counter

from reviewkit.findings.claims import claims, is_for_class, is_sworn, planned_work, verdict_on
from reviewkit.findings.sides import find_side_imbalance
from reviewkit.model import Flag, HeardClass, Mark, Promise, Side

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
    uneven = next(iter(find_side_imbalance(heard)), None)
    return [
        _verdict(mark, forgotten, uneven)
        for mark in claims(heard, "both_sides")
        if is_for_class(heard, mark)
    ]


def _verdict(mark: Mark, forgotten: str, uneven: Flag | None) -> Promise:
    """Judge one promise: a side left out breaks each, a shorter one what was promised firmly."""
    if forgotten:
        why = f"one side was left out: {forgotten}"
        return verdict_on("sides", mark, forgotten, "broken", why, said="both")
    if uneven is not None and is_sworn(mark):
        why = f"{uneven.move}: {uneven.text}"
        return verdict_on("sides", mark, uneven.move, "broken", why, said="both")
    return verdict_on("sides", mark, "both", "kept", said="both")
