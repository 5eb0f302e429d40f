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
    "words": 0.67,
    "captions": 0.67,
    "blocks": 0.46,
}
LATE_FROM: dict[str, float] = {
    "words": 0.40,
    "captions": 0.40,
    "blocks": 0.49,
}

BIAS = 0.436

WEIGHTS: dict[str, float] = {
    "cover": -0.295,
    "parts": -0.272,
    "poles": -0.442,
    "both": -0.052,
    "reverse": -0.263,
    "matched": 0.496,
    "kin": 1.087,
    "closest": 4.052,
    "link": -4.252,
    "usual_cover": 0.298,
    "usual_kin": -0.301,
    "best": 1.736,
    "more_cover": -0.263,
    "more_kin": -1.889,
    "rival": -0.855,
    "in_interval": 1.748,
    "in_other": -3.171,
    "cover_reverse": 1.829,
    "any_point": -1.830,
    "log_terms": 1.188,
    "joined": -0.607,
    "agrees": 0.723,
    "opposed": -1.521,
    "spoken": 0.161,
    "gives": 0.730,
    "coaches": -0.136,
    "before_first": -0.584,
    "after_first": -0.703,
    "progress": -3.039,
    "ahead": -1.645,
    "oneself": -0.121,
    "mine": -0.669,
    "people": -0.315,
    "feeling": -0.150,
    "option": 0.268,
    "breath": -0.193,
    "order": 0.078,
    "time": -0.201,
}

SUMMARY_BIAS = 0.048

SUMMARY_WEIGHTS: dict[str, float] = {
    "best": 0.850,
    "least_of_others": -0.624,
}

LATE_BIAS = -1.961

LATE_WEIGHTS: dict[str, float] = {
    "early": -0.738,
    "best": 0.235,
    "early_times": -0.907,
    "later_times": 0.822,
}
