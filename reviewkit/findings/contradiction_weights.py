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
    bias=-2.606,
    by_feature={
        "same region, close by": 0.629,
        "same region": 0.130,
        "of the move": -0.036,
        "part unnamed": -0.095,
        "neither region nor close": -0.130,
        "words between pole and part": 0.144,
        "length of pole words": 0.432,
        "axis height": -1.342,
        "axis breath": -0.511,
        "poles that agree": -0.482,
        "both poles in first": -1.698,
        "both poles in second": -2.878,
        "more poles in first": 0.715,
        "more poles in second": 1.384,
        "cues like first": -0.352,
        "cues like second": -0.391,
        "words with and without a not": 0.593,
        "words in common": 0.493,
        "same interval": -2.963,
        "first before its interval": -1.176,
        "second before its interval": -3.064,
        "length of second": -0.111,
        "insists in first": 0.178,
        "insists in second": -0.147,
        "change in first": -1.494,
        "change in second": 1.003,
        "option in first": -0.694,
        "option in second": -0.223,
        "oneself in second": -0.575,
        "fault seen in first": 0.094,
        "fault seen in second": 0.004,
        "goes back on something in second": 0.751,
        "part alone": -0.057,
        "first gives a point": -0.112,
        "opposed to the point": 1.013,
        "part of the point": 0.441,
        "words of the point": 0.032,
        "point alone": -0.557,
    },
)

BLOCKS = PairWeights(
    least=0.047,
    bias=-13.598,
    by_feature={
        "same region, close by": 0.007,
        "same region": 0.083,
        "of the move": 0.117,
        "part unnamed": -0.058,
        "neither region nor close": -0.083,
        "words between pole and part": 0.097,
        "length of pole words": 0.399,
        "axis height": -0.781,
        "axis breath": -0.316,
        "poles that agree": -0.223,
        "both poles in first": -0.892,
        "both poles in second": -1.980,
        "more poles in first": 0.601,
        "more poles in second": 0.992,
        "cues like first": -0.438,
        "cues like second": -0.041,
        "words with and without a not": 0.223,
        "words in common": 0.167,
        "same interval": -2.596,
        "first before its interval": -0.725,
        "second before its interval": -0.858,
        "length of second": 6.459,
        "insists in first": 0.113,
        "insists in second": -0.010,
        "change in first": -0.533,
        "change in second": 0.255,
        "option in first": -0.362,
        "option in second": -0.340,
        "oneself in second": 0.021,
        "fault seen in first": 0.116,
        "fault seen in second": 0.419,
        "goes back on something in second": 0.505,
        "part alone": -0.144,
        "first gives a point": 0.600,
        "opposed to the point": 1.226,
        "part of the point": 0.331,
        "words of the point": 0.083,
        "point alone": -0.157,
    },
)
