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
    "words": 0.65,
    "captions": 0.65,
    "blocks": 0.64,
}
LATE_FROM: dict[str, float] = {
    "words": 0.50,
    "captions": 0.50,
    "blocks": 0.50,
}

BIAS = 1.414

WEIGHTS: dict[str, float] = {
    "cover": -0.149,
    "parts": -0.201,
    "poles": -0.160,
    "both": -0.342,
    "reverse": -0.145,
    "matched": 0.191,
    "kin": 1.617,
    "closest": 2.888,
    "link": -4.136,
    "usual_cover": 0.331,
    "usual_kin": -1.427,
    "best": 2.346,
    "more_cover": -0.157,
    "more_kin": -1.556,
    "rival": -0.320,
    "in_interval": 1.932,
    "in_other": -2.866,
    "cover_reverse": 1.443,
    "any_point": -2.632,
    "log_terms": 1.332,
    "joined": -0.672,
    "agrees": 0.729,
    "opposed": -1.434,
    "spoken": 0.178,
    "gives": 0.763,
    "coaches": -0.100,
    "before_first": -0.891,
    "after_first": -1.098,
    "progress": -2.825,
    "ahead": -2.455,
    "oneself": -0.159,
    "mine": -0.543,
    "people": 0.124,
    "feeling": -0.089,
    "option": 0.260,
    "breath": -0.341,
    "order": 0.100,
    "time": -0.196,
}

SUMMARY_BIAS = 3.002

SUMMARY_WEIGHTS: dict[str, float] = {
    "best": 0.671,
    "least_of_others": -0.886,
    "share": 1.773,
    "oneself": -1.749,
    "mine": -4.174,
    "coaches": 0.317,
}

LATE_BIAS = -1.649

LATE_WEIGHTS: dict[str, float] = {
    "early": -0.945,
    "best": 0.241,
    "early_times": -0.865,
    "later_times": 1.624,
    "after": -2.333,
}
