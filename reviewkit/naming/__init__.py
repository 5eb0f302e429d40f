"""Say which move was really done: in a slot that was given away, or when nobody planned one.

What speaks for a swap: the coach gives the planned move away ("change of plan"), another
move is named, the planned one is not, and the talk inside sounds like another. These
signs are weighed by a small logistic regression fitted on labelled classes. A swapped move
takes its slot's time. Where another was likely done, and for surely another time, the row was
left out and something added in its place.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf

from reviewkit.model import UNNAMED, Interval, Mark, MoveEvidence, Talk, Weights
from reviewkit.naming.around import LEAST_WEIGHT, NOTHING, Near, look_around
from reviewkit.naming.signs import PLANNED, swap_odds, swap_signs

__all__ = ["SWAP_WEIGHTS", "name_moves"]

SWAP_WEIGHTS = "swaps"
BIAS = "bias"
# What was done in a slot's place is of surely less or more than these shares of its length,
# and the log-odds of another move are no lower than this.
_SHORTER, _LONGER = 0.75, 1.25
_LEAST_ODDS = -2.0
# How plainly a move of the plan must be named to name what nobody planned: of 247 such intervals
# in labelled classes 62 are named rightly and 24 wrongly so; by any name 77 and 47.
_PLAIN_NAME = 0.8


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
    odds = {
        one.id: swap_odds(
            swap_signs(one, around.get(one.id, NOTHING), talk, evidence), counted, bias
        )
        for one in intervals
        if one.start is not None and one.status != "added"
    }
    named: list[Interval] = []
    left_out: list[Interval] = []
    for one in intervals:
        near, own = around.get(one.id, NOTHING), odds.get(one.id, -inf)
        if one.status == "added":
            named.append(replace(one, move=_name_of_added(near)))
        elif own > _LEAST_ODDS and _is_of_other_length(one):
            left_out.append(_left_out(one))
            named.append(_added(one, near))
        elif own > 0:
            named.append(replace(one, status="swapped", done_instead=_instead(near)))
        else:
            named.append(one)
    for one in left_out:
        named.insert(_planned_place(one, named), one)
    return tuple(named)


def _planned_place(one: Interval, intervals: Sequence[Interval]) -> int:
    """Say before which interval a row that was left out stands in the plan."""
    row = one.plan_row or 0
    later = (at for at, other in enumerate(intervals) if (other.plan_row or 0) > row)
    return next(later, len(intervals))


def _is_of_other_length(one: Interval) -> bool:
    """Tell whether a slot was surely far shorter or longer than planned."""
    if one.planned_ms is None or one.length_low_ms is None or one.length_high_ms is None:
        return False
    is_short = one.length_high_ms < _SHORTER * one.planned_ms
    return is_short or one.length_low_ms > _LONGER * one.planned_ms


def _left_out(one: Interval) -> Interval:
    """Give the row of a slot as left out."""
    return replace(
        one, status="skipped", start=None, end=None, length_low_ms=None, length_high_ms=None,
        timing=None, rest_after_ms=None,
    )  # fmt: skip


def _added(one: Interval, near: Near) -> Interval:
    """Give what was done in a row's place as added."""
    return replace(
        one, id=f"added-{one.id}", plan_row=None, move=_instead(near), side="", planned_ms=None,
        status="added", timing=None, planned_rest_ms=None,
    )  # fmt: skip


def _instead(near: Near) -> str:
    """Name the move done instead: one that the plan does not have, else another of its moves."""
    to_do = [mark for mark, how in near.mentions if how.is_to_do]
    others = [mark for mark in near.names if mark.value != PLANNED]
    for marks in ([mark for mark in others if mark in to_do], others):
        if name := _strongest(marks):
            return name
    return UNNAMED


def _name_of_added(near: Near) -> str:
    """Name what nobody planned: a move of the plan only where that was plainly said.

    Most moves of the plan named there come before it or after it.
    """
    others = [mark for mark in near.names if mark.value != PLANNED]
    plain = [mark for mark in near.names if mark.value == PLANNED and mark.weight >= _PLAIN_NAME]
    return _strongest(others) or _strongest(plain) or UNNAMED


def _strongest(marks: Sequence[Mark]) -> str:
    """Give the move named most strongly; among equals the last; empty when none is sure."""
    sure = [mark for mark in marks if mark.weight >= LEAST_WEIGHT]
    return max(sure, key=lambda mark: (mark.weight, mark.start_ms)).ref if sure else ""
