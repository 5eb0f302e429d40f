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
    bias=-2.006,
    by_feature={
        "same region, close by": 0.508,
        "same region": 0.197,
        "of the move": 0.093,
        "part unnamed": -0.036,
        "neither region nor close": -0.197,
        "words between pole and part": 0.132,
        "length of pole words": 0.371,
        "axis height": -1.156,
        "axis breath": -0.469,
        "poles that agree": -0.695,
        "both poles in first": -1.214,
        "both poles in second": -2.766,
        "more poles in first": 0.423,
        "more poles in second": 1.229,
        "cues like first": -0.417,
        "cues like second": -0.368,
        "words with and without a not": 0.605,
        "words in common": 0.491,
        "same interval": -3.214,
        "first before its interval": -1.687,
        "second before its interval": -3.216,
        "length of second": -0.274,
        "insists in first": 0.199,
        "insists in second": -0.106,
        "change in first": -1.727,
        "change in second": 0.687,
        "option in first": -1.003,
        "option in second": -0.940,
        "oneself in second": -0.424,
        "fault seen in first": -0.084,
        "fault seen in second": 0.304,
        "goes back on something in second": 0.765,
        "part alone": -0.060,
        "first gives a point": -0.348,
        "opposed to the point": 0.910,
        "part of the point": 0.609,
        "words of the point": 0.212,
        "point alone": -0.395,
    },
)

BLOCKS = PairWeights(
    least=0.044,
    bias=-12.106,
    by_feature={
        "same region, close by": 0.220,
        "same region": 0.068,
        "of the move": 0.016,
        "part unnamed": 0.080,
        "neither region nor close": -0.068,
        "words between pole and part": 0.134,
        "length of pole words": 0.335,
        "axis height": -0.686,
        "axis breath": -0.098,
        "poles that agree": -0.289,
        "both poles in first": -0.666,
        "both poles in second": -1.718,
        "more poles in first": 0.570,
        "more poles in second": 0.888,
        "cues like first": -0.468,
        "cues like second": -0.059,
        "words with and without a not": 0.228,
        "words in common": 0.171,
        "same interval": -2.641,
        "first before its interval": -0.449,
        "second before its interval": -0.403,
        "length of second": 5.123,
        "insists in first": 0.154,
        "insists in second": -0.009,
        "change in first": -0.533,
        "change in second": 0.230,
        "option in first": -0.185,
        "option in second": -0.580,
        "oneself in second": 0.020,
        "fault seen in first": 0.125,
        "fault seen in second": 0.402,
        "goes back on something in second": 0.511,
        "part alone": -0.237,
        "first gives a point": 0.672,
        "opposed to the point": 1.158,
        "part of the point": 0.507,
        "words of the point": 0.079,
        "point alone": -0.152,
    },
)
