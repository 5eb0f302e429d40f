"""Fit which words make an utterance with a point's words a cue for it (``meant.csv``).

Method: logistic regression (L2) over sparse features of words, on the utterances that are
likely by all else, with the odds of all else beside them. ``fit_points`` calls this.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import Any

import numpy as np
from scipy import sparse
from sklearn.linear_model import LogisticRegression

from reviewkit.frames.cue_words import BIAS
from reviewkit.frames.meant import MEANT_WEIGHTS, ODDS, likely, line_features, pair_features
from reviewkit.model import Lexicon, Weights
from reviewkit.once import once
from tests.fit.point_data import Case

# A feature counts when so many classes have it, and is written from this weight on.
_FEWEST_CLASSES = 5
_LEAST_WEIGHT = 0.01
_STRENGTH = 0.01
# The odds are no word: enlarged, they are hardly shrunk.
_ENLARGED = 3.0


def fit_meant(cases: Sequence[Case], odds: Sequence[Any], lexicon: Lexicon) -> Weights:
    """Fit the table on cases with the log-odds of their utterances by all else."""
    found: list[frozenset[str]] = []
    truth: list[bool] = []
    by_else: list[float] = []
    having: dict[str, set[str]] = defaultdict(set)
    for case, own in zip(cases, odds, strict=True):
        for at in likely(own).tolist():
            words = case.utterances[int(case.candidates.places[at])].words
            features = _features(case.candidates.asked.text, words, lexicon)
            found.append(features)
            truth.append(bool(case.gives[at]))
            by_else.append(float(own[at]))
            for feature in features:
                having[feature].add(case.name)
    known = sorted(one for one, names in having.items() if len(names) >= _FEWEST_CLASSES)
    model = LogisticRegression(C=_STRENGTH, solver="liblinear").fit(
        _matrix(found, known, by_else), truth
    )
    weights = {
        feature: (round(float(weight), 3),)
        for feature, weight in zip(known, model.coef_[0], strict=False)
        if abs(weight) >= _LEAST_WEIGHT
    }
    own_weight = round(float(model.coef_[0][-1]) * _ENLARGED, 3)
    bias = round(float(model.intercept_[0]), 3)
    return Weights((MEANT_WEIGHTS,), {BIAS: (bias,), ODDS: (own_weight,), **weights})


def _features(text: str, words: tuple[str, ...], lexicon: Lexicon) -> frozenset[str]:
    """Give the features of a line and a point; every fold of a fit asks for them again."""
    known = _known(lexicon)
    line, pair = ("", words), (text, words)
    if line not in known:
        known[line] = line_features(words, lexicon)
    if pair not in known:
        known[pair] = pair_features(text, words, lexicon)
    return known[line] | known[pair]


@once
def _known(_lexicon: Lexicon) -> dict[tuple[str, tuple[str, ...]], frozenset[str]]:
    return {}


def _matrix(found: Sequence[frozenset[str]], known: Sequence[str], odds: Sequence[float]) -> Any:
    place = {feature: number for number, feature in enumerate(known)}
    rows = [[place[one] for one in row if one in place] for row in found]
    flat = [number for row in rows for number in row]
    bounds = np.cumsum([0, *map(len, rows)])
    words = sparse.csr_matrix((np.ones(len(flat)), flat, bounds), shape=(len(rows), len(known)))
    return sparse.hstack([words, _ENLARGED * np.array(odds)[:, None]]).tocsr()
