"""Say which move was really done: in a slot that was given away, or when nobody planned one.

What speaks for a swap: the coach gives the planned move away ("change of plan"), another
move is named, the planned one is not, and the talk inside sounds like another. These
signs are weighed by a small logistic regression fitted on labelled classes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from reviewkit.model import UNNAMED, Interval, Mark, MoveEvidence, Talk, Weights
from reviewkit.naming.around import LEAST_WEIGHT, NOTHING, Near, look_around
from reviewkit.naming.signs import PLANNED, swap_odds, swap_signs

__all__ = ["SWAP_WEIGHTS", "name_moves"]

SWAP_WEIGHTS = "swaps"
BIAS = "bias"


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
    around = look_around(intervals, talk, names, calls)
    named = []
    for one in intervals:
        near = around.get(one.id, NOTHING)
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


def _instead(near: Near) -> str:
    """Name the move done instead: one that the plan does not have, else another of its moves."""
    to_do = [mark for mark, how in near.mentions if how.is_to_do]
    others = [mark for mark in near.names if mark.value != PLANNED]
    for marks in ([mark for mark in others if mark in to_do], others):
        if name := _strongest(marks):
            return name
    return UNNAMED


def _strongest(marks: Sequence[Mark]) -> str:
    """Give the move named most strongly; among equals the last; empty when none is sure."""
    sure = [mark for mark in marks if mark.weight >= LEAST_WEIGHT]
    return max(sure, key=lambda mark: (mark.weight, mark.start_ms)).ref if sure else ""
