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
    least=0.107,
    bias=-2.445,
    by_feature={
        "same region, close by": 0.624,
        "same region": 0.113,
        "of the move": -0.097,
        "part unnamed": -0.137,
        "neither region nor close": -0.113,
        "words between pole and part": 0.164,
        "length of pole words": 0.414,
        "axis height": -1.307,
        "axis breath": -0.376,
        "poles that agree": -0.481,
        "both poles in first": -1.710,
        "both poles in second": -2.778,
        "more poles in first": 0.705,
        "more poles in second": 1.387,
        "cues like first": -0.389,
        "cues like second": -0.348,
        "words with and without a not": 0.629,
        "words in common": 0.488,
        "same interval": -2.945,
        "first before its interval": -1.167,
        "second before its interval": -3.083,
        "length of second": -0.171,
        "insists in first": 0.199,
        "insists in second": -0.142,
        "change in first": -1.489,
        "change in second": 0.877,
        "option in first": -0.653,
        "option in second": -0.166,
        "oneself in second": -0.539,
        "fault seen in first": 0.010,
        "fault seen in second": 0.039,
        "goes back on something in second": 0.762,
        "part alone": -0.157,
        "first gives a point": -0.046,
        "opposed to the point": 0.942,
        "part of the point": 0.453,
        "words of the point": 0.033,
        "point alone": -0.541,
    },
)

BLOCKS = PairWeights(
    least=0.046,
    bias=-9.655,
    by_feature={
        "same region, close by": -0.041,
        "same region": 0.133,
        "of the move": 0.208,
        "part unnamed": -0.196,
        "neither region nor close": -0.133,
        "words between pole and part": 0.079,
        "length of pole words": 0.383,
        "axis height": -0.811,
        "axis breath": -0.299,
        "poles that agree": -0.167,
        "both poles in first": -1.017,
        "both poles in second": -2.136,
        "more poles in first": 0.646,
        "more poles in second": 0.868,
        "cues like first": -0.400,
        "cues like second": 0.008,
        "words with and without a not": 0.202,
        "words in common": 0.194,
        "same interval": -2.382,
        "first before its interval": -0.731,
        "second before its interval": -0.829,
        "length of second": 3.431,
        "insists in first": 0.128,
        "insists in second": 0.039,
        "change in first": -0.492,
        "change in second": 0.026,
        "option in first": -0.257,
        "option in second": -0.382,
        "oneself in second": 0.020,
        "fault seen in first": -0.026,
        "fault seen in second": 0.412,
        "goes back on something in second": 0.497,
        "part alone": -0.077,
        "first gives a point": 0.564,
        "opposed to the point": 1.265,
        "part of the point": 0.290,
        "words of the point": 0.093,
        "point alone": -0.093,
    },
)
