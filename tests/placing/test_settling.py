"""Silences under one stamp: drawn to edges, and nothing else changes."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from reviewkit.model import Bridge, EdgeEvidence, Mark, Moment, Talk, Word
from reviewkit.placing.settling import edges_on_clock, on_clock, settle_silences
from reviewkit.read import read_lexicon
from reviewkit.read.transcript import parse_transcript
from reviewkit.review import hear_class
from tests.corpus import FIXTURES, load_class
from tests.forms import FORMS, render

SILENCE_MS = 1000


def talk_of(takes_ms: list[int], silences_ms: list[int]) -> Talk:
    """Make one bridge of words that take, and are followed by, so many milliseconds."""
    words, at = [], 0
    for take, silence in zip(takes_ms, silences_ms, strict=True):
        words.append(Word("word", "word", at, at + take, 500))
        at += take + silence
    bridge = Bridge(0, len(words) - 1, 0, at)
    return Talk(tuple(words), "blocks", 500, at, (bridge,))


def starts(talk: Talk) -> list[int]:
    return [word.start_ms for word in talk.words]


def test_where_no_edge_is_known_nothing_moves() -> None:
    talk = talk_of([300] * 6, [SILENCE_MS] * 6)
    assert settle_silences(talk, [0.0] * 7) == talk


def test_silence_is_drawn_to_where_an_edge_is() -> None:
    talk = talk_of([300] * 6, [SILENCE_MS] * 6)
    settled = settle_silences(talk, [0, 0, 0, 1, 0, 0, 0])
    before, after = settled.words[2:4]
    assert after.start_ms - before.end_ms > 2 * SILENCE_MS
    assert settled.words[1].start_ms < talk.words[1].start_ms


def test_an_edge_at_the_next_stamp_draws_silence_to_the_end() -> None:
    talk = talk_of([300] * 6, [SILENCE_MS] * 6)
    settled = settle_silences(talk, [0, 0, 0, 0, 0, 0, 1])
    assert settled.words[-1].end_ms < talk.words[-1].end_ms


def test_talk_without_silence_stays() -> None:
    talk = talk_of([300] * 6, [0] * 6)
    assert settle_silences(talk, [0, 0, 0, 1, 0, 0, 0]) == talk


def test_evidence_of_edges_moves_with_its_words_and_says_the_same() -> None:
    talk = talk_of([300] * 6, [SILENCE_MS] * 6)
    moments = [Moment(word.start_ms, at, 500, at - 3.0, 0.5) for at, word in enumerate(talk.words)]
    at_the_end = Moment(talk.words[-1].end_ms, 6, 500, -3.0, 2.0)
    edges = EdgeEvidence((*moments, at_the_end), (0.1,) * 6)
    settled = settle_silences(talk, [0, 0, 0, 1, 0, 0, 0])
    moved = edges_on_clock(edges, talk, settled)
    assert [one.at_ms for one in moved.moments[:-1]] == starts(settled)
    assert moved.moments[-1].at_ms - at_the_end.at_ms == starts(settled)[-1] - starts(talk)[-1]
    assert [(one.start, one.end) for one in moved.moments] == [
        (one.start, one.end) for one in edges.moments
    ]


def test_moments_in_a_silence_stay_in_it_and_in_order() -> None:
    """Captions have silences of their own beside a stretch under one stamp."""
    talk = talk_of([300] * 6, [SILENCE_MS] * 6)
    moments = [
        Moment(at_ms, at, 500, 0.0, 0.0)
        for at, word in enumerate(talk.words)
        for at_ms in (word.start_ms - 700, word.start_ms)
    ][1:]
    settled = settle_silences(talk, [0, 0, 0, 1, 0, 0, 0])
    moved = edges_on_clock(EdgeEvidence(tuple(moments), (0.0,) * 6), talk, settled).moments
    assert [one.at_ms for one in moved] == sorted(one.at_ms for one in moved)
    for one in moved:
        earliest = settled.words[one.word - 1].end_ms if one.word else 0
        assert earliest <= one.at_ms <= settled.words[one.word].start_ms


def test_words_with_times_of_their_own_stay() -> None:
    words = (Word("rest", "rest", 5000, 5300, 50), Word("go", "go", 9000, 9300, 50))
    talk = Talk(words, "words", 50, 10_000)
    assert settle_silences(talk, [1.0, 1.0, 1.0]) == talk


@given(
    st.lists(
        st.tuples(st.integers(50, 900), st.integers(0, 4000), st.floats(0, 1)),
        min_size=1,
        max_size=40,
    )
)
def test_words_keep_their_order_their_lengths_and_their_place_between_stamps(
    gaps: list[tuple[int, int, float]],
) -> None:
    talk = talk_of([take for take, _, _ in gaps], [silence for _, silence, _ in gaps])
    chances = [0.0, *(chance for _, _, chance in gaps)]
    settled = settle_silences(talk, chances)
    bridge = talk.bridges[0]
    assert starts(settled)[0] == bridge.start_ms
    assert settled.words[-1].end_ms <= bridge.end_ms + 1
    for old, new in zip(talk.words, settled.words, strict=True):
        assert new.end_ms - new.start_ms == old.end_ms - old.start_ms
    for one, after in pairwise(settled.words):
        assert after.start_ms >= one.end_ms - 1


def test_marks_get_the_times_of_their_words() -> None:
    talk = talk_of([300] * 4, [SILENCE_MS] * 4)
    mark = Mark("count", 1, 2, 0, 0, "word word", "down", 2.0)
    (timed,) = on_clock([mark], talk)
    assert (timed.start_ms, timed.end_ms) == (talk.words[1].start_ms, talk.words[2].end_ms)
    assert (timed.kind, timed.text, timed.value) == (mark.kind, mark.text, mark.value)


def test_every_mark_has_the_times_of_its_words() -> None:
    labelled = load_class(FIXTURES / "harbour-evening")
    transcript = parse_transcript(FORMS["blocks"].file_name, render(labelled, "blocks").encode())
    heard = hear_class(transcript, labelled.plan, read_lexicon())
    assert on_clock(heard.marks, heard.talk) == heard.marks
