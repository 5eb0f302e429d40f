"""Learn from a first pass what this coach says at edges ("halt", "and freeze").

A word that often follows found edges, and seldom anything else, speaks for an edge
wherever it is said. What one place found for itself does not count for that place.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence

import numpy as np

from reviewkit.drafting.chain import Floats

_TRUST = 0.5
_PRIOR_TIMES = 2.0
_LEAST_OTHERS = 2
_BOUNDS = (-0.7, 2.5)


def learn_edge_words(words: Sequence[str], chances: Floats) -> Floats:
    """Give what each word's saying adds to the log-odds that an edge lies before it.

    Args:
        words: Normal forms of the N words of the talk.
        chances: Chance found so far that an edge lies before each word, shape (N,).

    Returns:
        Shape (N,), 0 for words said too seldom to learn from.
    """
    count, mass = Counter(words), defaultdict[str, float](float)
    for word, chance in zip(words, chances.tolist(), strict=True):
        mass[word] += chance
    usual = max(float(chances.mean()), 1e-9) if len(chances) else 1.0
    learnt = np.zeros(len(words))
    for at, word in enumerate(words):
        others = count[word] - 1
        if others >= _LEAST_OTHERS:
            heard = mass[word] - float(chances[at]) + _PRIOR_TIMES * usual
            odds = np.log(heard / (others + _PRIOR_TIMES) / usual)
            learnt[at] = _TRUST * np.clip(odds, *_BOUNDS)
    return learnt
