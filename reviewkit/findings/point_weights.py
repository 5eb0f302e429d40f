"""Weights of what speaks for a point having been given, fitted on labelled classes.

``python -m tests.fit.fit_points CLASSES --write`` makes this file. The chance that an
utterance gives a point is the logistic function of the weighted sum plus ``BIAS``.
"""

from __future__ import annotations

# A point counts as said from this chance of its best utterance on, and as late when no
# utterance before the end of the first interval reaches the second.
SAID_FROM = 0.33
LATE_FROM = 0.15

BIAS = -1.661

WEIGHTS: dict[str, float] = {
    "cover": 1.199,
    "parts": 2.558,
    "poles": 0.816,
    "reverse": 2.006,
    "kin": 3.433,
    "closest": 3.970,
    "link": -5.057,
    "usual_cover": -1.681,
    "usual_kin": -2.521,
    "rival": -1.287,
    "in_interval": 0.800,
    "in_other": -3.505,
    "cover_reverse": 3.919,
    "any_point": -1.025,
    "log_terms": 0.706,
    "joined": -0.774,
    "oneself": -0.161,
    "option": 0.004,
    "breath": -1.270,
    "order": 0.182,
    "time": -0.877,
}
