"""Weights of what speaks for a point having been given, fitted on labelled classes.

``python -m tests.fit.fit_points --write`` makes this file. A chance is the
logistic function of the weighted sum plus the bias: that an utterance gives a point
(``WEIGHTS``), that the point was said at all (``SUMMARY_WEIGHTS``), and that a point
said came too late (``LATE_WEIGHTS``).
"""

from __future__ import annotations

# A point counts as said, and one that was said as late, from these chances on, by the
# talk's clock.
SAID_FROM: dict[str, float] = {
    "words": 0.71,
    "captions": 0.71,
    "blocks": 0.60,
}
LATE_FROM: dict[str, float] = {
    "words": 0.28,
    "captions": 0.28,
    "blocks": 0.28,
}

BIAS = -2.031

WEIGHTS: dict[str, float] = {
    "cover": 0.404,
    "parts": 1.239,
    "poles": -0.116,
    "both": -0.304,
    "reverse": 0.460,
    "matched": 1.008,
    "kin": 0.983,
    "closest": 5.438,
    "link": -5.227,
    "usual_cover": -0.400,
    "usual_kin": -0.569,
    "best": 2.527,
    "more_cover": -0.434,
    "more_kin": -1.045,
    "rival": -2.817,
    "in_interval": 1.868,
    "in_other": -3.112,
    "cover_reverse": 1.355,
    "any_point": -1.408,
    "log_terms": 0.377,
    "joined": -1.285,
    "agrees": 1.011,
    "opposed": -1.115,
    "oneself": -0.351,
    "mine": -0.679,
    "people": -0.377,
    "feeling": -0.458,
    "option": -0.074,
    "breath": -0.567,
    "order": 0.218,
    "time": -0.584,
}

SUMMARY_BIAS = -0.445

SUMMARY_WEIGHTS: dict[str, float] = {
    "best": 0.381,
    "unclaimed": 0.350,
    "claimed_by": -0.126,
    "times": 0.048,
    "least_of_others": -0.689,
}

LATE_BIAS = -2.800

LATE_WEIGHTS: dict[str, float] = {
    "early": -1.107,
    "best": 0.531,
}
