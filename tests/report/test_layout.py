from __future__ import annotations

from dataclasses import replace

from reviewkit.model import Word
from reviewkit.report.layout import (
    actual_span,
    class_end_ms,
    planned_span,
    skipped_places,
    speech_stretches,
)
from reviewkit.times import Span
from tests.report.sample import sample_review


def test_words_without_a_pause_are_one_stretch() -> None:
    times = ((0, 300), (400, 700), (1_900, 2_000), (3_100, 3_300))
    words = [Word("go", "go", start, end, 50) for start, end in times]
    assert speech_stretches(words) == [(0, 700), (1_900, 3_300)]
    assert speech_stretches([]) == []


def test_planned_lengths_lie_where_the_interval_began() -> None:
    squat = sample_review().heard.intervals[1]
    assert planned_span(squat, {}) == Span(100_600, 140_600)
    assert actual_span(squat) == Span(100_600, 157_900)
    assert planned_span(replace(squat, planned_ms=None), {}) is None


def test_a_skipped_interval_lies_behind_the_one_before_it_and_inside_the_class() -> None:
    review = sample_review()
    skipped = review.heard.intervals[-1]
    places = skipped_places(review)
    assert list(places) == [skipped.id]
    assert places[skipped.id].start_ms >= 731_000
    assert planned_span(skipped, places) == places[skipped.id]
    assert actual_span(skipped) is None
    assert class_end_ms(review) >= places[skipped.id].end_ms


def test_a_recording_without_anything_has_a_length() -> None:
    sample = sample_review()
    nothing = replace(
        sample.heard, intervals=(), talk=replace(sample.heard.talk, words=(), length_ms=0)
    )
    empty = replace(sample, heard=nothing, findings=replace(sample.findings, talk=()))
    assert class_end_ms(empty) == 1
