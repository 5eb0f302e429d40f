"""Tell which line inside an interval for both sides calls the change, if any does.

"Swap", "and the left", "poor relation's turn": every line of the interval gets its odds
from its words and from what else was heard in it, by weights fitted on labelled classes.
At most one line calls the change, so the odds of all lines, and of none, make chances.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import log

import numpy as np
from numpy.typing import NDArray

from reviewkit.findings.places import end_ms, start_ms
from reviewkit.language.matching import stem
from reviewkit.model import HeardClass, Interval, Line

SWITCH_WEIGHTS = "switches"
# What was heard in a line that tells whether it calls the change.
_LABELS = (
    *("form", "announcement", "option", "breathing", "motivation", "time_call", "count"),
    *("maybe_call", "move", "side_switch", "side_turn", "side_same", "side_late"),
    *("side_left", "side_right"),
)
_CALLS = ("side_switch", "side_turn")
_EDGE_MS = 1_000
_SET_UP_MS = 12_000
_FEW, _MANY = 4, 11
_LONG_PAUSE_MS = 4_000
_SIDES = ("left", "right")
# By how much a change near the middle is likelier than elsewhere, and none at all less
# likely than a line of even odds, as log odds: set by the classes left out of the fit.
_NEAR_MIDDLE = 1.0
_NO_CHANGE = -2.0

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class SwitchLine:
    """A line that may call the change, from when the other side has its turn, and its signs."""

    line: Line
    turn_ms: int
    signs: Mapping[str, float]


def find_switch_lines(
    heard: HeardClass, interval: Interval, lines: Sequence[Line]
) -> list[SwitchLine]:
    """Give the lines said inside an interval, first and last second left out.

    Args:
        heard: The class.
        interval: One that was done.
        lines: All lines of the class.
    """
    low, high = start_ms(interval) + _EDGE_MS, end_ms(interval) - _EDGE_MS
    own = [line for line in lines if low <= line.start_ms < high]
    named = {
        word.norm
        for word in heard.talk.words
        if low - _SET_UP_MS <= word.start_ms < low and word.norm in _SIDES
    }
    found = []
    for line in own:
        found.append(SwitchLine(line, _turn_ms(heard, line), _signs(heard, line, named)))
        named |= set(_norms(heard, line)) & set(_SIDES)
    return found


def _turn_ms(heard: HeardClass, line: Line) -> int:
    """Give when the call in a line is out: nobody moves over before."""
    calls = (
        mark.end_ms
        for mark in heard.marks
        if mark.kind in _CALLS and line.first <= mark.first and mark.last <= line.last
    )
    return next(calls, line.end_ms)


def _norms(heard: HeardClass, line: Line) -> list[str]:
    return [word.norm for word in heard.talk.words[line.first : line.last + 1]]


def _signs(heard: HeardClass, line: Line, named: set[str]) -> dict[str, float]:
    """Say what tells of a line whether it calls the change; ``named`` are sides said before."""
    norms = _norms(heard, line)
    stems = [stem(norm) for norm in norms]
    before = heard.talk.words[line.first - 1] if line.first else None
    pause_ms = line.start_ms - before.end_ms if before else 0
    kinds = {
        mark.kind for mark in heard.marks if mark.first <= line.last and line.first <= mark.last
    }
    is_other = any(
        one in norms and other in named and one not in named
        for one, other in (_SIDES, _SIDES[::-1])
    )
    return {
        **{f"says {one}": 1.0 for one in stems},
        **{f"says {one} {two}": 1.0 for one, two in pairwise(stems)},
        **{f"is {kind}": 1.0 for kind in _LABELS if kind in kinds},
        f"begins {stems[0]}": 1.0,
        f"ends {stems[-1]}": 1.0,
        "length": log(len(norms)),
        "few words": float(len(norms) <= _FEW),
        "many words": float(len(norms) > _MANY),
        "pause before": min(pause_ms, _LONG_PAUSE_MS) / _LONG_PAUSE_MS,
        "other side": float(is_other),
    }


def chances_of(odds: Floats, is_near_middle: NDArray[np.bool_]) -> Floats:
    """Give the chance of each line being the one that calls the change.

    Args:
        odds: Log odds of n lines by their words, of shape (n,).
        is_near_middle: Whether each would part the interval evenly, of shape (n,).

    Returns:
        Chances of shape (n,); what they lack of 1 is the chance of no call.
    """
    told = np.append(odds + _NEAR_MIDDLE * is_near_middle, _NO_CHANGE)
    parts = np.exp(told - told.max())
    chances: Floats = parts[:-1] / parts.sum()
    return chances
