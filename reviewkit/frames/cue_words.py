"""Weigh how much an utterance sounds like a cue, by its words and pairs of words.

"My nan keeps a bell above her knees" names every word of a point and is no cue. The
weights travel with the language (``fitted/cues.csv``): the log-odds that a line gives
some point of a plan, and that it coaches form or safety at all.
``tests/fit/fit_points.py`` fits them. ``fitted/turns.csv`` holds the log-odds that a line
goes back on what was asked before ("this time let the elbows go out wide");
``tests/fit/fit_contradictions.py`` fits these.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewkit.frames.terms import fold
from reviewkit.frames.utterances import Utterance
from reviewkit.model import Lexicon, Weights

CUE_WEIGHTS = "cues"
TURN_WEIGHTS = "turns"
BIAS = "bias"
OUTPUTS = ("gives", "coaches")


def cue_features(words: Sequence[str]) -> tuple[str, ...]:
    """Give the words, endings folded, and the pairs of neighbours, each once, in order."""
    folded = [fold(word) for word in words]
    return tuple(dict.fromkeys((*folded, *map(" ".join, pairwise(folded)))))


def weigh_cues(utterances: Sequence[Utterance], lexicon: Lexicon) -> NDArray[Any]:
    """Give the log-odds of being a cue.

    Returns:
        A row for each utterance, a column for each of ``OUTPUTS``; zeros without weights.
    """
    return _weigh(utterances, lexicon.weights.get(CUE_WEIGHTS), len(OUTPUTS))


def weigh_turns(utterances: Sequence[Utterance], lexicon: Lexicon) -> NDArray[Any]:
    """Give the log-odds of going back on something, one per utterance; zeros without weights."""
    return _weigh(utterances, lexicon.weights.get(TURN_WEIGHTS), 1)[:, 0]


def _weigh(
    utterances: Sequence[Utterance], fitted: Weights | None, outputs: int
) -> NDArray[np.float64]:
    """Add up the weights of each utterance's features, one column an output."""
    odds = np.zeros((len(utterances), outputs))
    if fitted is None:
        return odds
    for row, utterance in enumerate(utterances):
        features = (BIAS, *cue_features(utterance.words))
        known = [*filter(None, map(fitted.rows.get, features))]
        if known:
            odds[row] = [sum(column) for column in zip(*known, strict=True)]
    return odds
