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
    least=0.109,
    bias=-1.993,
    by_feature={
        "same region, close by": 0.486,
        "same region": 0.175,
        "of the move": 0.175,
        "part unnamed": -0.108,
        "neither region nor close": -0.175,
        "words between pole and part": 0.137,
        "length of pole words": 0.374,
        "axis height": -1.179,
        "axis breath": -0.533,
        "poles that agree": -0.716,
        "both poles in first": -1.287,
        "both poles in second": -2.847,
        "more poles in first": 0.474,
        "more poles in second": 1.291,
        "cues like first": -0.377,
        "cues like second": -0.441,
        "words with and without a not": 0.613,
        "words in common": 0.503,
        "same interval": -3.006,
        "first before its interval": -1.601,
        "second before its interval": -3.396,
        "length of second": -0.312,
        "insists in first": 0.164,
        "insists in second": -0.114,
        "change in first": -1.783,
        "change in second": 0.764,
        "option in first": -1.010,
        "option in second": -0.843,
        "oneself in second": -0.466,
        "fault seen in first": 0.054,
        "fault seen in second": 0.084,
        "goes back on something in second": 0.798,
        "part alone": -0.074,
        "first gives a point": -0.258,
        "opposed to the point": 0.946,
        "part of the point": 0.587,
        "words of the point": 0.218,
        "point alone": -0.485,
    },
)

BLOCKS = PairWeights(
    least=0.029,
    bias=-14.895,
    by_feature={
        "same region, close by": 0.184,
        "same region": 0.063,
        "of the move": 0.117,
        "part unnamed": -0.010,
        "neither region nor close": -0.063,
        "words between pole and part": 0.132,
        "length of pole words": 0.340,
        "axis height": -0.724,
        "axis breath": -0.152,
        "poles that agree": -0.303,
        "both poles in first": -0.624,
        "both poles in second": -1.793,
        "more poles in first": 0.577,
        "more poles in second": 0.893,
        "cues like first": -0.450,
        "cues like second": -0.064,
        "words with and without a not": 0.177,
        "words in common": 0.173,
        "same interval": -2.590,
        "first before its interval": -0.362,
        "second before its interval": -0.358,
        "length of second": 7.256,
        "insists in first": 0.141,
        "insists in second": -0.056,
        "change in first": -0.524,
        "change in second": 0.246,
        "option in first": -0.248,
        "option in second": -0.377,
        "oneself in second": -0.011,
        "fault seen in first": 0.185,
        "fault seen in second": 0.403,
        "goes back on something in second": 0.518,
        "part alone": -0.190,
        "first gives a point": 0.674,
        "opposed to the point": 1.171,
        "part of the point": 0.564,
        "words of the point": 0.045,
        "point alone": -0.061,
    },
)
