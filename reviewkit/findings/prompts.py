"""Whether each planned move had a kind of prompt while it was being done."""

from __future__ import annotations

from collections.abc import Iterable
from math import erf, sqrt

from reviewkit.language.overlap import overlaps
from reviewkit.language.tokens import norm
from reviewkit.language.wordsets import word_set
from reviewkit.model import Edge, Evidence, HeardClass, Interval, Mark, PromptFinding

MOST_EVIDENCE = 6
# How likely it must be that words fell inside an interval, its edges being as unsure as they
# are. Words with its very first movement belong to it.
_LIKELY = 0.6
_WITH_START_MS = 300
_LEAST_SPREAD_MS = 150
# Ranges hold nine chances in ten.
_RANGE_SPREADS = 3.29
# "In" and "out" that start or end an interval are signals, and ask for no breath.
_SIGNALS, _AT_EDGE_MS = word_set("in out and"), 500
# "Lock the breath in and grind it out" is risky talk and prompts nothing.
_BREATH_HELD = ("risky_talk", "breath")


def _is_inside(mark: Mark, interval: Interval) -> bool:
    if interval.start is None or interval.end is None:
        return False
    after_start = _chance_before(interval.start, mark.start_ms + _WITH_START_MS)
    before_end = 1 - _chance_before(interval.end, mark.start_ms)
    if after_start * before_end < _LIKELY:
        return False
    is_at_edge = (
        mark.start_ms <= interval.start.at_ms + _AT_EDGE_MS
        or mark.end_ms >= interval.end.at_ms - _AT_EDGE_MS
    )
    return not (is_at_edge and {norm(word) for word in mark.text.split()} <= _SIGNALS)


def _chance_before(edge: Edge, at_ms: int) -> float:
    """Give the chance that an edge lies before a moment, its range taken for a normal one."""
    spread_ms = max(_LEAST_SPREAD_MS, (edge.high_ms - edge.low_ms) / _RANGE_SPREADS)
    return (1 + erf((at_ms - edge.at_ms) / spread_ms / sqrt(2))) / 2


def judge_prompts(heard: HeardClass, kind: str) -> dict[str, PromptFinding]:
    """Tell for every planned move whether marks of a kind fall inside its intervals.

    Talk before and between intervals does not count, nor what asks to hold the breath. A slot
    filled with another move counts for the planned one. Moves that were never done are left out.

    Args:
        heard: The class.
        kind: Kind of mark, such as ``breathing``.

    Returns:
        Findings by the plan's name of the move, in the order of the plan.
    """
    held = [mark for mark in heard.marks if (mark.kind, mark.ref) == _BREATH_HELD]
    marks = [
        mark
        for mark in heard.marks
        if mark.kind == kind and not any(overlaps(mark, one) for one in held)
    ]
    done: dict[str, list[Interval]] = {row.move: [] for row in heard.plan.rows}
    for interval in heard.intervals:
        if interval.plan_row is not None and interval.start is not None:
            done.setdefault(interval.move, []).append(interval)
    return {move: _finding(marks, intervals) for move, intervals in done.items() if intervals}


def _finding(marks: Iterable[Mark], intervals: list[Interval]) -> PromptFinding:
    inside = [mark for mark in marks if any(_is_inside(mark, one) for one in intervals)]
    # A line that prompts twice is told once.
    told = dict.fromkeys(Evidence(mark.start_ms, mark.text) for mark in inside)
    return PromptFinding("said" if inside else "missing", tuple(told)[:MOST_EVIDENCE])
