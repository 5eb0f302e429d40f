"""How much words speak for each kind of movement: heels and toes for a calf raise.

A move need not be named to be told: what is said while it is done is of body parts,
directions and things that go with its movement pattern. The weights are those of a
multinomial logistic regression of an interval's pattern on the words said in it.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from reviewkit.language.matching import stem
from reviewkit.model import Talk, Weights

KIND_WEIGHTS = "patterns"
BIAS = "bias"

Floats = NDArray[np.float64]


def weigh_kinds(talk: Talk, weights: Weights | None) -> Floats:
    """Give each word's log-odds for each pattern against the average pattern.

    Args:
        talk: The words of the class.
        weights: By stem, one output per pattern; None when nothing is known.

    Returns:
        Shape (patterns, words).
    """
    if weights is None:
        return np.zeros((0, len(talk.words)))
    nothing = (0.0,) * len(weights.outputs)
    rows = [weights.rows.get(stem(word.norm), nothing) for word in talk.words]
    return np.array(rows, dtype=np.float64).reshape(len(rows), len(nothing)).T


def usual_kinds(weights: Weights | None) -> tuple[float, ...]:
    """Give the log-odds of each pattern before anything is said."""
    return () if weights is None else tuple(weights.rows.get(BIAS, (0.0,) * len(weights.outputs)))


def told_apart(kinds: Floats, own: Sequence[int]) -> Floats:
    """Give each word's log-odds for each of some moves against the average of them.

    Args:
        kinds: Shape (patterns, words).
        own: For each move the place of its pattern, -1 when it is not known.

    Returns:
        Shape (moves, words); nothing for moves of no known pattern, or when only one has one.
    """
    odds = np.zeros((len(own), kinds.shape[1]))
    known = [move for move, kind in enumerate(own) if kind >= 0]
    if len(known) > 1:
        theirs = kinds[[own[move] for move in known]]
        odds[known] = theirs - theirs.mean(axis=0)
    return odds
