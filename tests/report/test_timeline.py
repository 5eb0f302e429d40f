from __future__ import annotations

from dataclasses import replace

from reviewkit.report.timeline import timeline
from tests.report.sample import sample_review


def test_every_interval_is_a_group_with_its_figures() -> None:
    drawn = "".join(timeline(sample_review()))
    for interval in sample_review().heard.intervals:
        assert f'interval-{interval.id}"><title>' in drawn
    assert "planned 40 s, done 57 s (56 to 58), long +17 s." in drawn


def test_colours_are_the_pages() -> None:
    drawn = "".join(timeline(sample_review()))
    assert "var(--off-bar)" in drawn
    assert "#0" not in drawn.replace("url(#", "")
    assert "<metadata" not in drawn
    assert "xmlns" not in drawn


def test_a_long_class_takes_more_rows() -> None:
    review = sample_review()
    talk = replace(review.heard.talk, length_ms=65 * 60_000)
    rows = timeline(replace(review, heard=replace(review.heard, talk=talk)))
    assert len(rows) == 9
    assert "1:00:00" in rows[-1]


def test_a_recording_of_nothing_has_one_row() -> None:
    review = sample_review()
    talk = replace(review.heard.talk, words=(), length_ms=0)
    heard = replace(review.heard, talk=talk, intervals=(), marks=())
    findings = replace(review.findings, talk=(), time_calls=(), flags=())
    assert len(timeline(replace(review, heard=heard, findings=findings))) == 1
