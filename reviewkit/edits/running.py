"""How the class ran: its intervals and rests in order, as chapters and as a timer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reviewkit.edits.caption_files import Shown, show
from reviewkit.edits.records import Stretch
from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.model import Interval, Review
from reviewkit.report.wording import clean, say_side
from reviewkit.times import SECOND_MS, Span, format_clock

OPENING = "Introduction"


def find_stretches(review: Review) -> tuple[Stretch, ...]:
    """Give the intervals that happened and the rests between them, in order of time.

    An interval ends where the next one begins, where the one was heard to run into the
    other.
    """
    done = done_intervals(review.heard)
    repeating = {one.block for one in review.heard.intervals if one.round > 1}
    found: list[Stretch] = []
    for place, interval in enumerate(done):
        after = done[place + 1] if place + 1 < len(done) else None
        first, last = max(0, start_ms(interval)), end_ms(interval)
        next_ms = last if after is None else start_ms(after)
        if first < min(last, next_ms):
            part, name = _part(interval, repeating), _name(interval)
            found.append(Stretch(Span(first, min(last, next_ms)), part, name))
        if after is not None and max(first, last) < next_ms:
            found.append(Stretch(Span(max(first, last), next_ms), next_name=_name(after)))
    return tuple(found)


def chapters(stretches: Sequence[Stretch], length_ms: int) -> tuple[Shown, ...]:
    """Make a chapter of each interval with the rest after it, and one of what comes before."""
    work = [one for one in stretches if not one.is_rest]
    if not work:
        return ()
    has_parts = len({one.part for one in work}) > 1
    starts = [one.span.start_ms for one in work]
    ends = [*starts[1:], max(length_ms, work[-1].span.end_ms)]
    named = [
        show(Span(start, end), f"{one.part}: {one.name}" if has_parts else one.name)
        for one, start, end in zip(work, starts, ends, strict=True)
    ]
    return (*((show(Span(0, starts[0]), OPENING),) if starts[0] else ()), *named)


def stamped_list(made: Sequence[Shown]) -> str:
    """List chapters with their stamps, one a line, for the description of a video.

    Stamps are cut to the second; where two would be the same, the later one counts.
    """
    stamps = {format_clock(one.span.start_ms): " ".join(one.lines) for one in made}
    return "".join(f"{stamp} {title}\n" for stamp, title in stamps.items())


def timer(stretches: Sequence[Stretch]) -> tuple[Shown, ...]:
    """Count every interval and rest down to its end, a caption a second."""
    return tuple(shown for stretch in stretches for shown in _ticks(stretch))


def _ticks(stretch: Stretch) -> Iterator[Shown]:
    at_ms, end_ms = stretch.span.start_ms, stretch.span.end_ms
    while at_ms < end_ms:
        # Seconds change where they do before the end: the last one is always whole.
        left_s = -((at_ms - end_ms) // SECOND_MS)
        next_ms = end_ms - (left_s - 1) * SECOND_MS
        clock = format_clock(left_s * SECOND_MS)
        if stretch.is_rest:
            yield show(Span(at_ms, next_ms), f"Rest {clock}", f"Next: {stretch.next_name}")
        else:
            yield show(Span(at_ms, next_ms), clock, stretch.name)
        at_ms = next_ms


def _part(interval: Interval, repeating: set[str]) -> str:
    if interval.block in repeating:
        return clean(f"{interval.block}, round {interval.round}")
    return clean(interval.block)


def _name(interval: Interval) -> str:
    """Name what was done, with its side; a line of nothing would be no caption."""
    return clean(f"{interval.move_done}{say_side(interval)}") or "Interval"
