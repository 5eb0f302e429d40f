"""Say where in the class a moment or a stretch of words lies."""

from __future__ import annotations

from reviewkit.model import HeardClass, Interval, Mark
from reviewkit.once import once_for

_TOLERANCE_MS = 1_000


# A class as heard is asked for them by every rule, for every mark it looks at.
@once_for(4)
def done_intervals(heard: HeardClass) -> tuple[Interval, ...]:
    """Give the intervals that happened, in the order they began."""
    done = [one for one in heard.intervals if one.start is not None and one.end is not None]
    return tuple(sorted(done, key=start_ms))


def start_ms(interval: Interval) -> int:
    """Give the start of an interval that happened; a skipped one counts as moment 0."""
    return interval.start.at_ms if interval.start else 0


def end_ms(interval: Interval) -> int:
    """Give the end of an interval that happened; a skipped one counts as moment 0."""
    return interval.end.at_ms if interval.end else 0


def work_start_ms(heard: HeardClass) -> int:
    """Give the moment the first work interval begins; the end of the talk without one."""
    starts = [start_ms(one) for one in done_intervals(heard) if one.kind == "work"]
    return min(starts, default=heard.talk.length_ms)


def work_end_ms(heard: HeardClass) -> int:
    """Give the moment the last work interval ends; 0 without one."""
    return max((end_ms(one) for one in done_intervals(heard) if one.kind == "work"), default=0)


def end_spread_ms(interval: Interval) -> float:
    """Give half of the range that holds the end of an interval that happened."""
    return (interval.end.high_ms - interval.end.low_ms) / 2 if interval.end else 0.0


def interval_at(heard: HeardClass, at_ms: int) -> Interval | None:
    """Find the interval that holds a moment, ``None`` in a rest or outside the class."""
    for interval in done_intervals(heard):
        if start_ms(interval) - _TOLERANCE_MS <= at_ms < end_ms(interval):
            return interval
    return None


def interval_of_mark(heard: HeardClass, mark: Mark) -> Interval | None:
    """Find the interval in which words were said; ``None`` when the clock cannot tell."""
    interval = interval_at(heard, mark.start_ms)
    if interval is None or heard.talk.clock != "blocks":
        return interval
    spread_ms = heard.talk.words[mark.first].spread_ms if mark.first < len(heard.talk.words) else 0
    is_inside = start_ms(
        interval
    ) <= mark.start_ms - spread_ms and mark.start_ms + spread_ms < end_ms(interval)
    return interval if is_inside else None
