"""Fit weights that tell which utterances give a point, and of numbers that sum them up.

Method: logistic regression (L2); for utterances the conditional one, in which each gives
one point of its move or none (D. McFadden, 1974, Conditional logit analysis).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.optimize import minimize
from sklearn.linear_model import LogisticRegression

from reviewkit.findings.point_features import FEATURES, Candidates
from reviewkit.findings.point_summary import MOST_ODDS
from reviewkit.findings.points import has_common
from tests.fit.point_data import Case

# Of the weights of utterances: a larger one lets them grow larger.
STRENGTH = 1.0


@dataclass(frozen=True, slots=True)
class Fit:
    """Weights on the plain scale of the features."""

    weights: Any
    bias: float

    def odds(self, features: Any) -> Any:
        """Give the log-odds of each row of features."""
        return features @ self.weights + self.bias

    def chances(self, features: Any) -> Any:
        """Give the chance of each row of features."""
        return 1 / (1 + np.exp(-self.odds(features)))


def fit(features: Any, truth: Any) -> Fit:
    """Fit a logistic regression on evened-out features."""
    middle, spread = features.mean(axis=0), features.std(axis=0) + 1e-9
    model = LogisticRegression(C=1.0, max_iter=1000).fit((features - middle) / spread, truth)
    weights = model.coef_[0] / spread
    return Fit(weights, float(model.intercept_[0] - middle @ weights))


def fit_utterances(training: Sequence[Case], *, leave_out: Sequence[str] = ()) -> Fit:
    """Fit which point of its move, if any, each utterance gives.

    Features to leave out get the weight 0.
    """
    features = np.concatenate([case.candidates.features for case in training])
    features[:, [FEATURES.index(name) for name in leave_out]] = 0
    gives = np.concatenate([case.gives for case in training]).astype(float)
    # The others cannot give the point, whatever the weights.
    able = has_common(features)
    features, gives, utterances = features[able], gives[able], _utterances(training)[able]
    middle, spread = features.mean(axis=0), features.std(axis=0) + 1e-9
    found = _fit_shared((features - middle) / spread, gives, utterances)
    weights = found[:-1] / spread
    return Fit(weights, float(found[-1] - middle @ weights))


def odds_of(fitted: Fit, one: Candidates) -> Any:
    """Give the log-odds of a point's utterances, as ``utterance_odds`` does."""
    return np.where(has_common(one.features), fitted.odds(one.features), -MOST_ODDS)


def _utterances(cases: Sequence[Case]) -> Any:
    """Number the utterances of each move of each class: the points of a move share them."""
    firsts: dict[tuple[str, str, str], int] = {}
    numbers, total = [], 0
    for case in cases:
        key = (case.name, case.form, case.candidates.asked.move)
        if key not in firsts:
            firsts[key] = total
            total += len(case.gives)
        numbers.append(firsts[key] + np.arange(len(case.gives)))
    return np.concatenate(numbers)


def _fit_shared(features: Any, gives: Any, utterance: Any) -> Any:
    """Fit the conditional logit; gives the weights, and the bias last."""
    given = np.bincount(utterance, gives)
    truth = gives / np.maximum(1, given)[utterance]

    def loss(weights: Any) -> tuple[float, Any]:
        odds = features @ weights[:-1] + weights[-1]
        weight = np.exp(np.minimum(odds, MOST_ODDS))
        total = 1 + np.bincount(utterance, weight)
        off = weight / total[utterance] - truth
        shrunk = weights[:-1] / STRENGTH
        value = np.log(total).sum() - truth @ odds + shrunk @ weights[:-1] / 2
        return value, np.append(features.T @ off + shrunk, off.sum())

    start = np.zeros(features.shape[1] + 1)
    return minimize(loss, start, jac=True, method="L-BFGS-B", options={"maxiter": 300}).x
