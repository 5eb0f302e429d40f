"""Learn the last layer of the network of edges anew, for the coach of one class.

The network was fitted on many coaches. A first look at a class shows where this one seems
to start, stop and work; one step of Newton's method from the common weights towards that,
held back by a prior around them, makes them this coach's own. Every stretch of the class
is weighed by weights learned outside of it, or a first mistake would confirm itself.

Source: semi-supervised learning by a model's own guesses (Lee 2013, "Pseudo-label"), with
cross-fitting in place of a threshold; the step is that of iteratively reweighted least
squares (Hastie et al. 2009, "The Elements of Statistical Learning", 4.4.1), with a ridge.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Indexes = NDArray[np.int64]

# A class is weighed in so many stretches, each by what was learned outside of it.
STRETCHES = 16
# A place is told nothing by places this close to it.
CLOSE_MS = 8000
# How strongly the common weights hold: as much as so many certain observations would.
RIDGE = 1.0
# Where the curve of the loss is taken: this far from the common odds towards the first look.
_TOWARDS_LOOK = 0.25
# Odds that are as good as certain still leave a little to learn.
_LEAST_CURVE = 1e-6


def relearn(rows: Floats, odds: Floats, chances: Floats, at_ms: Indexes) -> Floats:
    """Say by how much weights learned anew would raise the odds of each place.

    Args:
        rows: What the network's last layer is given, shape (M, width).
        odds: The log-odds it gives, shape (M,).
        chances: What the first look believes instead, shape (M,), 0 to 1.
        at_ms: When each place is, never falling, shape (M,).

    Returns:
        Differences of log-odds, shape (M,).
    """
    if not len(odds):
        return np.zeros(0)
    inputs = np.column_stack([rows - rows.mean(axis=0), np.ones(len(rows))])
    told = 1 / (1 + np.exp(-odds))
    between = told + _TOWARDS_LOOK * (chances - told)
    curves = np.maximum(between * (1 - between), _LEAST_CURVE)[:, None]
    pulls = inputs.T @ (chances - told)
    curve = (inputs * curves).T @ inputs + RIDGE * np.eye(inputs.shape[1])
    bounds = np.linspace(at_ms[0], at_ms[-1] + 1, STRETCHES + 1)
    raised = np.zeros(len(odds))
    for low_ms, high_ms in pairwise(bounds):
        own = slice(*np.searchsorted(at_ms, [low_ms, high_ms]))
        near = slice(*np.searchsorted(at_ms, [low_ms - CLOSE_MS, high_ms + CLOSE_MS]))
        here = inputs[near]
        learned = np.linalg.solve(
            curve - (here * curves[near]).T @ here,
            pulls - here.T @ (chances[near] - told[near]),
        )
        raised[own] = inputs[own] @ learned
    return raised
