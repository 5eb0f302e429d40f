"""Weigh whether an utterance with words of a point is meant to give it.

"My gran wore her brooch on her chest, big and proud" has the words of "chest proud", and
so has "is that a smudge on your chest". What tells is how the shared words are set
(whose chest, what comes before and after it), which kinds of words stand beside each
other, and the words themselves. The weights travel with the language
(``fitted/meant.csv``) and go on top of the odds that all else gives;
``tests/fit/fit_points.py`` fits them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import fsum

import numpy as np
from numpy.typing import NDArray

from reviewkit.frames.cue_words import BIAS, cue_features
from reviewkit.frames.terms import Term, TermBook, is_little, read_terms, term_book, words_of
from reviewkit.frames.utterances import Utterance
from reviewkit.language.word_classes import ClassTable, class_table, classes_of
from reviewkit.model import Lexicon, Weights

MEANT_WEIGHTS = "meant"
# The weight of the odds that all else gives.
ODDS = "odds"
# Stands for a word of no class, and for the line's edges.
_OTHER, _FIRST, _LAST = "x", "^", "$"
_MOST_SHARED, _MOST_GAP = 4, 6
# Below these log-odds no words would make a cue of it.
_LIKELY_FROM = -4.0


def likely(odds: NDArray[np.float64]) -> NDArray[np.intp]:
    """Give the places of the odds that are worth a look at the words: few utterances are."""
    return np.flatnonzero(odds > _LIKELY_FROM)


def weigh_meant(
    text: str,
    utterances: Sequence[Utterance],
    odds: NDArray[np.float64],
    lines: Sequence[float],
    lexicon: Lexicon,
) -> NDArray[np.float64]:
    """Give the log-odds that each utterance gives a point, with its words taken into account.

    Args:
        text: The point as it is asked for.
        utterances: What may give it.
        odds: Their log-odds by all else.
        lines: What ``weigh_line`` gives for each of them.
        lexicon: Its word lists and weights; without weights the odds stay as they are.
    """
    fitted = lexicon.weights.get(MEANT_WEIGHTS)
    if fitted is None or not len(odds):
        return odds
    (bias,), (own,) = fitted.rows[BIAS], fitted.rows[ODDS]
    asked = _Asked.of(text, lexicon)
    pairs = [_sum(_set_features(asked, one.words, lexicon), fitted) for one in utterances]
    meant: NDArray[np.float64] = own * odds + bias + np.array(pairs) + np.array(lines)
    return meant


def weigh_line(utterance: Utterance, lexicon: Lexicon) -> float:
    """Give what an utterance's words weigh, whatever the point is; 0 without weights."""
    fitted = lexicon.weights.get(MEANT_WEIGHTS)
    return _sum(line_features(utterance.words, lexicon), fitted) if fitted else 0.0


def line_features(words: Sequence[str], lexicon: Lexicon) -> frozenset[str]:
    """Give what is weighed of an utterance whatever the point is: words, classes, order."""
    table = class_table(lexicon)
    found = set(cue_features(words))
    classes = [classes_of(word, table) for word in words]
    found.update(name for names in classes for name in names)
    found.update(
        f"{one} {other}" for left, right in pairwise(classes) for one in left for other in right
    )
    kinds = _kinds(tuple(words), table)
    found.update(map("_".join, zip(kinds, kinds[1:], kinds[2:], strict=False)))
    return frozenset(found)


def pair_features(text: str, words: Sequence[str], lexicon: Lexicon) -> frozenset[str]:
    """Give how the terms that an utterance shares with a point are set in it."""
    return _set_features(_Asked.of(text, lexicon), words, lexicon)


@dataclass(frozen=True, slots=True)
class _Asked:
    """The terms of a point, and all their senses."""

    keys: frozenset[str]
    senses: frozenset[str]

    @classmethod
    def of(cls, text: str, lexicon: Lexicon) -> _Asked:
        terms = read_terms(words_of(text), term_book(lexicon))
        senses = frozenset[str]().union(*(term.senses for term in terms))
        return cls(frozenset(term.key for term in terms), senses)


def _set_features(asked: _Asked, words: Sequence[str], lexicon: Lexicon) -> frozenset[str]:
    book = term_book(lexicon)
    shared = [
        (term, "same" if term.key in asked.keys else "like")
        for term in read_terms(words, book)
        if term.key in asked.keys or not asked.senses.isdisjoint(term.senses)
    ]
    kinds = (_FIRST, _FIRST, *_kinds(tuple(words), class_table(lexicon)), _LAST, _LAST)
    found = {f"@shared {min(_MOST_SHARED, len(shared))}"}
    for term, how in shared:
        found.update(_around(term, how, kinds, book))
    for (one, _), (other, _) in pairwise(shared):
        found.add(f"@gap {min(_MOST_GAP, other.at - one.at - one.length)}")
    return frozenset(found)


def _around(term: Term, how: str, kinds: Sequence[str], book: TermBook) -> Iterator[str]:
    """Give what stands before and after a shared term; ``kinds`` has two edges on each side."""
    before, after = kinds[term.at : term.at + 2], kinds[term.at + term.length + 2 :][:2]
    what = "part" if term.senses & book.parts else "other"
    for name in (f"@{what}", f"@{how} {what}"):
        yield f"{name} after {before[1]}"
        yield f"{name} before {after[0]}"
        yield f"{name} after {before[0]} {before[1]}"
        yield f"{name} before {after[0]} {after[1]}"
        yield f"{name} between {before[1]} {after[0]}"


# One utterance is weighed for several points.
@lru_cache(maxsize=20_000)
def _kinds(words: tuple[str, ...], table: ClassTable) -> tuple[str, ...]:
    return tuple(_kind(word, table) for word in words)


def _kind(word: str, table: ClassTable) -> str:
    """Give a little word itself, and the class of any other."""
    return word if is_little(word) else next(iter(classes_of(word, table)), _OTHER)


def _sum(features: frozenset[str], fitted: Weights) -> float:
    # Exact sums: features come from a set, and their order must make no difference.
    rows = fitted.rows
    return fsum([rows[feature][0] for feature in rows.keys() & features])
