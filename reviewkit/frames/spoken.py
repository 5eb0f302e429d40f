"""Weigh how well an utterance's words go with those of a point, as coaches have said it.

Plans say "land quietly" and coaches say "like a cat". The table ``fitted/spoken.csv``
holds, for terms and senses of written points, which terms are heard more often than
elsewhere when such a point is given; a pair that it lacks is the rarer, the better the
written term is known. ``tests/fit/fit_points.py`` fits it.

Source: the first translation model of P. Brown et al. (1993), Computational Linguistics
19(2), 263-311, here as odds against the words of all cues.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewkit.frames.likeness import make_texts, sum_per_text
from reviewkit.frames.terms import Term, TermBook, read_terms, term_book, words_of
from reviewkit.frames.utterances import Utterance
from reviewkit.model import Lexicon, Weights
from reviewkit.once import once

SPOKEN_WEIGHTS = "spoken"
# Stands between a written term and a heard one in the table's features.
GIVES = " > "
# Marks a sense, so that it is not taken for the word of the same name.
_SENSE = "@"
# How much of every heard word is laid to chance rather than to the point.
BY_CHANCE = 0.3

_Odds = dict[str, dict[str, float]]


def spoken_terms(words: Sequence[str], book: TermBook) -> tuple[str, ...]:
    """Give the terms of a text and their senses, each once, in order."""
    return tuple(term.key for term in _spread(read_terms(words, book)))


def weigh_spoken(
    utterances: Sequence[Utterance], texts: Sequence[str], lexicon: Lexicon
) -> NDArray[Any]:
    """Give the log-odds that an utterance's words were said for a text, not for another.

    Returns:
        Utterances by texts; zeros without weights.
    """
    fitted, book = lexicon.weights.get(SPOKEN_WEIGHTS), term_book(lexicon)
    if fitted is None:
        return np.zeros((len(utterances), len(texts)))
    heard = make_texts([_spread(read_terms(one.words, book)) for one in utterances])
    place = {key: number for number, key in enumerate(heard.keys)}
    odds = np.zeros((len(place), len(texts)))
    asked = [spoken_terms(words_of(text), book) for text in texts]
    known = {term: _Known.of(term, place, fitted) for term in set(chain(*asked))}
    for column, terms in enumerate(asked):
        odds[:, column] = _odds_of_terms([known[term] for term in terms], len(place))
    odds[[number for key, number in place.items() if not key]] = 0
    return np.asarray(sum_per_text(odds, heard))


def _spread(terms: Sequence[Term]) -> tuple[Term, ...]:
    """Lay a text's terms out with their senses as terms of their own."""
    spread = {one.key: one for term in terms for one in _with_senses(term.key, term.senses)}
    return tuple(spread.values())


@lru_cache(maxsize=20_000)
def _with_senses(key: str, senses: frozenset[str]) -> tuple[Term, ...]:
    """Give a term and its senses as terms that stand nowhere in particular."""
    keys = (key, *(_SENSE + sense for sense in sorted(senses)))
    return tuple(Term(0, 0, one, frozenset()) for one in keys)


@dataclass(frozen=True, slots=True, eq=False)
class _Known:
    """What the table knows of a term asked for: the odds of any term being heard with it, and
    by how much they are other for the terms at some places."""

    usual: float
    places: NDArray[np.intp]
    more: NDArray[np.float64]

    @classmethod
    def of(cls, term: str, place: dict[str, int], fitted: Weights) -> _Known:
        (log_usual,) = fitted.rows.get(term, (0.0,))
        usual, pairs = float(np.exp(log_usual)), _by_asked(fitted).get(term, {})
        heard = list(place.keys() & pairs.keys())
        return cls(
            usual,
            np.array([place[one] for one in heard], dtype=np.intp),
            np.exp([pairs[one] for one in heard]) - usual,
        )


def _odds_of_terms(asked: Sequence[_Known], heard: int) -> NDArray[np.float64]:
    """Give the log-odds of so many heard terms, their odds averaged over the terms asked for."""
    if not asked:
        return np.zeros(heard)
    total = np.zeros(heard)
    for term in asked:
        total += term.usual
        total[term.places] += term.more
    odds_of: NDArray[np.float64] = np.log((BY_CHANCE + total / len(asked)) / (BY_CHANCE + 1))
    return odds_of


@once
def _by_asked(fitted: Weights) -> _Odds:
    """Index the table by the written term."""
    pairs: _Odds = {}
    for feature, (odds,) in fitted.rows.items():
        asked, gives, heard = feature.partition(GIVES)
        if gives:
            pairs.setdefault(asked, {})[heard] = odds
    return pairs
