"""Say how much of one text is in another, in whatever words.

Two terms are alike when they are the same, or by the senses they share: a sense that few
words have tells more than one that many have. A text covers another as far as each term
of the other has a like term in it, rare terms weighing more. All pairs are compared at
once, as matrices.

Source of the weighting: inverse document frequency, K. Sparck Jones (1972), J. of
Documentation 28(1), here with soft counts.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewkit.frames.terms import Term, TermBook
from reviewkit.once import once_for

Matrix = NDArray[np.float32]

# Least and most likeness of two different terms that share a sense.
_LEAST, _MOST = 0.38, 0.95
# A term counts as present in a text from this likeness on, and as itself from the other.
PRESENT = 0.6
EXACT = 0.99
# The lexicon's wordings count as this many texts beside those of a class.
_BEFORE_TEXTS = 60
# Share of texts at which a term's weight stops growing.
_RAREST = 0.012


@dataclass(frozen=True, slots=True)
class Texts:
    """Texts as sets of terms.

    ``keys`` and ``senses`` are the distinct terms; ``flat`` holds the numbers of each
    text's terms, text after text, ``owners`` the text each of them is in and ``starts``
    where each text begins. A text without terms holds the empty term.
    """

    keys: tuple[str, ...]
    senses: tuple[frozenset[str], ...]
    flat: NDArray[np.intp]
    owners: NDArray[np.intp]
    starts: NDArray[np.intp]


def make_texts(texts: Sequence[Sequence[Term]]) -> Texts:
    """Number the distinct terms of some texts, in order of appearance."""
    places: dict[str, int] = {}
    senses: list[frozenset[str]] = []
    flat: list[int] = []
    owners: list[int] = []
    starts: list[int] = []
    for owner, text in enumerate(texts):
        row = {term.key: term.senses for term in text} or {"": frozenset[str]()}
        for key in row:
            if key not in places:
                places[key] = len(senses)
                senses.append(row[key])
        starts.append(len(flat))
        flat.extend(places[key] for key in row)
        owners.extend([owner] * len(row))
    arrays = (np.array(numbers, dtype=np.intp) for numbers in (flat, owners, starts))
    return Texts(tuple(places), tuple(senses), *arrays)


def split_texts(texts: Texts, size: int) -> Iterator[Texts]:
    """Give texts so many at a time."""
    for first in range(0, len(texts.starts), size):
        starts = texts.starts[first : first + size]
        last = texts.starts[first + size] if first + size < len(texts.starts) else len(texts.flat)
        own = slice(starts[0], last)
        yield replace(
            texts,
            flat=texts.flat[own],
            owners=texts.owners[own] - first,
            starts=starts - starts[0],
        )


def term_likeness(one: Texts, other: Texts, book: TermBook) -> Matrix:
    """Compare every term of one set of texts with every term of the other, 0 to 1."""
    mine, theirs = _directions(one, book), _directions(other, book)
    cosine = mine.rows @ theirs.rows.T
    by_senses = np.where(cosine > 0, _LEAST + (_MOST - _LEAST) * cosine, np.float32(0))
    likeness = by_senses[np.ix_(mine.places, theirs.places)]
    places = {key: place for place, key in enumerate(other.keys)}
    for row, key in enumerate(one.keys):
        if key and key in places:
            likeness[row, places[key]] = 1
    return likeness


@dataclass(frozen=True, slots=True, eq=False)
class _Directions:
    """The senses of terms as rows of length 1, rarer senses weighing more.

    Many terms have the same senses: those share a row, whose place each term has.
    """

    rows: Matrix
    places: NDArray[np.intp]


@once_for(8)
def _directions(texts: Texts, book: TermBook) -> _Directions:
    numbers: dict[frozenset[str], int] = {}
    places = [numbers.setdefault(senses, len(numbers)) for senses in texts.senses]
    column = {sense: place for place, sense in enumerate(sorted(book.sizes))}
    weights = {sense: 1 / math.log(4 + size) for sense, size in book.sizes.items()}
    matrix = np.zeros((len(numbers), len(column)), np.float32)
    for row, senses in enumerate(numbers):
        for sense in senses:
            matrix[row, column[sense]] = weights[sense]
    norms = np.sqrt((matrix * matrix).sum(axis=1, keepdims=True))
    rows = (matrix / np.where(norms == 0, 1, norms)).astype(np.float32)
    return _Directions(rows, np.array(places, dtype=np.intp))


def best_per_text(likeness: NDArray[Any], texts: Texts) -> NDArray[Any]:
    """Give, for each text and each other term, the likeness of the text's best term."""
    return _join_terms(likeness, texts, np.maximum)


def sum_per_text(values: NDArray[Any], texts: Texts) -> NDArray[Any]:
    """Add up, for each text and each column, the values of the text's terms."""
    return _join_terms(values, texts, np.add)


@dataclass(frozen=True, slots=True, eq=False)
class _Layers:
    """The terms of some texts layer by layer: all first ones, all second ones, and on.

    The longest texts come first (``order``), so that a layer is that of the first so many.
    """

    order: NDArray[np.intp]
    layers: tuple[NDArray[np.intp], ...]


@once_for(8)
def _layers(texts: Texts) -> _Layers:
    lengths = np.diff(texts.starts, append=len(texts.flat))
    order = np.argsort(-lengths, kind="stable")
    starts, lengths = texts.starts[order], lengths[order]
    longer = (int(np.searchsorted(-lengths, -nth)) for nth in range(lengths.max(initial=1)))
    return _Layers(
        order, tuple(texts.flat[starts[:texts_in] + nth] for nth, texts_in in enumerate(longer))
    )


def _join_terms(values: NDArray[Any], texts: Texts, join: np.ufunc) -> NDArray[Any]:
    """Join the rows of each text's terms into one row.

    A layer at a time: much faster than ``reduceat``, which needs the rows of all terms at
    once, and so is a buffer that every layer is taken into.
    """
    by_length = _layers(texts)
    first, *others = by_length.layers
    joined = values.take(first, axis=0)
    buffer = np.empty_like(joined)
    for layer in others:
        own, taken = joined[: len(layer)], buffer[: len(layer)]
        # Clipping spares a second look at every place; all of them lie inside.
        values.take(layer, axis=0, out=taken, mode="clip")
        join(own, taken, out=own)
    by_text = buffer
    by_text[by_length.order] = joined
    return by_text


@dataclass(frozen=True, slots=True)
class Usual:
    """How many of the lexicon's wordings have a term: one like it, or the term itself."""

    kind: NDArray[Any]
    own: NDArray[Any]


def usual(likeness: Matrix, texts: Texts) -> Usual:
    """Count in what share of some texts each other term is found."""
    kind, own = (best_per_text(likeness > least, texts) for least in (PRESENT, EXACT))
    return Usual(kind.mean(axis=0), own.mean(axis=0))


def rarity(counts: NDArray[Any], texts: int, before: NDArray[Any] | float) -> NDArray[Any]:
    """Weigh terms by how few of the texts have them, 0 (all) to 1 (almost none).

    Args:
        counts: In how many of the texts each term is found.
        texts: How many texts there are; where there are few, ``before`` decides.
        before: The share of texts that have the term elsewhere.
    """
    share = (counts + _BEFORE_TEXTS * before) / (texts + _BEFORE_TEXTS)
    weights: NDArray[Any] = np.clip(np.log(share + _RAREST) / np.log(_RAREST), 0, 1)
    return weights


def telling(found: Sequence[Matrix], before: Usual) -> tuple[NDArray[Any], NDArray[Any]]:
    """Say how rare each term is among texts, 0 to 1: its kind, and the term itself.

    Args:
        found: The likeness of each text's best term to each of them, some texts at a time.
        before: In what share of texts they are found elsewhere.
    """
    texts = sum(map(len, found))
    kind, own = (sum((best > least).sum(axis=0) for best in found) for least in (PRESENT, EXACT))
    return rarity(kind, texts, before.kind), rarity(own, texts, before.own)


def weigh_found(best: Matrix, kind: NDArray[Any], own: NDArray[Any]) -> Matrix:
    """Weigh what was found: a term itself by its own rarity, a like one by its kind's."""
    weighed = best * _single(kind)
    np.maximum(weighed, (best > EXACT) * _single(own), out=weighed)
    return weighed


def _single(values: NDArray[Any]) -> Matrix:
    """Round to the exactness of likenesses, so that large products stay as small as they."""
    return values.astype(np.float32)


def sums(texts: Texts, weights: NDArray[Any]) -> NDArray[Any]:
    """Add up the weights of each text's terms."""
    total: NDArray[Any] = np.add.reduceat(weights[texts.flat], texts.starts)
    return total


def masses(texts: Texts, weights: NDArray[Any]) -> Matrix:
    """Give each term's weight in each text: terms by texts."""
    matrix = np.zeros((len(texts.keys), len(texts.starts)), np.float32)
    matrix[texts.flat, texts.owners] = weights[texts.flat]
    return matrix


def shares(texts: Texts, weights: NDArray[Any]) -> Matrix:
    """Give each term's share of each text's weight: terms by texts, columns sum to 1."""
    total = sums(texts, weights)
    share = masses(texts, weights) / np.where(total > 0, total, 1)
    return share.astype(np.float32)
