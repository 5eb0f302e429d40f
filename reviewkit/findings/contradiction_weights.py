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
    least=0.106,
    bias=-2.415,
    by_feature={
        "same region, close by": 0.442,
        "same region": 0.298,
        "of the move": 0.125,
        "part unnamed": -0.481,
        "neither region nor close": -0.298,
        "words between pole and part": -0.032,
        "length of pole words": 0.565,
        "axis height": -1.048,
        "axis breath": -0.090,
        "poles that agree": -0.431,
        "both poles in first": -1.910,
        "both poles in second": -2.391,
        "more poles in first": 0.493,
        "more poles in second": 1.363,
        "cues like first": -0.286,
        "cues like second": -0.792,
        "words with and without a not": 0.672,
        "words in common": 0.442,
        "same interval": -1.757,
        "first before its interval": -1.435,
        "second before its interval": -1.971,
        "length of second": -0.060,
        "insists in first": 0.275,
        "insists in second": 0.079,
        "change in first": -1.316,
        "change in second": 0.850,
        "option in first": -0.161,
        "option in second": 0.317,
        "oneself in second": -0.494,
        "fault seen in first": 0.507,
        "fault seen in second": -0.295,
        "goes back on something in second": 0.669,
        "part alone": -0.030,
    },
)

BLOCKS = PairWeights(
    least=0.040,
    bias=-8.045,
    by_feature={
        "same region, close by": 0.148,
        "same region": 0.344,
        "of the move": 0.307,
        "part unnamed": 0.148,
        "neither region nor close": -0.344,
        "words between pole and part": -0.015,
        "length of pole words": 0.490,
        "axis height": -0.733,
        "axis breath": -1.271,
        "poles that agree": -0.065,
        "both poles in first": -0.769,
        "both poles in second": -1.236,
        "more poles in first": 0.391,
        "more poles in second": 0.688,
        "cues like first": -0.334,
        "cues like second": -0.382,
        "words with and without a not": 0.217,
        "words in common": 0.308,
        "same interval": -1.787,
        "first before its interval": -0.781,
        "second before its interval": -0.758,
        "length of second": 3.543,
        "insists in first": 0.099,
        "insists in second": 0.183,
        "change in first": -0.477,
        "change in second": -0.274,
        "option in first": -0.236,
        "option in second": -0.084,
        "oneself in second": -0.005,
        "fault seen in first": 0.692,
        "fault seen in second": 0.859,
        "goes back on something in second": 0.617,
        "part alone": 0.001,
    },
)
