"""Weights of what speaks for a point having been given, fitted on labelled classes.

``python -m tests.fit.fit_points CLASSES --write`` makes this file. The chance that an
utterance gives a point is the logistic function of the weighted sum plus ``BIAS``.
"""

from __future__ import annotations

# A point counts as said from this chance of its best utterance on, and as late when no
# utterance before the end of the first interval reaches the second.
SAID_FROM = 0.23
LATE_FROM = 0.10

BIAS = -2.093

WEIGHTS: dict[str, float] = {
    "cover": 0.332,
    "parts": 1.371,
    "poles": -0.221,
    "both": 0.490,
    "reverse": 0.780,
    "matched": 1.446,
    "kin": 1.331,
    "closest": 5.556,
    "link": -3.756,
    "usual_cover": -1.207,
    "usual_kin": -2.472,
    "best": 3.954,
    "more_cover": -1.471,
    "more_kin": -1.117,
    "rival": -2.912,
    "in_interval": 0.999,
    "in_other": -3.511,
    "cover_reverse": -0.617,
    "any_point": -1.049,
    "log_terms": -0.336,
    "joined": -0.939,
    "agrees": 1.491,
    "opposed": -2.043,
    "oneself": -0.318,
    "mine": -0.064,
    "people": -0.024,
    "feeling": -1.483,
    "option": 0.205,
    "breath": -0.699,
    "order": 0.208,
    "time": -0.990,
}
