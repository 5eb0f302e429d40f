from __future__ import annotations

from itertools import pairwise
from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.language.matching import stem
from reviewkit.language.phrasebook import Hit, find_in_lines, find_phrases, make_phrasebook


def find(text: str, *phrases: str, longest: bool = True) -> list[tuple[str, str]]:
    words = text.split()
    book = make_phrasebook((phrase, phrase) for phrase in phrases)
    hits = find_phrases(words, book, longest=longest)
    return [(" ".join(words[hit.first : hit.last + 1]), hit.key) for hit in hits]


@pytest.mark.parametrize("text", ["a cup of tea", "without", "shoulder", ""])
def test_parts_of_words_are_no_hits(text: str) -> None:
    assert find(text, "up", "out", "should") == []


@pytest.mark.parametrize(
    "text", ["push-up", "push up", "pushup", "push-ups", "pushups", "push ups"]
)
@pytest.mark.parametrize("phrase", ["push-up", "push up", "pushups"])
def test_spellings_are_alike(text: str, phrase: str) -> None:
    assert find(f"some {text} now", phrase) == [(text, phrase)]


def test_a_phrase_may_end_at_a_hyphen() -> None:
    assert find("a single-arm row", "arm row") == [("single-arm row", "arm row")]


def test_the_longest_phrase_wins() -> None:
    phrases = ("squat", "jump squat", "squat to press")
    assert find("a jump squat to press", *phrases) == [("squat to press", "squat to press")]
    assert len(find("a jump squat to press", *phrases, longest=False)) == 3


def test_one_phrase_may_stand_for_several_keys() -> None:
    book = make_phrasebook([("core", "body"), ("core", "breath")])
    assert find_phrases(["core"], book) == (Hit(0, 0, "body"), Hit(0, 0, "breath"))


def test_a_looser_fold_brings_verb_forms_together() -> None:
    book = make_phrasebook([("squat", "squat")], fold=stem)
    assert find_phrases(["keep", "squatting"], book) == (Hit(1, 1, "squat"),)


def test_nothing_to_find_and_nowhere_to_look() -> None:
    assert find_phrases([], make_phrasebook([("a b", "x")])) == ()
    assert find_phrases(["a"], make_phrasebook([])) == ()
    assert find_phrases(["a"], make_phrasebook([("...", "x")])) == ()


WORD = st.sampled_from(["go", "and", "hold", "breathe", "low"])


@given(st.lists(WORD, max_size=12), st.lists(st.lists(WORD, min_size=1, max_size=3), max_size=6))
def test_all_hits_are_just_the_places_where_the_words_stand(
    words: list[str], phrases: list[list[str]]
) -> None:
    joined = {" ".join(phrase) for phrase in phrases}
    book = make_phrasebook((phrase, phrase) for phrase in joined)
    expected = {
        Hit(at, at + length - 1, " ".join(words[at : at + length]))
        for at in range(len(words))
        for length in (1, 2, 3)
        if at + length <= len(words) and " ".join(words[at : at + length]) in joined
    }
    assert set(find_phrases(words, book, longest=False)) == expected
    kept = find_phrases(words, book)
    assert set(kept) <= expected
    assert all(one.last < other.first for one, other in pairwise(kept))


@given(st.lists(st.lists(WORD, max_size=5), max_size=5))
def test_lines_are_searched_one_by_one(lines: list[list[str]]) -> None:
    book = make_phrasebook([("go and", "x"), ("hold", "y"), ("low go", "z")])
    assert find_in_lines(lines, book) == [find_phrases(words, book) for words in lines]


def test_thousands_of_phrases_are_found_in_a_long_class_at_once() -> None:
    words = [f"w{number % 700}" for number in range(5000)]
    book = make_phrasebook((f"w{n % 700} w{n % 701}", str(n % 9)) for n in range(5000))
    find_phrases(words, book)
    start = perf_counter()
    find_phrases(words, book)
    assert perf_counter() - start < 1.0
