"""Where things lie over time, for every drawing of a class."""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.model import Interval, Review, Word
from reviewkit.report.document import in_class_order
from reviewkit.times import Span

SPEECH_GAP_MS = 1_200
LONG_SILENCE_MS = 12_000


def class_end_ms(review: Review) -> int:
    """Give the moment by which everything has ended, skipped intervals too; at least 1."""
    ends = [one.end.high_ms for one in review.heard.intervals if one.end]
    skipped = [span.end_ms for span in skipped_places(review).values()]
    return max([review.heard.talk.length_ms, 1, *ends, *skipped])


def skipped_places(review: Review) -> dict[str, Span]:
    """Give skipped intervals the place they would have had, by id."""
    places: dict[str, Span] = {}
    at_ms = 0
    for interval, _ in in_class_order(review):
        if interval.end:
            end_ms = max(interval.end.at_ms, _planned_end_ms(interval))
            at_ms = end_ms + (interval.rest_after_ms or 0)
        elif interval.planned_ms:
            places[interval.id] = Span(at_ms, at_ms + interval.planned_ms)
            at_ms += interval.planned_ms
    return places


def _planned_end_ms(interval: Interval) -> int:
    return interval.start.at_ms + (interval.planned_ms or 0) if interval.start else 0


def planned_span(interval: Interval, places: dict[str, Span]) -> Span | None:
    """Lay the planned length at the moment the interval began; None when nobody planned it."""
    if not interval.planned_ms or interval.start is None:
        return places.get(interval.id)
    return Span(interval.start.at_ms, interval.start.at_ms + interval.planned_ms)


def actual_span(interval: Interval) -> Span | None:
    """Give the stretch an interval took, None when it was skipped."""
    if interval.start is None or interval.end is None:
        return None
    return Span(interval.start.at_ms, max(interval.end.at_ms, interval.start.at_ms + 1))


def speech_stretches(words: Sequence[Word]) -> list[tuple[int, int]]:
    """Join words without a pause: start and end of every stretch of speech, in order."""
    stretches: list[tuple[int, int]] = []
    for word in words:
        if stretches and word.start_ms - stretches[-1][1] < SPEECH_GAP_MS:
            stretches[-1] = (stretches[-1][0], max(word.end_ms, stretches[-1][1]))
        else:
            stretches.append((word.start_ms, word.end_ms))
    return stretches
