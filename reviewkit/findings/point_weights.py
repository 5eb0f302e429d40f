"""Weights of what speaks for a point having been given, fitted on labelled classes.

``python -m tests.fit.fit_points CLASSES --write`` makes this file. A chance is the
logistic function of the weighted sum plus the bias: first that an utterance gives a
point (``WEIGHTS``), then that the point was said at all (``SUMMARY_WEIGHTS``).
"""

from __future__ import annotations

# A point counts as said from this chance on, and as late when no utterance before the
# end of the first interval reaches the second.
SAID_FROM = 0.71
LATE_FROM = 0.25

BIAS = -0.889

WEIGHTS: dict[str, float] = {
    "cover": 0.738,
    "parts": 1.750,
    "poles": 0.300,
    "both": 0.518,
    "reverse": 0.600,
    "matched": 1.086,
    "kin": 0.821,
    "closest": 5.896,
    "link": -5.668,
    "usual_cover": -1.265,
    "usual_kin": -0.595,
    "best": 2.630,
    "more_cover": -1.439,
    "more_kin": 0.299,
    "rival": -2.753,
    "in_interval": 0.927,
    "in_other": -3.573,
    "cover_reverse": 0.374,
    "any_point": -1.552,
    "log_terms": -0.073,
    "joined": -0.861,
    "agrees": 1.576,
    "opposed": -1.605,
    "oneself": -0.398,
    "mine": -0.136,
    "people": 0.266,
    "feeling": -1.220,
    "option": 0.111,
    "breath": -0.713,
    "order": 0.246,
    "time": -1.170,
}

SUMMARY_BIAS = -0.964

SUMMARY_WEIGHTS: dict[str, float] = {
    "best": 0.253,
    "unclaimed": 0.282,
    "claimed_by": -0.178,
    "times": 0.475,
    "least_of_others": -0.861,
}
