from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.frames.spoken import BY_CHANCE, GIVES, SPOKEN_WEIGHTS, spoken_terms, weigh_spoken
from reviewkit.frames.terms import term_book
from reviewkit.model import Weights
from reviewkit.read import read_lexicon
from tests.frames.test_cue_words import utterance

LEXICON = read_lexicon()
POINTS = ("land quietly", "knees out", "chest tall", "slow on the way down")
SAID = (
    "like a cat on a carpet",
    "push them apart past your little toes those knees",
    "proud and grow an inch show me your shirt",
    "no rush take your time and fight gravity",
)


def test_each_line_goes_best_with_the_point_it_gives() -> None:
    odds = weigh_spoken([utterance(one) for one in SAID], POINTS, LEXICON)
    assert odds.argmax(axis=1).tolist() == [0, 1, 2, 3]


def test_no_words_and_no_table_tell_nothing() -> None:
    assert not weigh_spoken([utterance(""), utterance("and the")], POINTS, LEXICON).any()
    bare = replace(LEXICON, weights={})
    assert not weigh_spoken([utterance(SAID[0])], POINTS, bare).any()


def test_odds_are_averaged_over_the_terms_of_the_point() -> None:
    """Written out by hand for a table of one pair and a point of two terms."""
    rows: dict[str, tuple[float, ...]] = {"zig": (-1.0,), f"zig{GIVES}zag": (2.0,)}
    lexicon = replace(LEXICON, weights={SPOKEN_WEIGHTS: Weights(("odds",), rows)})
    ((odds,),) = weigh_spoken([utterance("zag zog")], ["zig zug"], lexicon)
    pair, lone = (np.exp(2) + 1) / 2, (np.exp(-1) + 1) / 2
    wanted = sum(np.log((BY_CHANCE + one) / (BY_CHANCE + 1)) for one in (pair, lone))
    assert odds == pytest.approx(wanted, rel=1e-5)


@given(st.permutations(SAID[1].split()))
def test_the_order_of_plain_words_makes_no_difference(words: list[str]) -> None:
    """Set phrases depend on order; words that are in none do not."""
    book = term_book(LEXICON)
    plain = [word for word in words if word in ("push", "knees", "toes")]
    once, again = (
        weigh_spoken([utterance(" ".join(one))], POINTS, LEXICON) for one in (plain, sorted(plain))
    )
    assert once == pytest.approx(again, abs=1e-4)
    assert set(spoken_terms(plain, book)) == set(spoken_terms(sorted(plain), book))
