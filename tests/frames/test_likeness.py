import numpy as np

from reviewkit.frames.likeness import (
    Texts,
    Usual,
    best_per_text,
    make_texts,
    rarity,
    shares,
    split_texts,
    sums,
    telling,
    term_likeness,
    weigh_found,
)
from reviewkit.frames.terms import read_terms, term_book, words_of
from tests.lexicon import flat_lexicon

BOOK = term_book(flat_lexicon())


def texts(*given: str) -> Texts:
    return make_texts([read_terms(words_of(text), BOOK) for text in given])


def test_a_term_is_most_like_itself_and_unlike_other_parts() -> None:
    one = texts("knees wobble")
    likeness = term_likeness(one, one, BOOK)
    assert np.allclose(np.diag(likeness), 1)
    assert term_likeness(texts("knee"), texts("wrist"), BOOK)[0, 0] == 0


def test_words_for_the_same_part_are_alike() -> None:
    assert 0.38 < term_likeness(texts("bum"), texts("bottom"), BOOK)[0, 0] < 1


def test_a_text_without_terms_is_like_nothing() -> None:
    empty = texts("and the", "knees")
    assert sums(empty, np.ones(len(empty.keys))).tolist() == [1, 1]
    likeness = term_likeness(empty, empty, BOOK)
    assert best_per_text(likeness, empty)[0].max() == 0


def test_rare_terms_weigh_more() -> None:
    often, seldom = rarity(np.array([40, 1]), 40, np.array([0.0, 0.0]))
    assert often < seldom


def test_few_texts_leave_it_to_what_is_usual() -> None:
    often, seldom = rarity(np.array([1, 1]), 1, np.array([0.5, 0.0]))
    assert often < 0.5 < seldom


def test_a_term_itself_tells_more_than_its_kind() -> None:
    best = np.array([[1, 1], [0.7, 0], [0.7, 0], [0, 0]], dtype=np.float32)
    none = np.zeros(2)
    kind, own = telling([best[:3], best[3:]], Usual(none, none))
    assert kind[0] < own[0]
    assert np.allclose(weigh_found(best, kind, own)[0], own)


def test_texts_taken_a_few_at_a_time_are_the_same_texts() -> None:
    given = texts("knees over toes", "and the", "chest up", "brace", "soft knees tall chest")
    near = term_likeness(given, given, BOOK)
    parts = [best_per_text(near, some) for some in split_texts(given, 2)]
    assert [len(part) for part in parts] == [2, 2, 1]
    assert np.array_equal(np.concatenate(parts), best_per_text(near, given))
    assert [max(some.owners) for some in split_texts(given, 2)] == [1, 1, 0]


def test_shares_of_a_text_add_up_to_one() -> None:
    given = texts("knees over toes", "chest up")
    columns = shares(given, np.ones(len(given.keys))).sum(axis=0)
    assert np.allclose(columns, 1)
