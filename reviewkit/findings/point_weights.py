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
    "words": 0.66,
    "captions": 0.66,
    "blocks": 0.61,
}
LATE_FROM: dict[str, float] = {
    "words": 0.41,
    "captions": 0.41,
    "blocks": 0.53,
}

BIAS = 0.809

WEIGHTS: dict[str, float] = {
    "cover": -0.094,
    "parts": -0.232,
    "poles": -0.014,
    "both": -0.346,
    "reverse": -0.097,
    "matched": 0.195,
    "kin": 1.588,
    "closest": 3.240,
    "link": -3.689,
    "usual_cover": 0.160,
    "usual_kin": -1.581,
    "best": 2.062,
    "more_cover": -0.464,
    "more_kin": -1.660,
    "rival": -0.281,
    "in_interval": 1.941,
    "in_other": -2.451,
    "cover_reverse": 1.604,
    "any_point": -2.099,
    "log_terms": 1.105,
    "joined": -0.613,
    "agrees": 0.720,
    "opposed": -1.624,
    "spoken": 0.173,
    "gives": 0.680,
    "coaches": -0.045,
    "before_first": -0.486,
    "after_first": -1.019,
    "progress": -2.881,
    "ahead": -2.317,
    "oneself": -0.131,
    "mine": -0.635,
    "people": 0.179,
    "feeling": -0.086,
    "option": 0.182,
    "breath": -0.266,
    "order": 0.097,
    "time": -0.170,
}

SUMMARY_BIAS = 0.198

SUMMARY_WEIGHTS: dict[str, float] = {
    "best": 0.921,
    "least_of_others": -0.790,
    "times": 0.495,
}

LATE_BIAS = -0.912

LATE_WEIGHTS: dict[str, float] = {
    "early": -0.908,
    "best": 0.196,
    "early_times": -0.961,
    "later_times": 1.622,
    "after": -3.161,
}
