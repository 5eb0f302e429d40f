"""Weights of what speaks for two cues contradicting, fitted on labelled classes.

``python -m tests.fit.fit_contradictions --write`` makes the numbers: for transcripts with
a fine clock (``FINE``), and for those stamped in blocks (``BLOCKS``), where cues are cut
out of the talk less cleanly. A chance is the logistic function of the weighted sum of a
pair's features plus the bias; a pair is flagged from the chance ``least`` on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PairWeights:
    """The least chance that counts, the bias, and a weight for each feature by name."""

    least: float
    bias: float
    by_feature: Mapping[str, float]


FINE = PairWeights(
    least=0.121,
    bias=-2.105,
    by_feature={
        "same region, close by": 0.564,
        "same region": 0.154,
        "of the move": 0.073,
        "part unnamed": -0.095,
        "neither region nor close": -0.154,
        "words between pole and part": 0.170,
        "length of pole words": 0.379,
        "axis height": -1.240,
        "axis breath": -0.126,
        "poles that agree": -0.683,
        "both poles in first": -1.157,
        "both poles in second": -2.720,
        "more poles in first": 0.437,
        "more poles in second": 1.266,
        "cues like first": -0.360,
        "cues like second": -0.424,
        "words with and without a not": 0.724,
        "words in common": 0.426,
        "same interval": -3.124,
        "first before its interval": -1.537,
        "second before its interval": -3.185,
        "length of second": -0.278,
        "insists in first": 0.170,
        "insists in second": -0.151,
        "change in first": -1.583,
        "change in second": 0.784,
        "option in first": -1.025,
        "option in second": -0.696,
        "oneself in second": -0.533,
        "fault seen in first": 0.060,
        "fault seen in second": 0.480,
        "goes back on something in second": 0.780,
        "part alone": -0.079,
        "first gives a point": -0.261,
        "opposed to the point": 0.953,
        "part of the point": 0.665,
        "words of the point": 0.172,
        "point alone": -0.512,
    },
)

BLOCKS = PairWeights(
    least=0.046,
    bias=-10.749,
    by_feature={
        "same region, close by": 0.234,
        "same region": 0.048,
        "of the move": -0.008,
        "part unnamed": 0.044,
        "neither region nor close": -0.048,
        "words between pole and part": 0.148,
        "length of pole words": 0.336,
        "axis height": -0.855,
        "axis breath": 0.046,
        "poles that agree": -0.279,
        "both poles in first": -0.491,
        "both poles in second": -1.830,
        "more poles in first": 0.457,
        "more poles in second": 1.012,
        "cues like first": -0.456,
        "cues like second": -0.089,
        "words with and without a not": 0.269,
        "words in common": 0.192,
        "same interval": -2.559,
        "first before its interval": -0.480,
        "second before its interval": -0.444,
        "length of second": 4.065,
        "insists in first": 0.158,
        "insists in second": -0.006,
        "change in first": -0.482,
        "change in second": 0.205,
        "option in first": -0.156,
        "option in second": -0.304,
        "oneself in second": 0.026,
        "fault seen in first": 0.050,
        "fault seen in second": 0.485,
        "goes back on something in second": 0.523,
        "part alone": -0.257,
        "first gives a point": 0.625,
        "opposed to the point": 1.285,
        "part of the point": 0.576,
        "words of the point": 0.045,
        "point alone": -0.021,
    },
)
