from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from reviewkit.edits import make_edits
from reviewkit.edits.once_cut import when_cut
from reviewkit.edits.running import timer
from reviewkit.model import TimeCall
from reviewkit.times import Span
from tests.edits.classes import review, said
from tests.edits.sample import sample_edits
from tests.findings.classes import Row

cuts = st.lists(st.integers(0, 1000), unique=True, max_size=10).map(
    lambda edges: [
        Span(one, other)
        for one, other in zip(sorted(edges)[::2], sorted(edges)[1::2], strict=False)
    ]
)


@given(spans=cuts, at_ms=st.integers(0, 1200))
def test_the_clock_of_the_cut_video_counts_what_stays(spans: list[Span], at_ms: int) -> None:
    stays = sum(not any(span.holds(moment) for span in spans) for moment in range(at_ms))
    assert when_cut(at_ms, spans) == stays


def test_all_layers_fit_the_cut_video() -> None:
    edits = sample_edits()
    assert edits.cut.length_ms == edits.filmed.length_ms - edits.cut_ms
    assert edits.cut.chapters[-1].span.end_ms == edits.cut.length_ms
    assert len(edits.cut.chapters) == len(edits.filmed.chapters)
    squat = next(one for one in edits.cut.stretches if one.name == "Bodyweight squat")
    (trim,) = [one for one in edits.trims if one.interval.move == "Bodyweight squat"]
    assert squat.span.length_ms == trim.result_ms


def test_talk_that_was_cut_out_is_no_longer_in_the_transcript() -> None:
    edits = sample_edits()
    gone = [cut.text for cut in edits.cuts if cut.text]
    assert gone
    lines = [" ".join(one.lines) for one in edits.cut.transcript]
    filmed = [" ".join(one.lines) for one in edits.filmed.transcript]
    for text in gone:
        assert filmed.count(text) == lines.count(text) + 1


def test_a_call_made_true_by_a_cut_needs_no_caption_any_more() -> None:
    words = said("ten left", 39)
    call = TimeCall(words[-1].end_ms, "ten left", "i1", 10_000, 30_250, "wrong")
    edits = make_edits(review([Row("Squat", 10, 60)], words=words, calls=(call,)))
    assert [one.shown.lines for one in edits.filmed.captions] == [("30 seconds left",)]
    assert edits.cut.captions == ()


def test_the_timer_counts_the_shorter_interval() -> None:
    edits = make_edits(review([Row("Squat", 10, 60)]))
    assert timer(edits.filmed.stretches)[0].lines[0] == "1:00"
    assert timer(edits.cut.stretches)[0].lines[0] == "0:40"


def test_without_cuts_both_are_the_same() -> None:
    edits = make_edits(review([Row("Squat", 10, 40)]))
    assert edits.cut == edits.filmed
