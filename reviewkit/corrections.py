"""Put a coach's corrections into what was heard and into what follows from it.

The coach was there; where they say otherwise, they are right. Each correction is applied
anew whenever a class is judged, so any of them can be taken back by itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TypeVar

from reviewkit.model import (
    Correction,
    DoneInterval,
    Edge,
    Evidence,
    Flag,
    HeardClass,
    Interval,
    MarkedPoint,
    MovedEdge,
    MoveFinding,
    NamedMove,
    PointFinding,
    Promise,
    SetAside,
    TimeCall,
)
from reviewkit.timing import with_timing

Judged = TypeVar("Judged", Interval, Flag, TimeCall, Promise)


def correct_class(
    heard: HeardClass, corrections: Sequence[Correction], *, tolerance_ms: int | None = None
) -> HeardClass:
    """Give the class with the intervals that the coach says it had.

    A correction of an interval that is not there is left out, and so are edges moved in one
    that was not done: the class may have been heard anew since.

    Args:
        heard: The class as heard.
        corrections: In the order in which they were made; a later one counts.
        tolerance_ms: As for the review.
    """
    intervals = list(heard.intervals)
    for one in corrections:
        if isinstance(one, MovedEdge):
            intervals = [_moved(interval, one, tolerance_ms) for interval in intervals]
        elif isinstance(one, DoneInterval):
            intervals = [_done(interval, one, tolerance_ms) for interval in intervals]
        elif isinstance(one, NamedMove):
            named = (_named(interval, one) for interval in intervals)
            intervals = [interval for interval in named if interval is not None]
    intervals = list(put_aside(intervals, corrections))
    if intervals == list(heard.intervals):
        return heard
    return replace(heard, intervals=tuple(_rested(intervals)))


def _moved(interval: Interval, moved: MovedEdge, tolerance_ms: int | None) -> Interval:
    if interval.id != moved.interval or interval.start is None or interval.end is None:
        return interval
    edge = _exact(moved.at_ms)
    start = edge if moved.edge == "start" else interval.start
    end = edge if moved.edge == "end" else interval.end
    return _between(interval, start, end, tolerance_ms)


def _done(interval: Interval, done: DoneInterval, tolerance_ms: int | None) -> Interval:
    if interval.id != done.interval:
        return interval
    start, end = _exact(done.start_ms), _exact(done.end_ms)
    placed = _between(interval, start, end, tolerance_ms)
    # It may have been heard since, and then keeps the move that it is known by.
    return replace(placed, status="done") if placed.status == "skipped" and placed.start else placed


def _exact(at_ms: int) -> Edge:
    return Edge(at_ms, at_ms, at_ms)


def _between(interval: Interval, start: Edge, end: Edge, tolerance_ms: int | None) -> Interval:
    """Give the interval as done between two edges; as it is where they do not follow."""
    length_ms = end.at_ms - start.at_ms
    if length_ms <= 0:
        return interval
    is_exact = start.low_ms == start.high_ms and end.low_ms == end.high_ms
    low_ms = length_ms if is_exact else max(0, end.low_ms - start.high_ms)
    high_ms = length_ms if is_exact else end.high_ms - start.low_ms
    moved = replace(
        interval,
        start=start,
        end=end,
        length_low_ms=low_ms,
        length_high_ms=high_ms,
        certainty=1.0,
        by_coach=True,
    )
    return with_timing(moved, tolerance_ms)


def _named(interval: Interval, named: NamedMove) -> Interval | None:
    if interval.id != named.interval or interval.start is None:
        return interval
    is_added = interval.status == "added"
    certain = replace(interval, certainty=1.0, by_coach=True)
    if not named.move:
        return None if is_added else _left_out(certain)
    if is_added:
        return replace(certain, move=named.move)
    if named.move == interval.move:
        return replace(certain, status="done", done_instead="")
    return replace(certain, status="swapped", done_instead=named.move)


def _left_out(interval: Interval) -> Interval:
    return replace(
        interval, status="skipped", start=None, end=None, length_low_ms=None, length_high_ms=None,
        timing=None, rest_after_ms=None, done_instead="",
    )  # fmt: skip


def _rested(intervals: Sequence[Interval]) -> list[Interval]:
    """Measure the rests anew, between intervals as they now follow each other.

    Where one begins before the other has ended, there is no rest.
    """
    done = sorted(
        (one for one in intervals if one.start and one.end),
        key=lambda one: one.start.at_ms if one.start else 0,
    )
    rests = {
        one.id: max(0, after.start.at_ms - one.end.at_ms)
        for one, after in pairwise(done)
        if one.end and after.start
    }
    return [replace(one, rest_after_ms=rests.get(one.id)) for one in intervals]


# --- findings -----------------------------------------------------------------------------


def correct_points(
    moves: Sequence[MoveFinding], corrections: Sequence[Correction]
) -> tuple[MoveFinding, ...]:
    """Give the points as the coach marked them, and those set aside their reason."""
    marked = {(one.move, one.point): one for one in corrections if isinstance(one, MarkedPoint)}
    reasons = _reasons(corrections)

    def correct(move: str, point: PointFinding) -> PointFinding:
        mark = marked.get((move, point.point))
        if mark is not None:
            point = _marked(point, mark)
        return replace(point, set_aside=reasons.get(key_of_point(move, point.point), ""))

    return tuple(
        replace(one, points=tuple(correct(one.move, point) for point in one.points))
        for one in moves
    )


def _marked(point: PointFinding, mark: MarkedPoint) -> PointFinding:
    evidence = point.evidence
    if mark.verdict == "missing":
        evidence = ()
    elif mark.at_ms is not None:
        evidence = (Evidence(mark.at_ms, mark.text), *evidence)
    return replace(point, verdict=mark.verdict, evidence=evidence, by_coach=True)


def put_aside(found: Iterable[Judged], corrections: Sequence[Correction]) -> tuple[Judged, ...]:
    """Give the findings with the coach's reasons on those that are set aside."""
    reasons = _reasons(corrections)
    return tuple(replace(one, set_aside=reasons.get(key_of(one), "")) for one in found)


def standing(found: Iterable[Judged]) -> tuple[Judged, ...]:
    """Give the findings that nobody has set aside."""
    return tuple(one for one in found if not one.set_aside)


def standing_class(heard: HeardClass) -> HeardClass:
    """Give the class without verdicts on lengths that are set aside."""
    return replace(
        heard,
        intervals=tuple(
            replace(one, timing=None) if one.set_aside else one for one in heard.intervals
        ),
    )


def standing_points(moves: Iterable[MoveFinding]) -> tuple[MoveFinding, ...]:
    """Give the moves without points that are set aside."""
    return tuple(
        replace(one, points=tuple(point for point in one.points if not point.set_aside))
        for one in moves
    )


def _reasons(corrections: Sequence[Correction]) -> dict[str, str]:
    return {
        one.finding: one.reason or "set aside" for one in corrections if isinstance(one, SetAside)
    }


# --- what a finding is called --------------------------------------------------------------


def key_of(found: Interval | Flag | TimeCall | Promise) -> str:
    """Give the key by which a finding is set aside; the same whenever the class is judged."""
    if isinstance(found, Interval):
        return f"length {found.id}"
    if isinstance(found, Flag):
        return f"{found.kind} {found.at_ms}"
    if isinstance(found, TimeCall):
        return f"time call {found.at_ms}"
    return f"promise {found.what} {found.at_ms}"


def key_of_point(move: str, point: str) -> str:
    """Give the key by which a point of a move is set aside."""
    return f"point {move}: {point}"
