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
    "words": 0.51,
    "captions": 0.51,
    "blocks": 0.59,
}
LATE_FROM: dict[str, float] = {
    "words": 0.51,
    "captions": 0.51,
    "blocks": 0.47,
}

BIAS = 1.043

WEIGHTS: dict[str, float] = {
    "cover": -0.150,
    "parts": -0.187,
    "poles": -0.178,
    "both": -0.353,
    "reverse": -0.130,
    "matched": 0.263,
    "kin": 1.756,
    "closest": 2.878,
    "link": -3.704,
    "usual_cover": 0.277,
    "usual_kin": -1.727,
    "best": 2.386,
    "more_cover": -0.572,
    "more_kin": -1.608,
    "rival": -0.285,
    "in_interval": 1.865,
    "in_other": -2.352,
    "cover_reverse": 1.673,
    "any_point": -2.345,
    "log_terms": 1.062,
    "joined": -0.639,
    "agrees": 0.643,
    "opposed": -1.169,
    "spoken": 0.162,
    "gives": 0.691,
    "coaches": -0.074,
    "before_first": -0.460,
    "after_first": -0.877,
    "progress": -2.923,
    "ahead": -2.238,
    "oneself": -0.151,
    "mine": -0.720,
    "people": 0.425,
    "feeling": -0.081,
    "option": 0.165,
    "breath": -0.268,
    "order": 0.100,
    "time": -0.184,
}

SUMMARY_BIAS = 0.419

SUMMARY_WEIGHTS: dict[str, float] = {
    "best": 0.974,
    "least_of_others": -0.750,
}

LATE_BIAS = -2.406

LATE_WEIGHTS: dict[str, float] = {
    "early": -0.797,
    "best": 0.229,
    "early_times": -0.874,
    "later_times": 1.056,
}
