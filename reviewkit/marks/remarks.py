"""Hear that an interval ran over or was cut short, from the talk around its end.

Coaches who go past the time own up to it ("look at that, I have run you on"), add to it
("ten more, go on"), or break off ("that will do"). A linear model over the words before
and after a moment says how much they speak for a length off the plan that ended there;
when it began, the aligner weighs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from reviewkit.marks.edge_features import Place, number_of
from reviewkit.model import Talk, Weights

REMARK_WEIGHTS = "remarks"
# The table's columns, one pair of before and after for each way a length may be off.
OUTPUTS = ("short before", "short after", "long before", "long after")
BIAS = "bias"
# What is said in this time before an end, and after it, may be about the length.
BEFORE_MS = 15_000
AFTER_MS = 10_000
MOST_WORDS = 3
NUMBER = "<number>"
# No words are taken to say more than this: some are said of other things.
LEAST, MOST = -0.5, 3.0

Floats = NDArray[np.float64]
Indexes = NDArray[np.int64]


def weigh_remarks(
    talk: Talk, places: Sequence[Place], weights: Weights | None
) -> tuple[Floats, Floats]:
    """Say how much the talk around each place speaks for a short, and a long, interval.

    Args:
        talk: The words as they are timed.
        places: P moments that may be ends.
        weights: Of the words before and after; nothing is said of anything when None.

    Returns:
        Log-likelihood ratios against a length as planned, each of shape (P,).
    """
    nothing = np.zeros(len(places))
    if weights is None or not talk.words:
        return nothing, nothing
    columns = [weights.outputs.index(output) for output in OUTPUTS]
    words = remark_words([word.norm for word in talk.words])
    first, at, last = find_windows(talk, places)
    bias = weights.rows.get(BIAS, (0.0,) * len(weights.outputs))
    told = np.tile(np.array([bias[column] for column in columns]), (len(places), 1))
    for length in range(1, MOST_WORDS + 1):
        rows = [weights.rows.get(gram) for gram in _grams(words, length)]
        table = np.array([[row[c] for c in columns] if row else [0.0] * 4 for row in rows])
        sums = np.concatenate([np.zeros((1, 4)), np.cumsum(table.reshape(-1, 4), axis=0)])
        told[:, 0::2] += _between(sums[:, 0::2], first, at - length + 1)
        told[:, 1::2] += _between(sums[:, 1::2], at, last - length + 1)
    whole = np.clip(told[:, 0::2] + told[:, 1::2], LEAST, MOST)
    return whole[:, 0], whole[:, 1]


def find_windows(talk: Talk, places: Sequence[Place]) -> tuple[Indexes, Indexes, Indexes]:
    """Give for each place the first word of what counts before, of what comes after, and the stop.

    Positions of words, each of shape (P,).
    """
    word_ms = np.array([word.start_ms for word in talk.words])
    at_ms = np.array([place.at_ms for place in places], dtype=np.int64)
    at = np.array([place.word for place in places], dtype=np.int64)
    first = np.minimum(np.searchsorted(word_ms, at_ms - BEFORE_MS), at)
    last = np.maximum(np.searchsorted(word_ms, at_ms + AFTER_MS), at)
    return first, at, last


def remark_words(norms: Sequence[str]) -> list[str]:
    """Put one sign for every number: ten more and five more are the same remark."""
    return [NUMBER if number_of(norm) is not None else norm for norm in norms]


def grams_of(words: Sequence[str]) -> Iterator[str]:
    """Give every run of up to ``MOST_WORDS`` words."""
    for length in range(1, MOST_WORDS + 1):
        yield from _grams(words, length)


def _grams(words: Sequence[str], length: int) -> Iterator[str]:
    for at in range(len(words) - length + 1):
        yield " ".join(words[at : at + length])


def _between(sums: Floats, first: Indexes, stop: Indexes) -> Floats:
    """Add up rows from ``first`` to before ``stop``; none where there are too few words."""
    stop = np.clip(stop, first, len(sums) - 1)
    return sums[stop] - sums[np.minimum(first, stop)]
