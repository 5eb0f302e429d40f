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
    least=0.064,
    bias=-6.370,
    by_feature={
        "same region, close by": 0.910,
        "same region": 0.660,
        "of the move": 0.285,
        "part unnamed": -0.095,
        "neither region nor close": -0.660,
        "words between pole and part": -0.009,
        "length of pole words": 0.750,
        "axis height": -0.466,
        "axis breath": -0.562,
        "poles that agree": -0.165,
        "both poles in first": -1.238,
        "both poles in second": -1.785,
        "more poles in first": 0.424,
        "more poles in second": 1.406,
        "cues like first": -1.029,
        "cues like second": -1.094,
        "words with and without a not": 0.343,
        "words in common": 0.581,
        "same interval": -1.541,
        "first before its interval": -1.340,
        "second before its interval": -0.568,
        "length of second": 0.486,
        "insists in first": 0.050,
        "insists in second": 0.401,
        "change in first": -1.501,
        "change in second": 1.449,
        "option in first": -1.090,
        "option in second": -1.050,
        "oneself in second": -0.624,
        "fault seen in first": 0.182,
        "fault seen in second": -0.371,
    },
)

BLOCKS = PairWeights(
    least=0.049,
    bias=-6.547,
    by_feature={
        "same region, close by": 0.388,
        "same region": 0.295,
        "of the move": 0.248,
        "part unnamed": -0.021,
        "neither region nor close": -0.295,
        "words between pole and part": -0.017,
        "length of pole words": 0.780,
        "axis height": -0.469,
        "axis breath": -1.604,
        "poles that agree": 0.188,
        "both poles in first": -0.826,
        "both poles in second": -0.953,
        "more poles in first": 0.211,
        "more poles in second": 0.543,
        "cues like first": -0.621,
        "cues like second": -0.130,
        "words with and without a not": 0.007,
        "words in common": 0.231,
        "same interval": -1.217,
        "first before its interval": -0.624,
        "second before its interval": -0.600,
        "length of second": 0.000,
        "insists in first": 0.196,
        "insists in second": 0.443,
        "change in first": -0.708,
        "change in second": 0.838,
        "option in first": -1.126,
        "option in second": -0.627,
        "oneself in second": -0.092,
        "fault seen in first": 0.293,
        "fault seen in second": 0.554,
    },
)
