"""Weights of what speaks for a point having been given, fitted on labelled classes.

``python -m tests.fit.fit_points CLASSES --write`` makes this file. A chance is the
logistic function of the weighted sum plus the bias: that an utterance gives a point
(``WEIGHTS``), that the point was said at all (``SUMMARY_WEIGHTS``), and that a point
said came too late (``LATE_WEIGHTS``).
"""

from __future__ import annotations

# A point counts as said, and one that was said as late, from these chances on.
SAID_FROM = 0.76
LATE_FROM = 0.30

BIAS = -0.629

WEIGHTS: dict[str, float] = {
    "cover": 0.396,
    "parts": 1.038,
    "poles": 0.042,
    "both": 0.300,
    "reverse": 0.545,
    "matched": 1.118,
    "kin": 2.251,
    "closest": 4.767,
    "link": -5.627,
    "usual_cover": -1.184,
    "usual_kin": -0.893,
    "best": 2.225,
    "more_cover": -1.290,
    "more_kin": -1.132,
    "rival": -2.794,
    "in_interval": 0.912,
    "in_other": -4.125,
    "cover_reverse": 0.656,
    "any_point": -0.713,
    "log_terms": 0.195,
    "joined": -1.187,
    "agrees": 1.096,
    "opposed": -1.208,
    "oneself": -0.328,
    "mine": -0.461,
    "people": 0.343,
    "feeling": -0.582,
    "option": -0.015,
    "breath": -0.618,
    "order": 0.226,
    "time": -0.825,
}

SUMMARY_BIAS = -0.616

SUMMARY_WEIGHTS: dict[str, float] = {
    "best": 0.334,
    "unclaimed": 0.354,
    "claimed_by": -0.159,
    "times": 0.155,
    "least_of_others": -1.237,
}

LATE_BIAS = -2.215

LATE_WEIGHTS: dict[str, float] = {
    "early": -0.880,
    "best": 0.260,
}
