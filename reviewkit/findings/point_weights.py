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
    "words": 0.70,
    "captions": 0.70,
    "blocks": 0.42,
}
LATE_FROM: dict[str, float] = {
    "words": 0.48,
    "captions": 0.48,
    "blocks": 0.27,
}

BIAS = -1.057

WEIGHTS: dict[str, float] = {
    "cover": 0.309,
    "parts": 1.129,
    "poles": -0.227,
    "both": -0.281,
    "reverse": 0.054,
    "matched": 1.143,
    "kin": 0.855,
    "closest": 5.594,
    "link": -6.232,
    "usual_cover": -0.527,
    "usual_kin": 0.193,
    "best": 2.800,
    "more_cover": -0.053,
    "more_kin": -0.769,
    "rival": -2.495,
    "in_interval": 1.556,
    "in_other": -3.230,
    "cover_reverse": 1.352,
    "any_point": -1.432,
    "log_terms": 0.210,
    "joined": -1.391,
    "agrees": 1.244,
    "opposed": -1.466,
    "oneself": -0.249,
    "mine": -0.446,
    "people": 0.182,
    "feeling": -0.511,
    "option": -0.045,
    "breath": -0.538,
    "order": 0.160,
    "time": -0.740,
}

SUMMARY_BIAS = -0.493

SUMMARY_WEIGHTS: dict[str, float] = {
    "best": 0.357,
    "unclaimed": 0.342,
    "claimed_by": -0.142,
    "times": 0.226,
    "least_of_others": -0.752,
}

LATE_BIAS = -2.940

LATE_WEIGHTS: dict[str, float] = {
    "early": -1.051,
    "best": 0.465,
}
