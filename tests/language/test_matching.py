from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.language.matching import (
    LIKELY,
    POSSIBLE,
    SURE,
    find_alike,
    fold_phrase,
    fold_words,
    similarity,
    singular,
    sound_key,
    stem,
)

WORDS = st.text(alphabet="abcdefghijklmnopqrstuvwxyz'", min_size=1, max_size=12)


@pytest.mark.parametrize(
    "word", ["press", "focus", "pelvis", "abs", "this", "its", "swing", "need"]
)
def test_words_that_are_no_plural_stay(word: str) -> None:
    assert singular(word) == word
    assert stem(word) == word


@pytest.mark.parametrize(
    ("word", "plain"),
    [
        ("squats", "squat"),
        ("lunges", "lunge"),
        ("presses", "press"),
        ("crunches", "crunch"),
        ("flies", "fly"),
        ("calves", "calf"),
        ("feet", "foot"),
        ("child's", "child"),
        ("child\u2019s", "child"),
        ("farmers'", "farmer"),
        ("knees", "knee"),
    ],
)
def test_plurals_and_possessives_fold(word: str, plain: str) -> None:
    assert singular(word) == plain


@pytest.mark.parametrize(
    ("word", "plain"),
    [
        ("squatting", "squat"),
        ("lunging", "lunge"),
        ("hinging", "hinge"),
        ("bridging", "bridge"),
        ("planking", "plank"),
        ("pressing", "press"),
        ("raising", "raise"),
        ("skating", "skate"),
        ("rotating", "rotate"),
        ("alternating", "alternate"),
        ("breathing", "breathe"),
        ("jumped", "jump"),
        ("tapped", "tap"),
        ("supported", "support"),
    ],
)
def test_other_endings_fold(word: str, plain: str) -> None:
    assert stem(word) == plain


def test_different_verbs_stay_apart() -> None:
    assert stem("hoped") != stem("hopped")
    assert stem("taped") != stem("tapped")


@given(WORDS)
def test_folding_twice_changes_nothing_more_for_plurals_of_plain_words(word: str) -> None:
    assert len(singular(word)) <= len(word) + 1
    assert isinstance(stem(word), str)


@pytest.mark.parametrize("text", ["push-up", "Push ups", "pushups", "push-ups!", "PUSHUP"])
def test_number_hyphens_and_joined_writing_make_no_difference(text: str) -> None:
    assert fold_phrase(text) == ("push", "up")


def test_folded_parts_know_the_word_they_came_from() -> None:
    assert fold_words(["some", "pushups", "now"]) == (
        ("some", 0),
        ("push", 1),
        ("up", 1),
        ("now", 2),
    )


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("plank", "blank"),
        ("squat", "squad"),
        ("knees", "niece"),
        ("row", "roe"),
        ("deadlift", "that lift"),
        ("skaters", "scatters"),
    ],
)
def test_sound_alikes_share_a_key(one: str, other: str) -> None:
    assert sound_key(one) == sound_key(other)
    assert similarity(one, other) >= LIKELY


@pytest.mark.parametrize(("one", "other"), [("plank", "blank"), ("squat", "squad")])
def test_usual_mishearings_are_sure(one: str, other: str) -> None:
    assert similarity(one, other) >= SURE


@pytest.mark.parametrize(("one", "other"), [("goblet", "goblin"), ("glute", "loot")])
def test_rarer_mishearings_are_possible(one: str, other: str) -> None:
    assert POSSIBLE <= similarity(one, other) < LIKELY


@pytest.mark.parametrize(("one", "other"), [("squat", "what"), ("plank", "swing"), ("row", "rye")])
def test_other_words_are_not_likely(one: str, other: str) -> None:
    assert similarity(one, other) < LIKELY


@given(WORDS, WORDS)
def test_similarity_is_a_share_and_goes_both_ways(one: str, other: str) -> None:
    assert 0.0 <= similarity(one, other) <= 1.0
    assert similarity(one, other) == pytest.approx(similarity(other, one))


def test_find_alike_agrees_with_similarity() -> None:
    heard, wanted = ["blank", "squad", "teapot", "trust her"], ["plank", "squat", "thruster"]
    found = find_alike(heard, wanted)
    assert set(found) == {"blank", "squad", "trust her"}
    for word, scores in found.items():
        for other, score in scores.items():
            assert score == pytest.approx(similarity(word, other), abs=1e-4)


def test_find_alike_of_nothing_is_nothing() -> None:
    assert find_alike([], ["plank"]) == {}
    assert find_alike(["plank"], []) == {}
