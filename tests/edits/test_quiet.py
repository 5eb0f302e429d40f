from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from reviewkit.edits.quiet import quiet_spans, without
from reviewkit.model import Talk, Word
from reviewkit.times import Span

stretches = st.lists(
    st.tuples(st.integers(-50, 150), st.integers(0, 60)).map(lambda pair: (pair[0], sum(pair)))
)


@given(taken=stretches)
def test_what_is_left_and_what_was_taken_make_the_whole(taken: list[tuple[int, int]]) -> None:
    left = without(Span(0, 100), taken)
    covered = {at for span in left for at in range(span.start_ms, span.end_ms)}
    gone = {at for start, end in taken for at in range(start, end)}
    assert covered == set(range(100)) - gone
    assert list(left) == sorted(left)


def talk_of(*words: Word) -> Talk:
    return Talk(words, "words", 0, 10_000)


def test_quiet_stays_clear_of_words_and_of_what_their_times_may_be_off() -> None:
    talk = talk_of(Word("go", "go", 1000, 1300, 50), Word("on", "on", 5000, 5400, 900))
    assert quiet_spans(talk, Span(0, 8000), pause_ms=300) == (
        Span(0, 700),
        Span(1600, 4100),
        Span(6300, 8000),
    )


def test_a_breath_is_talk() -> None:
    talk = talk_of(Word("(exhales)", "exhales", 2000, 2500, 0, is_sound=True))
    assert quiet_spans(talk, Span(1000, 4000), pause_ms=100) == (Span(1000, 1900), Span(2600, 4000))


def test_where_one_stamp_covers_many_words_nothing_is_known_to_be_quiet() -> None:
    assert quiet_spans(Talk((), "blocks", 0, 10_000), Span(0, 9000), pause_ms=0) == ()
