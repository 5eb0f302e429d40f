"""Say which move was really done: in a slot that was given away, or when nobody planned one.

A slot counts as swapped only when another move is clearly named where the planned one
should be and nothing speaks for the planned one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from reviewkit.model import Interval, Mark, MoveEvidence, Talk

# Where a move is named: from a while before the start until a little after it.
ANNOUNCED_MS = 20_000
NAMED_AFTER_MS = 12_000
UNNAMED = "Unnamed move"
_CLEARLY_NAMED = 0.6
_OWN_SILENT = 0.3


def name_moves(
    intervals: Sequence[Interval], talk: Talk, mentions: Sequence[Mark], evidence: MoveEvidence
) -> tuple[Interval, ...]:
    """Name added intervals, and give swapped slots their status and the move done instead."""
    ordered = sorted((one for one in intervals if one.start), key=lambda one: one.start.at_ms)  # type: ignore[union-attr]
    ends = {after.id: before.end.at_ms for before, after in pairwise(ordered) if before.end}
    return tuple(_named(one, ends.get(one.id, 0), talk, mentions, evidence) for one in intervals)


def _named(
    one: Interval, free_ms: int, talk: Talk, mentions: Sequence[Mark], evidence: MoveEvidence
) -> Interval:
    if one.start is None or one.end is None:
        return one
    low = max(free_ms, one.start.at_ms - ANNOUNCED_MS)
    high = min(one.end.at_ms, one.start.at_ms + NAMED_AFTER_MS)
    near = [mark for mark in mentions if low <= mark.start_ms < high]
    if one.status == "added":
        return replace(one, move=_strongest(near) or UNNAMED)
    own = max((mark.weight for mark in near if mark.ref == one.move), default=0.0)
    other = [mark for mark in near if mark.value == 0.0 and mark.weight >= _CLEARLY_NAMED]
    if not other or own > _OWN_SILENT or _is_cued(one, talk, evidence):
        return one
    return replace(one, status="swapped", done_instead=_strongest(other))


def _strongest(marks: Sequence[Mark]) -> str:
    """Give the move named most strongly; among equals the last."""
    return max(marks, key=lambda mark: (mark.weight, mark.start_ms)).ref if marks else ""


def _is_cued(one: Interval, talk: Talk, evidence: MoveEvidence) -> bool:
    """Tell whether the talk inside a slot speaks for its planned move."""
    if one.start is None or one.end is None or one.move not in evidence.moves:
        return False
    cued = evidence.cued[evidence.moves.index(one.move)]
    inside = [
        value
        for word, value in zip(talk.words, cued, strict=True)
        if one.start.at_ms <= word.start_ms < one.end.at_ms
    ]
    return sum(inside) > 1.5
