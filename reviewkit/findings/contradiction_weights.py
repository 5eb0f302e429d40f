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
    least=0.108,
    bias=-5.939,
    by_feature={
        "same region, close by": 0.894,
        "same region": 0.365,
        "of the move": 0.274,
        "part unnamed": -0.279,
        "neither region nor close": -0.365,
        "words between pole and part": -0.061,
        "length of pole words": 0.637,
        "axis height": -1.176,
        "axis breath": -0.736,
        "poles that agree": -0.357,
        "both poles in first": -1.965,
        "both poles in second": -1.982,
        "more poles in first": 0.529,
        "more poles in second": 1.544,
        "cues like first": -0.370,
        "cues like second": -1.119,
        "words with and without a not": 0.221,
        "words in common": 0.694,
        "same interval": -1.816,
        "first before its interval": -1.007,
        "second before its interval": -0.604,
        "length of second": 0.249,
        "insists in first": 0.230,
        "insists in second": 0.669,
        "change in first": -0.903,
        "change in second": 1.342,
        "option in first": -0.201,
        "option in second": -0.509,
        "oneself in second": -0.912,
        "fault seen in first": -0.392,
        "fault seen in second": 0.219,
    },
)

BLOCKS = PairWeights(
    least=0.045,
    bias=-12.478,
    by_feature={
        "same region, close by": 0.597,
        "same region": 0.227,
        "of the move": 0.005,
        "part unnamed": -0.044,
        "neither region nor close": -0.227,
        "words between pole and part": 0.029,
        "length of pole words": 0.676,
        "axis height": -0.514,
        "axis breath": -1.306,
        "poles that agree": -0.064,
        "both poles in first": -0.986,
        "both poles in second": -1.024,
        "more poles in first": 0.233,
        "more poles in second": 0.435,
        "cues like first": -0.356,
        "cues like second": -0.161,
        "words with and without a not": -0.074,
        "words in common": 0.296,
        "same interval": -1.474,
        "first before its interval": -0.577,
        "second before its interval": -0.427,
        "length of second": 4.414,
        "insists in first": 0.289,
        "insists in second": 0.483,
        "change in first": -0.240,
        "change in second": 0.722,
        "option in first": -1.272,
        "option in second": -0.622,
        "oneself in second": -0.246,
        "fault seen in first": 0.364,
        "fault seen in second": 0.972,
    },
)
