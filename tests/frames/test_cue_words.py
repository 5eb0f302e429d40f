from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.frames.cue_words import CUE_WEIGHTS, OUTPUTS, cue_features, weigh_cues, weigh_turns
from reviewkit.frames.utterances import Utterance
from reviewkit.model import Lexicon, Line
from reviewkit.read import read_lexicon

GIVES, COACHES = map(OUTPUTS.index, ("gives", "coaches"))
LEXICON = read_lexicon()
WORDS = ("knees", "out", "push", "the", "your", "heels", "down")


def utterance(text: str) -> Utterance:
    words = text.split()
    return Utterance(Line(0, len(words) - 1, 0, 1_000, text), tuple(words))


def test_a_story_with_the_words_of_a_cue_sounds_less_like_one() -> None:
    for story, cue in (
        ("my nan kept her elbows in her ribs on the bus", "keep your elbows in to your ribs"),
        ("he had his knees out through the gate", "press your knees out over your toes"),
        ("i glued the heel back on in the car", "glue your heels to the floor"),
    ):
        told, asked = weigh_cues([utterance(story), utterance(cue)], LEXICON)
        assert told[GIVES] < asked[GIVES]
        assert told[COACHES] < asked[COACHES]


def test_without_a_fitted_table_nothing_tells() -> None:
    bare = replace(LEXICON, weights={})
    assert not weigh_cues([utterance("chest up")], bare).any()
    assert weigh_cues([], LEXICON).shape == (0, len(OUTPUTS))


def test_the_bundled_table_has_its_outputs() -> None:
    assert LEXICON.weights[CUE_WEIGHTS].outputs == OUTPUTS


@given(st.lists(st.sampled_from(WORDS), max_size=12))
def test_saying_all_of_it_again_adds_no_word(words: list[str]) -> None:
    once, twice = cue_features(words), cue_features([*words, *words])
    assert len(set(once)) == len(once)
    assert {one for one in twice if " " not in one} == {one for one in once if " " not in one}


@pytest.mark.parametrize(
    "again",
    [
        "this time let those elbows fly right out to the sides",
        "now let the knees go well past the toes as far as they'll go",
        "this time i want you to let your back go round",
    ],
)
def test_going_back_on_something_outweighs_asking_for_it(again: str) -> None:
    asked = ["keep your elbows in by your ribs", "three two one and rest", "lovely work there"]
    odds = weigh_turns([utterance(again), *map(utterance, asked)], LEXICON)
    assert odds[0] > max(odds[1:])
    assert odds[0] > 0


def test_without_weights_nothing_goes_back_on_anything() -> None:
    bare = Lexicon((), (), {})
    assert not weigh_turns([utterance("this time let them go out")], bare).any()
