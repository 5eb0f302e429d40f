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
    least=0.061,
    bias=-5.774,
    by_feature={
        "same region, close by": 0.740,
        "same region": 0.518,
        "of the move": 0.099,
        "part unnamed": -0.288,
        "neither region nor close": -0.518,
        "words between pole and part": -0.002,
        "length of pole words": 0.562,
        "axis height": -0.966,
        "axis breath": -0.310,
        "poles that agree": -0.369,
        "both poles in first": -1.319,
        "both poles in second": -2.254,
        "more poles in first": 0.545,
        "more poles in second": 1.551,
        "cues like first": -0.813,
        "cues like second": -1.129,
        "words with and without a not": -0.071,
        "words in common": 0.785,
        "same interval": -1.620,
        "first before its interval": -1.315,
        "second before its interval": -0.525,
        "length of second": 0.336,
        "insists in first": 0.114,
        "insists in second": 0.616,
        "change in first": -1.518,
        "change in second": 1.570,
        "option in first": -0.957,
        "option in second": -0.972,
        "oneself in second": -0.667,
        "fault seen in first": -0.134,
        "fault seen in second": -0.135,
    },
)

BLOCKS = PairWeights(
    least=0.046,
    bias=-6.806,
    by_feature={
        "same region, close by": 0.369,
        "same region": 0.373,
        "of the move": 0.373,
        "part unnamed": -0.073,
        "neither region nor close": -0.373,
        "words between pole and part": -0.026,
        "length of pole words": 0.762,
        "axis height": -0.564,
        "axis breath": -1.687,
        "poles that agree": 0.215,
        "both poles in first": -0.814,
        "both poles in second": -0.935,
        "more poles in first": 0.235,
        "more poles in second": 0.638,
        "cues like first": -0.611,
        "cues like second": -0.190,
        "words with and without a not": -0.015,
        "words in common": 0.234,
        "same interval": -1.213,
        "first before its interval": -0.656,
        "second before its interval": -0.580,
        "length of second": 0.000,
        "insists in first": 0.269,
        "insists in second": 0.574,
        "change in first": -0.526,
        "change in second": 0.898,
        "option in first": -1.075,
        "option in second": -0.417,
        "oneself in second": -0.111,
        "fault seen in first": 0.370,
        "fault seen in second": 0.633,
    },
)
