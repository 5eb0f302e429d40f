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
    bias=-2.088,
    by_feature={
        "same region, close by": 0.613,
        "same region": 0.115,
        "of the move": 0.015,
        "part unnamed": -0.111,
        "neither region nor close": -0.115,
        "words between pole and part": 0.151,
        "length of pole words": 0.383,
        "axis height": -1.263,
        "axis breath": -0.029,
        "poles that agree": -0.576,
        "both poles in first": -1.510,
        "both poles in second": -2.699,
        "more poles in first": 0.582,
        "more poles in second": 1.302,
        "cues like first": -0.268,
        "cues like second": -0.324,
        "words with and without a not": 0.551,
        "words in common": 0.422,
        "same interval": -3.048,
        "first before its interval": -1.349,
        "second before its interval": -3.044,
        "length of second": -0.314,
        "insists in first": 0.156,
        "insists in second": -0.128,
        "change in first": -1.563,
        "change in second": 0.763,
        "option in first": -0.698,
        "option in second": -0.494,
        "oneself in second": -0.650,
        "fault seen in first": 0.047,
        "fault seen in second": 0.267,
        "goes back on something in second": 0.805,
        "part alone": -0.142,
        "first gives a point": -0.156,
        "opposed to the point": 0.989,
        "part of the point": 0.727,
        "words of the point": 0.119,
        "point alone": -0.497,
    },
)

BLOCKS = PairWeights(
    least=0.044,
    bias=-13.941,
    by_feature={
        "same region, close by": 0.139,
        "same region": 0.091,
        "of the move": 0.134,
        "part unnamed": -0.055,
        "neither region nor close": -0.091,
        "words between pole and part": 0.085,
        "length of pole words": 0.335,
        "axis height": -0.867,
        "axis breath": 0.017,
        "poles that agree": -0.274,
        "both poles in first": -0.692,
        "both poles in second": -1.874,
        "more poles in first": 0.491,
        "more poles in second": 0.974,
        "cues like first": -0.378,
        "cues like second": -0.061,
        "words with and without a not": 0.216,
        "words in common": 0.189,
        "same interval": -2.670,
        "first before its interval": -0.437,
        "second before its interval": -0.577,
        "length of second": 6.640,
        "insists in first": 0.139,
        "insists in second": -0.007,
        "change in first": -0.454,
        "change in second": 0.169,
        "option in first": -0.131,
        "option in second": -0.202,
        "oneself in second": 0.031,
        "fault seen in first": 0.149,
        "fault seen in second": 0.522,
        "goes back on something in second": 0.519,
        "part alone": -0.210,
        "first gives a point": 0.673,
        "opposed to the point": 1.215,
        "part of the point": 0.484,
        "words of the point": 0.035,
        "point alone": -0.113,
    },
)
