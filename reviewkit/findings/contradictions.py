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


def find_contradictions(heard: HeardClass) -> tuple[Flag, ...]:
    """Flag the clearest contradictions of a class, in the order they were said."""
    weights = BLOCKS if heard.talk.clock == "blocks" else FINE
    best = []
    for move, pairs in find_pairs(heard).items():
        chances = [chance_of(pair.features, weights) for pair in pairs]
        if chances and max(chances) >= weights.least:
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
