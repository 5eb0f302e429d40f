"""Weigh every word as evidence of which planned move is being done.

A word that belongs to one move of the plan and to few others speaks for it and against
them: its log-odds are those of the move having the word against the average move
having it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from reviewkit.matching import stem
from reviewkit.model import Lexicon, Mark, MoveEvidence, Plan, Talk
from reviewkit.movebook import known_move, pattern_of

# The share of a move's words that any other move may have too.
_COMMON = 0.15
_MUST_SAY = 0.35
_POINT = 0.2
_PATTERN = 0.15
_IDLE = frozenset(
    [
        "the",
        "a",
        "an",
        "and",
        "to",
        "of",
        "in",
        "on",
        "with",
        "your",
        "you",
        "it",
        "is",
        "that",
        "this",
        "we",
        "i",
        "up",
        "down",
        "out",
        "for",
        "at",
        "be",
        "are",
        "so",
        "all",
        "don't",
        "not",
        "no",
        "keep",
        "go",
        "get",
        "from",
        "into",
        "as",
        "by",
        "off",
        "over",
        "one",
        "or",
        "them",
        "they",
        "do",
    ]
)

Floats = NDArray[np.float64]


def weigh_moves(talk: Talk, plan: Plan, lexicon: Lexicon, mentions: Sequence[Mark]) -> MoveEvidence:
    """Give each word's log-odds for each of the plan's moves.

    Args:
        talk: The words of the class.
        plan: Names the moves.
        lexicon: Knows what else belongs to a move.
        mentions: Marks of kind ``move``; those of other moves speak against all planned.
    """
    moves = tuple(dict.fromkeys(row.move for row in plan.rows))
    place = {move: index for index, move in enumerate(moves)}
    count = len(talk.words)
    named = np.zeros((len(moves), count))
    for mark in mentions:
        if mark.ref in place:
            at = (place[mark.ref], mark.first)
            named[at] = max(named[at], mark.weight)
    cued = _cued(talk, moves, _move_words(plan, lexicon))
    return MoveEvidence(
        moves,
        tuple(tuple(row) for row in _against_average(named).tolist()),
        tuple(tuple(row) for row in _against_average(cued).tolist()),
        tuple(_side(word.norm) for word in talk.words),
    )


def _against_average(weights: Floats) -> Floats:
    if not weights.size:
        return weights
    odds: Floats = np.log((_COMMON + weights) / (_COMMON + weights.mean(axis=0)))
    return odds


def _move_words(plan: Plan, lexicon: Lexicon) -> dict[str, dict[str, float]]:
    """Weigh the stemmed words that belong to each move."""
    points = {point.id: point for point in lexicon.points}
    patterns = {pattern.id: pattern for pattern in lexicon.patterns}
    weights: dict[str, dict[str, float]] = {}
    for row in plan.rows:
        own = weights.setdefault(row.move, {})
        _add(own, " ".join(row.must_say), _MUST_SAY)
        known = known_move(row.move, lexicon)
        for name in known.points if known else ():
            if name in points:
                _add(own, points[name].say, _POINT)
        pattern = patterns.get(pattern_of(row.move, lexicon))
        if pattern is not None:
            _add(own, " ".join((*pattern.body_parts, *pattern.verbs)), _PATTERN)
    return weights


def _add(weights: dict[str, float], text: str, weight: float) -> None:
    for word in text.lower().replace("-", " ").replace(",", " ").split():
        if word not in _IDLE:
            key = stem(word)
            weights[key] = max(weights.get(key, 0.0), weight)


def _cued(talk: Talk, moves: Sequence[str], words: Mapping[str, Mapping[str, float]]) -> Floats:
    stems = [stem(word.norm) for word in talk.words]
    table = [[words[move].get(one, 0.0) for one in stems] for move in moves]
    return np.array(table).reshape(len(moves), len(stems))


def _side(norm: str) -> int:
    return {"left": 1, "right": -1}.get(norm, 0)
