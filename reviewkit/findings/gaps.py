"""Find the best moment in an interval to lay a recorded line over."""

from __future__ import annotations

from itertools import pairwise

from reviewkit.findings.places import end_ms, start_ms
from reviewkit.model import HeardClass, Interval

# A line of eight words takes about three seconds.
_LINE_MS = 3_000
_PAUSE_MS = 300


def gap_for(heard: HeardClass, interval: Interval) -> int:
    """Give the start of the first gap that fits a line, else of the longest, in ms.

    Looks into the first two thirds, where a point still helps. Where the clock places no
    gaps the interval's start is given.
    """
    start = start_ms(interval)
    end = start + (end_ms(interval) - start) * 2 // 3
    if heard.talk.clock == "blocks":
        return start
    inside = [word for word in heard.talk.words if start <= word.end_ms and word.start_ms < end]
    edges = [(start, start), *((word.start_ms, word.end_ms) for word in inside), (end, end)]
    gaps = [(before[1], after[0] - before[1]) for before, after in pairwise(edges)]
    fitting = [at for at, length in gaps if length >= _LINE_MS]
    at_ms = fitting[0] if fitting else max(gaps, key=lambda gap: gap[1])[0]
    return max(start, at_ms + _PAUSE_MS)
