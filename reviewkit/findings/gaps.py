"""Find the best moment in an interval to lay a recorded line over."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from reviewkit.findings.places import end_ms, start_ms
from reviewkit.model import HeardClass, Interval

# A line of eight words takes about three seconds.
_LINE_MS = 3_000
_PAUSE_MS = 300


@dataclass(frozen=True, slots=True)
class Gap:
    """Where a line may be laid; ``fits`` is None where the clock does not know of gaps."""

    at_ms: int
    fits: bool | None


def gap_for(heard: HeardClass, interval: Interval) -> Gap:
    """Give the first gap that fits a line, else the longest.

    Looks into the first two thirds, where a point still helps. Where the clock places no
    gaps the interval's start is given.
    """
    start = start_ms(interval)
    end = start + (end_ms(interval) - start) * 2 // 3
    if heard.talk.clock == "blocks":
        return Gap(start, None)
    inside = [word for word in heard.talk.words if start <= word.end_ms and word.start_ms < end]
    edges = [(start, start), *((word.start_ms, word.end_ms) for word in inside), (end, end)]
    gaps = [(before[1], after[0] - before[1]) for before, after in pairwise(edges)]
    fitting = [at for at, length in gaps if length >= _LINE_MS]
    at_ms = fitting[0] if fitting else max(gaps, key=lambda gap: gap[1])[0]
    return Gap(max(start, at_ms + _PAUSE_MS), bool(fitting))
