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
    least=0.061,
    bias=2.361,
    by_feature={
        "same region, close by": 0.130,
        "same region": 0.376,
        "of the move": 0.140,
        "part unnamed": -0.072,
        "neither region nor close": -0.376,
        "words between pole and part": -0.010,
        "length of pole words": 0.510,
        "axis height": -0.710,
        "axis breath": -1.203,
        "poles that agree": -0.259,
        "both poles in first": -0.776,
        "both poles in second": -1.139,
        "more poles in first": 0.337,
        "more poles in second": 0.391,
        "cues like first": -0.322,
        "cues like second": -0.291,
        "words with and without a not": 0.161,
        "words in common": 0.236,
        "same interval": -1.607,
        "first before its interval": -0.758,
        "second before its interval": -0.896,
        "length of second": -4.714,
        "insists in first": 0.219,
        "insists in second": 0.188,
        "change in first": -0.888,
        "change in second": 0.416,
        "option in first": -0.735,
        "option in second": -0.123,
        "oneself in second": 0.003,
        "fault seen in first": 0.933,
        "fault seen in second": 0.592,
        "goes back on something in second": 0.546,
        "part alone": 0.001,
    },
)
