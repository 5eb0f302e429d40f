from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from reviewkit.edits.overlays import LINE_CHARS
from reviewkit.edits.records import Renamed
from reviewkit.edits.transcript import MOST_LINES, MOST_MS, transcript_captions
from reviewkit.model import Talk
from tests.talking import talk

words = st.lists(
    st.sampled_from(["press", "and", "hold", "knees.", "[0.5]", "[3]", "shoulders", "a", "ten"]),
    max_size=60,
)


@given(said=words)
def test_every_word_is_shown_once_in_captions_that_can_be_read(said: list[str]) -> None:
    shown = transcript_captions(talk(" ".join(said)), ())
    assert " ".join(line for one in shown for line in one.lines).split() == [
        word for word in said if not word.startswith("[")
    ]
    for one in shown:
        assert len(one.lines) <= MOST_LINES
        assert all(len(line) <= LINE_CHARS for line in one.lines)
        assert one.span.length_ms <= MOST_MS
    for before, after in pairwise(shown):
        assert before.span.end_ms <= after.span.start_ms


def test_a_caption_begins_and_ends_with_its_words() -> None:
    (one,) = transcript_captions(talk("knees follow the toes", start_ms=1000), ())
    assert (one.span.start_ms, one.span.end_ms) == (1000, 2550)


def test_names_are_put_right() -> None:
    change = Renamed(1, 2, 400, "thrust her", "thruster", "Thruster", "")
    (one,) = transcript_captions(talk("next thrust her again"), (change,))
    assert one.lines == ("next thruster again",)


def test_a_class_without_words_has_no_captions() -> None:
    assert transcript_captions(Talk((), "words", 0, 1000), ()) == ()
