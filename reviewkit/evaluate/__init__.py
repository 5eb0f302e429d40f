"""Measure reviews against labelled classes: how right rows, edges, points and calls are.

``judge`` sets one review document beside the truth of its class, ``figures`` pools any
number of outcomes, ``misses`` names what went wrong.
"""

from reviewkit.evaluate.figures import Figures, Tally, figures, tally
from reviewkit.evaluate.judge import judge
from reviewkit.evaluate.misses import misses
from reviewkit.evaluate.outcome import Match, Outcome
from reviewkit.evaluate.truth import Anomaly, LabelledClass, SaidLine, TrueInterval

__all__ = [
    "Anomaly",
    "Figures",
    "LabelledClass",
    "Match",
    "Outcome",
    "SaidLine",
    "Tally",
    "TrueInterval",
    "figures",
    "judge",
    "misses",
    "tally",
]
