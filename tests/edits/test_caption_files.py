from __future__ import annotations

import io
from html import unescape
from itertools import pairwise

import pysubs2
import webvtt
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.edits.caption_files import Shown, one_after_another, show, srt, vtt
from reviewkit.read.vtt import parse_vtt
from reviewkit.times import Span

letters = st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=30)


@st.composite
def captions(draw: st.DrawFn) -> list[Shown]:
    """Draw captions one after the other, up to five hours, of any text that leaves a line."""
    made, at_ms = [], 0
    for text in draw(st.lists(st.lists(letters, min_size=1, max_size=2), max_size=6)):
        start_ms = at_ms + draw(st.integers(0, 3_600_000))
        at_ms = start_ms + draw(st.integers(1, 10_000))
        shown = show(Span(start_ms, at_ms), *text)
        if shown.lines:
            made.append(shown)
    return made


@given(made=captions())
def test_webvtt_is_read_back_to_the_millisecond_by_two_parsers(made: list[Shown]) -> None:
    spans = [(one.span.start_ms, one.span.end_ms) for one in made]
    theirs = webvtt.from_buffer(io.StringIO(vtt(made))).captions
    assert [(clock_ms(one.start), clock_ms(one.end)) for one in theirs] == spans
    ours, warnings = parse_vtt(vtt(made), "a.vtt")
    assert [(one.start_ms, one.end_ms) for one in ours] == spans
    assert [unescape(one.text) for one in ours] == ["\n".join(one.lines) for one in made]
    assert warnings == ()


def clock_ms(text: str) -> int:
    hours, minutes, seconds = text.split(":")
    return 3_600_000 * int(hours) + 60_000 * int(minutes) + int(seconds.replace(".", ""))


@given(made=captions())
def test_srt_is_read_back_to_the_millisecond_by_an_independent_parser(made: list[Shown]) -> None:
    theirs = pysubs2.SSAFile.from_string(srt(made), format_="srt")
    assert [(one.start, one.end) for one in theirs] == [
        (one.span.start_ms, one.span.end_ms) for one in made
    ]


def test_words_are_the_same_in_both() -> None:
    made = [show(Span(1000, 2500), "knees & toes", "half  left"), show(Span(3000, 4000), "go")]
    in_vtt = [one.text for one in webvtt.from_buffer(io.StringIO(vtt(made))).captions]
    in_srt = [one.plaintext for one in pysubs2.SSAFile.from_string(srt(made), format_="srt")]
    assert in_srt == ["knees & toes\nhalf left", "go"]
    assert [text.replace("&amp;", "&") for text in in_vtt] == in_srt


def test_words_from_outside_are_no_markup_and_no_times() -> None:
    made = [show(Span(0, 1000), "<b>bold</b> 00:00 --> 00:09", "\u202e\x1b")]
    assert "<b>" not in vtt(made)
    assert vtt(made).count("-->") == 1
    assert srt(made).count("-->") == 1
    assert "<b>" not in srt(made)
    assert made[0].lines == ("<b>bold</b> 00:00 --> 00:09",)


def test_no_captions_are_a_file_all_the_same() -> None:
    assert (vtt([]), srt([])) == ("WEBVTT\n", "")


@given(spans=st.lists(st.tuples(st.integers(0, 500), st.integers(1, 300)), max_size=8))
def test_captions_put_one_after_another_keep_their_starts(spans: list[tuple[int, int]]) -> None:
    made = [Shown(Span(start, start + length), ("go",)) for start, length in spans]
    apart = one_after_another(made)
    assert {one.span.start_ms for one in apart} == {start for start, _ in spans}
    for before, after in pairwise(apart):
        assert before.span.end_ms <= after.span.start_ms
