"""Flag cues for the same move that ask for opposite things.

Each pair of opposed cues gets a chance of being a contradiction, from weights fitted on
labelled classes. At most one pair a move is flagged, and beyond the two likeliest of a
class only those that are surer.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp

from reviewkit.findings.contradiction_weights import BLOCKS, FINE, PairWeights
from reviewkit.findings.cue_pairs import FEATURES, Cue, Pair, find_pairs
from reviewkit.model import Flag, HeardClass

KIND = "contradiction"
# A coach who contradicts more cues than this in one class was most likely mis-heard, unless
# the others are likelier than this.
MOST = 2
FURTHER = 0.2
# Where one stamp covers many words, which move a cue is of is less sure: pairs must be a
# little likelier than the fit asks. In 57 new voices 42 of 72 are told at 0.06 with 21 false,
# and 43 with 30 at the 0.04 of the fit.
LEAST_IN_BLOCKS = 0.05


def find_contradictions(heard: HeardClass) -> tuple[Flag, ...]:
    """Flag the clearest contradictions of a class, in the order they were said."""
    in_blocks = heard.talk.clock == "blocks"
    weights = BLOCKS if in_blocks else FINE
    least = max(weights.least, LEAST_IN_BLOCKS) if in_blocks else weights.least
    best = []
    for move, pairs in find_pairs(heard).items():
        chances = [chance_of(pair.features, weights) for pair in pairs]
        if chances and max(chances) >= least:
            best.append((max(chances), move, pairs[chances.index(max(chances))]))
    best.sort(key=lambda one: one[0], reverse=True)
    flags = [
        _flag(move, pair)
        for place, (chance, move, pair) in enumerate(best)
        if place < MOST or chance >= FURTHER
    ]
    return tuple(sorted(flags, key=lambda flag: flag.at_ms))


def chance_of(features: Sequence[float], weights: PairWeights) -> float:
    """Give the chance that a pair with these features is a contradiction."""
    total = weights.bias + sum(
        weights.by_feature[name] * value for name, value in zip(FEATURES, features, strict=True)
    )
    return 1 / (1 + exp(-total))


def _flag(move: str, pair: Pair) -> Flag:
    one, two = (_line(cue) for cue in (pair.first, pair.second))
    interval = pair.second.interval
    return Flag(
        kind=KIND,
        at_ms=two[0],
        move=interval.move,
        round=interval.round,
        text=two[1],
        why=f"Earlier in {move} the opposite was asked for; say which one holds, or for whom.",
        interval=interval.id,
        other_at_ms=one[0],
        other_text=one[1],
    )


def _line(cue: Cue) -> tuple[int, str]:
    return cue.utterance.line.start_ms, cue.utterance.line.text
