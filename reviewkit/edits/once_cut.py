"""What goes with the video once all cuts are made: the same layers on its shorter clock."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from reviewkit.edits.caption_files import Shown
from reviewkit.edits.cuts import is_wrong
from reviewkit.edits.overlays import find_overlays
from reviewkit.edits.records import Cut, Layers, LineToRecord, Stretch
from reviewkit.edits.running import chapters
from reviewkit.model import Edge, Interval, Review, TimeCall
from reviewkit.times import Span


def once_cut(
    review: Review, filmed: Layers, lines: Sequence[LineToRecord], cuts: Sequence[Cut]
) -> Layers:
    """Move everything to where it is when the cuts are made; what was cut out is gone.

    Time calls are held anew against the time that is left, so that those made true by a
    cut get no caption.
    """
    spans = [cut.span for cut in cuts]
    stretches = tuple(_stretches(filmed.stretches, spans))
    length_ms = when_cut(filmed.length_ms, spans)
    moved = _review(review, spans)
    intervals = {one.id: one for one in moved.heard.intervals}
    moved_lines = [replace(line, interval=intervals[line.interval.id]) for line in lines]
    return Layers(
        length_ms,
        find_overlays(moved, moved_lines),
        chapters(stretches, length_ms),
        stretches,
        tuple(_shown(filmed.transcript, spans)),
    )


def when_cut(at_ms: int, cuts: Iterable[Span]) -> int:
    """Give a moment on the clock of the cut video; one inside a cut is where the cut was."""
    gone = (min(at_ms, cut.end_ms) - cut.start_ms for cut in cuts if cut.start_ms < at_ms)
    return at_ms - sum(gone)


def _span(span: Span, cuts: Sequence[Span]) -> Span | None:
    start_ms, end_ms = when_cut(span.start_ms, cuts), when_cut(span.end_ms, cuts)
    return Span(start_ms, end_ms) if start_ms < end_ms else None


def _stretches(stretches: Iterable[Stretch], cuts: Sequence[Span]) -> Iterator[Stretch]:
    for one in stretches:
        if span := _span(one.span, cuts):
            yield replace(one, span=span)


def _shown(captions: Iterable[Shown], cuts: Sequence[Span]) -> Iterator[Shown]:
    for one in captions:
        if span := _span(one.span, cuts):
            yield Shown(span, one.lines)


def _review(review: Review, cuts: Sequence[Span]) -> Review:
    """Move intervals and time calls, and judge anew the calls that were wrong."""
    intervals = tuple(_interval(one, cuts) for one in review.heard.intervals)
    ends = {one.id: one.end.at_ms for one in intervals if one.end}
    calls = tuple(_call(one, ends, cuts) for one in review.findings.time_calls)
    return replace(
        review,
        heard=replace(review.heard, intervals=intervals),
        findings=replace(review.findings, time_calls=calls),
    )


def _interval(interval: Interval, cuts: Sequence[Span]) -> Interval:
    return replace(interval, start=_edge(interval.start, cuts), end=_edge(interval.end, cuts))


def _edge(edge: Edge | None, cuts: Sequence[Span]) -> Edge | None:
    return edge and Edge(
        when_cut(edge.at_ms, cuts), when_cut(edge.low_ms, cuts), when_cut(edge.high_ms, cuts)
    )


def _call(call: TimeCall, ends: dict[str, int], cuts: Sequence[Span]) -> TimeCall:
    at_ms = when_cut(call.at_ms, cuts)
    end_ms = ends.get(call.interval or "")
    if call.verdict != "wrong" or end_ms is None:
        return replace(call, at_ms=at_ms)
    left_ms = max(0, end_ms - at_ms)
    return replace(
        call,
        at_ms=at_ms,
        actual_left_ms=left_ms,
        verdict="wrong" if is_wrong(call.claimed_left_ms, left_ms) else "right",
    )
