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
    least=0.111,
    bias=-2.399,
    by_feature={
        "same region, close by": 0.425,
        "same region": 0.341,
        "of the move": 0.146,
        "part unnamed": -0.469,
        "neither region nor close": -0.341,
        "words between pole and part": -0.017,
        "length of pole words": 0.557,
        "axis height": -1.065,
        "axis breath": 0.004,
        "poles that agree": -0.287,
        "both poles in first": -1.920,
        "both poles in second": -2.602,
        "more poles in first": 0.489,
        "more poles in second": 1.374,
        "cues like first": -0.085,
        "cues like second": -0.879,
        "words with and without a not": 0.739,
        "words in common": 0.400,
        "same interval": -1.759,
        "first before its interval": -1.397,
        "second before its interval": -1.979,
        "length of second": -0.106,
        "insists in first": 0.273,
        "insists in second": 0.093,
        "change in first": -1.207,
        "change in second": 0.887,
        "option in first": -0.137,
        "option in second": -0.039,
        "oneself in second": -0.538,
        "fault seen in first": 0.515,
        "fault seen in second": -0.214,
        "goes back on something in second": 0.674,
        "part alone": 0.059,
    },
)

BLOCKS = PairWeights(
    least=0.062,
    bias=2.580,
    by_feature={
        "same region, close by": 0.125,
        "same region": 0.373,
        "of the move": 0.133,
        "part unnamed": -0.075,
        "neither region nor close": -0.373,
        "words between pole and part": -0.010,
        "length of pole words": 0.508,
        "axis height": -0.712,
        "axis breath": -1.194,
        "poles that agree": -0.261,
        "both poles in first": -0.776,
        "both poles in second": -1.146,
        "more poles in first": 0.336,
        "more poles in second": 0.398,
        "cues like first": -0.315,
        "cues like second": -0.299,
        "words with and without a not": 0.172,
        "words in common": 0.235,
        "same interval": -1.605,
        "first before its interval": -0.752,
        "second before its interval": -0.890,
        "length of second": -4.878,
        "insists in first": 0.220,
        "insists in second": 0.189,
        "change in first": -0.885,
        "change in second": 0.416,
        "option in first": -0.723,
        "option in second": -0.136,
        "oneself in second": 0.004,
        "fault seen in first": 0.921,
        "fault seen in second": 0.590,
        "goes back on something in second": 0.546,
        "part alone": -0.012,
    },
)
