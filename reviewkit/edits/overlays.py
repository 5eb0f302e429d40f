"""Captions to show over the picture: points that were missing or late, and true time left."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from reviewkit.corrections import standing
from reviewkit.edits.caption_files import Shown, show
from reviewkit.edits.quiet import without
from reviewkit.edits.records import LineToRecord, Overlay
from reviewkit.measures import span_of
from reviewkit.model import Review
from reviewkit.report.wording import count, quote
from reviewkit.times import SECOND_MS, Span

# Most letters of a line, and how long a caption has to stay to be read.
LINE_CHARS = 42
_PER_CHAR_MS = 60
LEAST_SHOWN_MS, MOST_SHOWN_MS = 2_000, 7_000
# A caption that is shown for less than this is not worth the room.
_SQUEEZED_MS = 1_000
CALL_SHOWN_MS = 2_500


def wrap_text(text: str) -> list[str]:
    """Break a text into lines that fit on the screen."""
    return textwrap.wrap(text, LINE_CHARS, break_long_words=False) or [text]


def find_overlays(review: Review, lines: Sequence[LineToRecord]) -> tuple[Overlay, ...]:
    """Make the captions of a class, in order of time; no two are shown at once.

    Args:
        review: The class.
        lines: What was missing or late, in the order of importance in each interval.
    """
    shown = list(_true_calls(review))
    for interval, own in groupby(lines, key=lambda line: line.interval):
        whole = span_of(interval)
        if whole is not None:
            inside = [one for one in shown if whole.overlap_ms(one.shown.span)]
            others = [one for one in shown if one not in inside]
            shown = [*others, *_with_points(whole, list(own), inside)]
    return tuple(sorted(shown, key=lambda one: one.shown.span))


def say_left(left_s: int) -> str:
    """Write time left as a caption does: ``35 seconds left``."""
    return f"{count(left_s, 'second')} left"


def _true_calls(review: Review) -> Iterator[Overlay]:
    """Show the true time left from the first whole second after each wrong call."""
    ends = {one.id: one.end.at_ms for one in review.heard.intervals if one.end}
    free_ms = 0
    for call in standing(review.findings.time_calls):
        end_ms = ends.get(call.interval or "")
        if call.verdict != "wrong" or end_ms is None:
            continue
        left_s = (end_ms - max(call.at_ms, free_ms)) // SECOND_MS
        start_ms = end_ms - left_s * SECOND_MS
        if left_s >= 1 and start_ms >= 0:
            free_ms = min(start_ms + CALL_SHOWN_MS, end_ms)
            shown = show(Span(start_ms, free_ms), say_left(left_s))
            yield Overlay(shown, f"in place of {quote(call.text)}, which is not true")


def _with_points(
    whole: Span, lines: Sequence[LineToRecord], calls: Sequence[Overlay]
) -> list[Overlay]:
    """Show points one after the other from the start of an interval, beside what is there.

    Where there is no room left, they share the last caption.
    """
    made = list(calls)
    for line in lines:
        why = f"{line.move}: {quote(line.point)} was {'late' if line.is_late else 'missing'}"
        wanted_ms = min(MOST_SHOWN_MS, max(LEAST_SHOWN_MS, _PER_CHAR_MS * len(line.text)))
        busy = [(one.shown.span.start_ms, one.shown.span.end_ms) for one in made]
        place = _place(without(whole, busy), wanted_ms)
        if place is None and made:
            made[-1] = _joined(made[-1], line.text, why)
        else:
            made.append(Overlay(show(place or whole, *wrap_text(line.text)), why))
    return made


def _place(free: Sequence[Span], wanted_ms: int) -> Span | None:
    """Take the first free place that is long enough, else the longest that can be read."""
    fitting = next((one for one in free if one.length_ms >= wanted_ms), None)
    if fitting is not None:
        return Span(fitting.start_ms, fitting.start_ms + wanted_ms)
    longest = max(free, key=lambda one: one.length_ms, default=None)
    return longest if longest and longest.length_ms >= _SQUEEZED_MS else None


def _joined(overlay: Overlay, text: str, why: str) -> Overlay:
    lines: tuple[str, ...] = (*overlay.shown.lines, *wrap_text(text))
    return replace(overlay, shown=Shown(overlay.shown.span, lines), why=f"{overlay.why}; {why}")
