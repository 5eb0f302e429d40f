import pytest

from reviewkit.frames.terms import fold, is_little, read_terms, term_book, words_of
from tests.lexicon import flat_lexicon

BOOK = term_book(flat_lexicon())


@pytest.mark.parametrize("text", ["and the", "", "you're going to", "12 3"])
def test_little_words_are_no_terms(text: str) -> None:
    assert read_terms(words_of(text), BOOK) == ()


def test_a_phrase_is_found_beside_its_words() -> None:
    terms = read_terms(words_of("press the small of your back down"), BOOK)
    assert ("low-back" in term.senses for term in terms)
    assert {term.length for term in terms} >= {1, 4}


@pytest.mark.parametrize(
    ("word", "sense"),
    [("bum", "hips"), ("tummy", "core"), ("hammock", "sag"), ("kneecaps", "knee")],
)
def test_coaches_words_have_senses(word: str, sense: str) -> None:
    (term,) = read_terms([word], BOOK)
    assert sense in term.senses


def test_an_unknown_word_is_a_term_without_senses() -> None:
    (term,) = read_terms(["zarzuela"], BOOK)
    assert term.senses == frozenset()
    assert not is_little("zarzuela")


def test_endings_are_folded() -> None:
    assert fold("slowly") == fold("slow")
    assert fold("squeezing") == fold("squeezed")
