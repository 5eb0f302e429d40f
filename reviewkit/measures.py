"""Count talk: words, lines and silence in stretches of a class.

Rates are per minute and ``None`` where there is no time to divide by. A word or line
belongs to the stretch in which it begins.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import get_args

from reviewkit.model import HeardClass, Interval, IntervalTalk, Label, Mark, Word
from reviewkit.times import MINUTE_MS, Span

LABELS: tuple[Label, ...] = get_args(Label)
# Labels that tell someone how to move; the others keep company or time.
CUE_LABELS: tuple[Label, ...] = ("form", "safety", "breathing", "option")
LINE = "line"


def span_of(interval: Interval) -> Span | None:
    """Give the stretch an interval took, None when it was skipped."""
    if interval.start is None or interval.end is None:
        return None
    start_ms = max(0, interval.start.at_ms)
    return Span(start_ms, interval.end.at_ms) if start_ms < interval.end.at_ms else None


def words_in(words: Sequence[Word], span: Span) -> Sequence[Word]:
    """Give the words that begin in a stretch; the words are in order of time."""
    return words_between(words, span.start_ms, span.end_ms)


def words_between(words: Sequence[Word], start_ms: int, end_ms: int) -> Sequence[Word]:
    """Give the words that begin from one moment to before another; they are in order of time."""
    first = bisect_left(words, start_ms, key=lambda word: word.start_ms)
    last = bisect_left(words, end_ms, key=lambda word: word.start_ms)
    return words[first:last]


def marks_in(marks: Sequence[Mark], spans: Iterable[Span]) -> list[Mark]:
    """Give the marks that begin in one of some stretches; the marks are in order of time."""
    places: set[int] = set()
    for span in spans:
        first = bisect_left(marks, span.start_ms, key=lambda mark: mark.start_ms)
        places.update(range(first, bisect_left(marks, span.end_ms, key=lambda mark: mark.start_ms)))
    return [marks[place] for place in sorted(places)]


def longest_silence_ms(words: Sequence[Word], span: Span) -> int:
    """Give the longest time without a word in a stretch, its edges included."""
    heard = [(max(span.start_ms, word.start_ms), word.end_ms) for word in words_in(words, span)]
    edges = [(span.start_ms, span.start_ms), *heard, (span.end_ms, span.end_ms)]
    return max(max(0, after[0] - before[1]) for before, after in pairwise(edges))


def per_minute(count: float, length_ms: int) -> float | None:
    """Give a rate per minute, None over no time."""
    return None if length_ms <= 0 else count * MINUTE_MS / length_ms


def share(part: float, whole: float) -> float | None:
    """Give a share from 0 to 1, None of nothing."""
    return None if whole <= 0 else part / whole


def line_marks(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """Give the marks that label whole lines, in order of time."""
    found = (mark for mark in marks if mark.ref == LINE and mark.kind in LABELS)
    return tuple(sorted(found, key=lambda mark: mark.start_ms))


def _talk(words: Sequence[Word], marks: Sequence[Mark], interval: Interval) -> IntervalTalk | None:
    span = span_of(interval)
    if span is None:
        return None
    inside = marks_in(marks, [span])
    counts = Counter(mark.kind for mark in inside)
    cues = len({mark.first for mark in inside if mark.kind in CUE_LABELS})
    return IntervalTalk(
        words=sum(not word.is_sound for word in words_in(words, span)),
        cues=cues,
        cues_per_min=per_minute(cues, span.length_ms),
        longest_silence_ms=longest_silence_ms(words, span),
        labels=tuple((label, counts[label]) for label in LABELS),
    )


def measure_talk(heard: HeardClass) -> tuple[IntervalTalk | None, ...]:
    """Measure the talk of every interval, in the order of ``heard.intervals``.

    A cue is a line that is form, safety, breathing or an option, counted once. Skipped
    intervals give None. The marks must hold those that label whole lines.
    """
    marks = line_marks(heard.marks)
    words = sorted(heard.talk.words, key=lambda word: word.start_ms)
    return tuple(_talk(words, marks, interval) for interval in heard.intervals)
