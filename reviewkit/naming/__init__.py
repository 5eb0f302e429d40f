"""Say which move was really done: in a slot that was given away, or when nobody planned one.

What speaks for a swap: the coach gives the planned move away ("change of plan"), another
move is named, the planned one is not, and the talk inside sounds like another. These
signs are weighed by a small logistic regression fitted on labelled classes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from reviewkit.model import Interval, Mark, MoveEvidence, Talk, Weights
from reviewkit.naming.signs import LEAST_WEIGHT, PLANNED, Near, find_near, swap_odds, swap_signs

__all__ = ["SWAP_WEIGHTS", "UNNAMED", "ends_before", "name_moves"]

SWAP_WEIGHTS = "swaps"
BIAS = "bias"
UNNAMED = "Unnamed move"


def name_moves(
    intervals: Sequence[Interval],
    talk: Talk,
    marks: Sequence[Mark],
    evidence: MoveEvidence,
    weights: Weights,
) -> tuple[Interval, ...]:
    """Name added intervals, and give swapped slots their status and the move done instead.

    Args:
        intervals: As placed, in the order they happened.
        talk: The words of the class.
        marks: What was heard; the moves named and given away are looked at.
        evidence: Which planned move each word speaks for.
        weights: How much each sign counts for a swap.
    """
    names = [mark for mark in marks if mark.kind == "move"]
    calls = [mark for mark in marks if mark.kind == "swap_call"]
    counted = {name: values[0] for name, values in weights.rows.items()}
    bias = counted.pop(BIAS)
    ends = ends_before(intervals)
    named = []
    for one in intervals:
        near = find_near(one, ends.get(one.id, 0), names, calls)
        if one.status == "added":
            named.append(replace(one, move=_strongest(near.names) or UNNAMED))
        elif (
            one.start is not None
            and swap_odds(swap_signs(one, near, talk, evidence), counted, bias) > 0
        ):
            named.append(replace(one, status="swapped", done_instead=_instead(near)))
        else:
            named.append(one)
    return tuple(named)


def ends_before(intervals: Sequence[Interval]) -> dict[str, int]:
    """Give, for each interval, when the one before it ended."""
    done = [(one.start.at_ms, one.end.at_ms, one.id) for one in intervals if one.start and one.end]
    return {after[2]: before[1] for before, after in pairwise(sorted(done))}


def _instead(near: Near) -> str:
    """Name the move done instead: the strongest name that the plan does not have."""
    others = [mark for mark in near.names if mark.value != PLANNED]
    return _strongest(others) or UNNAMED


def _strongest(marks: Sequence[Mark]) -> str:
    """Give the move named most strongly; among equals the last; empty when none is sure."""
    sure = [mark for mark in marks if mark.weight >= LEAST_WEIGHT]
    return max(sure, key=lambda mark: (mark.weight, mark.start_ms)).ref if sure else ""
