"""Say which move was really done: in a slot that was given away, or when nobody planned one.

Four things speak for a swap: the coach gives the planned move away ("change of plan"),
another move is named, the planned one is not, and the talk inside sounds like another.
They are weighed by a small logistic regression fitted on labelled classes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from reviewkit.model import Interval, Mark, MoveEvidence, Talk

# Where a move is named or given away: from a while before the start until a little after.
ANNOUNCED_MS = 20_000
GIVEN_AWAY_MS = 25_000
NAMED_AFTER_MS = 10_000
UNNAMED = "Unnamed move"
PLANNED = 1.0

_BIAS = -4.5
_CALLED, _CALLS = 1.6, 3.0
_OWN_NAME, _OTHER_NAME, _CALLED_AND_NAMED = -0.75, 3.5, 0.6
_OWN_TALK, _OTHER_TALK = -0.45, 0.7
_LEAST_WEIGHT = 0.25


@dataclass(frozen=True, slots=True)
class _Near:
    """The marks around the start of one interval."""

    names: tuple[Mark, ...]
    calls: tuple[Mark, ...]


def name_moves(
    intervals: Sequence[Interval],
    talk: Talk,
    mentions: Sequence[Mark],
    swap_calls: Sequence[Mark],
    evidence: MoveEvidence,
) -> tuple[Interval, ...]:
    """Name added intervals, and give swapped slots their status and the move done instead."""
    ends = _ends_before(intervals)
    named = []
    for one in intervals:
        near = _near(one, ends.get(one.id, 0), mentions, swap_calls)
        if one.status == "added":
            named.append(replace(one, move=_strongest(near.names) or UNNAMED))
        elif one.start is not None and _swap_odds(one, near, talk, evidence) > 0:
            named.append(replace(one, status="swapped", done_instead=_instead(near)))
        else:
            named.append(one)
    return tuple(named)


def _ends_before(intervals: Sequence[Interval]) -> dict[str, int]:
    """Give, for each interval, when the one before it ended."""
    done = [(one.start.at_ms, one.end.at_ms, one.id) for one in intervals if one.start and one.end]
    return {after[2]: before[1] for before, after in pairwise(sorted(done))}


def _near(one: Interval, free_ms: int, mentions: Sequence[Mark], calls: Sequence[Mark]) -> _Near:
    if one.start is None or one.end is None:
        return _Near((), ())
    high = min(one.end.at_ms, one.start.at_ms + NAMED_AFTER_MS)
    named_from = max(free_ms, one.start.at_ms - ANNOUNCED_MS)
    called_from = max(free_ms - 1500, one.start.at_ms - GIVEN_AWAY_MS)
    return _Near(
        tuple(mark for mark in mentions if named_from <= mark.start_ms < high),
        tuple(mark for mark in calls if called_from <= mark.start_ms < high),
    )


def _swap_odds(one: Interval, near: _Near, talk: Talk, evidence: MoveEvidence) -> float:
    """Give the log-odds that another move was done in a slot."""
    called = max((mark.weight for mark in near.calls), default=0.0)
    calls = min(2.0, sum(mark.weight for mark in near.calls))
    own = max((mark.weight for mark in near.names if mark.ref == one.move), default=0.0)
    other = max((mark.weight for mark in near.names if mark.value != PLANNED), default=0.0)
    own_talk, other_talk = _talk_for(one, talk, evidence)
    return (
        _BIAS
        + _CALLED * called
        + _CALLS * calls
        + _OWN_NAME * own
        + _OTHER_NAME * other
        + _CALLED_AND_NAMED * called * other
        + _OWN_TALK * own_talk
        + _OTHER_TALK * other_talk
    )


def _talk_for(one: Interval, talk: Talk, evidence: MoveEvidence) -> tuple[float, float]:
    """Say how much the talk inside a slot speaks for its move, and for the likeliest other."""
    if one.start is None or one.end is None or one.move not in evidence.moves:
        return 0.0, 0.0
    inside = [
        place
        for place, word in enumerate(talk.words)
        if one.start.at_ms <= word.start_ms + 200 < one.end.at_ms
    ]
    sums = {
        move: sum(row[place] for place in inside)
        for move, row in zip(evidence.moves, evidence.cued, strict=True)
    }
    own = sums.pop(one.move)
    return max(-3.0, min(4.0, own)), max(-3.0, min(4.0, max(sums.values(), default=0.0)))


def _instead(near: _Near) -> str:
    """Name the move done instead: the strongest name that the plan does not have."""
    others = [mark for mark in near.names if mark.value != PLANNED]
    return _strongest(others) or UNNAMED


def _strongest(marks: Sequence[Mark]) -> str:
    """Give the move named most strongly; among equals the last; empty when none is sure."""
    sure = [mark for mark in marks if mark.weight >= _LEAST_WEIGHT]
    return max(sure, key=lambda mark: (mark.weight, mark.start_ms)).ref if sure else ""
