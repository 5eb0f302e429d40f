"""Flag cues for the same move that ask for opposite things.

Each pair of opposed cues gets a chance of being a contradiction, from weights fitted on
labelled classes. At most one pair a move is flagged.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp

from reviewkit.findings.contradiction_weights import BLOCKS, FINE, PairWeights
from reviewkit.findings.cue_pairs import FEATURES, Pair, find_pairs
from reviewkit.findings.cues import Cue
from reviewkit.findings.given_points import Given
from reviewkit.model import Flag, HeardClass

KIND = "contradiction"


def find_contradictions(heard: HeardClass, given: Sequence[Given] = ()) -> tuple[Flag, ...]:
    """Flag the clearest contradictions of a class, in the order they were said.

    Args:
        heard: The class.
        given: Where the plan's points were given.
    """
    weights = BLOCKS if heard.talk.clock == "blocks" else FINE
    best = []
    for move, pairs in find_pairs(heard, given).items():
        chances = [chance_of(pair.features, weights) for pair in pairs]
        if chances and max(chances) >= weights.least:
            best.append((move, pairs[chances.index(max(chances))]))
    flags = [_flag(move, pair) for move, pair in best]
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
