"""Weigh every word as evidence of which planned move is being done.

Four things tell a move: its name, the points the plan wants said for it, in whatever
words, words that the lexicon has for it, and words that coaches say in moves of its kind.
What speaks for one move of the plan and for few others counts for it and against them: its
log-odds are those of the move having it against the average move having it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from reviewkit.frames.evidence import Ask, Evidence, weigh_evidence
from reviewkit.frames.utterances import split_utterances
from reviewkit.language.matching import stem
from reviewkit.language.movebook import known_move, pattern_of
from reviewkit.language.wordsets import word_set
from reviewkit.marks.kind_words import KIND_WEIGHTS, told_apart, usual_kinds, weigh_kinds
from reviewkit.model import Lexicon, Mark, MoveEvidence, Plan, Talk, Weights

# The chance that any move is named, or any of its points heard, by accident.
_COMMON_NAME = 0.15
_COMMON_POINT = 0.1
_COMMON_WORD = 0.15
# How much words count that merely go with a move.
_WORDS = 0.4
_MUST_SAY = 0.35
_POINT = 0.2
_PATTERN = 0.15
# How much words count that were said in other classes' moves of the same pattern.
_KIND = 0.3
_IDLE = word_set(
    "the a an and to of in on with your you it is that this we i up down out for at be are so "
    "all don't not no keep go get from into as by off over one or them they do"
)
# Logistic regression of "this utterance gives this point" on labelled classes, knowing
# nothing of when intervals are.
_GIVES_POINT = {
    "cover": 1.5, "parts": 1.2, "poles": 0.3, "both": -0.3, "reverse": 2.1, "matched": 0.9,
    "kin": 1.4, "closest": 3.3,
}  # fmt: skip
_GIVES_BIAS = -3.0
_GIVES_LINK, _GIVES_BEST, _GIVES_ANY, _GIVES_LENGTH = -4.5, 3.2, 0.5, -1.4
_GIVES_USUAL_COVER, _GIVES_USUAL_KIN = -0.9, -1.4

Floats = NDArray[np.float64]


def weigh_moves(
    talk: Talk,
    plan: Plan,
    lexicon: Lexicon,
    mentions: Sequence[Mark],
    extra_calls: Sequence[Mark] = (),
) -> MoveEvidence:
    """Give each word's log-odds for each of the plan's moves.

    Args:
        talk: The words of the class.
        plan: Names the moves and their points.
        lexicon: Knows what else belongs to a move.
        mentions: Marks of kind ``move``.
        extra_calls: Marks of kind ``extra_call``.
    """
    moves = tuple(dict.fromkeys(row.move for row in plan.rows))
    place = {move: index for index, move in enumerate(moves)}
    named = np.zeros((len(moves), len(talk.words)))
    for mark in mentions:
        if mark.ref in place:
            at = (place[mark.ref], mark.first)
            named[at] = max(named[at], mark.weight)
    going_with = _going_with(talk, moves, _move_words(plan, lexicon))
    cued = _WORDS * _against_average(going_with, _COMMON_WORD)
    cued = cued + _points_given(talk, plan, lexicon, place)
    kind_weights = lexicon.weights.get(KIND_WEIGHTS)
    kinds, own_kinds = weigh_kinds(talk, kind_weights), _own_kinds(moves, kind_weights, lexicon)
    cued = cued + _KIND * told_apart(kinds, own_kinds)
    return MoveEvidence(
        moves,
        tuple(tuple(row) for row in _against_average(named, _COMMON_NAME).tolist()),
        tuple(tuple(row) for row in cued.tolist()),
        tuple(_side(word.norm) for word in talk.words),
        _unplanned(talk, extra_calls),
        tuple(tuple(row) for row in kinds.tolist()),
        usual_kinds(kind_weights),
        own_kinds,
    )


def _own_kinds(moves: Sequence[str], weights: Weights | None, lexicon: Lexicon) -> tuple[int, ...]:
    """Give the place of each move's pattern among those that words are known for."""
    outputs = () if weights is None else weights.outputs
    place = {pattern: at for at, pattern in enumerate(outputs)}
    return tuple(place.get(pattern_of(move, lexicon), -1) for move in moves)


def _against_average(weights: Floats, common: float) -> Floats:
    if not weights.size:
        return weights
    odds: Floats = np.log((common + weights) / (common + weights.mean(axis=0)))
    return odds


def _unplanned(talk: Talk, calls: Sequence[Mark]) -> tuple[float, ...]:
    weights = [0.0] * len(talk.words)
    for mark in calls:
        weights[mark.first] = max(weights[mark.first], mark.weight)
    return tuple(weights)


def _side(norm: str) -> int:
    return {"left": 1, "right": -1}.get(norm, 0)


# --- points ---------------------------------------------------------------------------


def _points_given(talk: Talk, plan: Plan, lexicon: Lexicon, place: Mapping[str, int]) -> Floats:
    """Give each utterance's log-odds for each move, at the utterance's first word."""
    odds = np.zeros((len(place), len(talk.words)))
    asked = list(dict.fromkeys((row.move, text) for row in plan.rows for text in row.must_say))
    utterances = [one for one in split_utterances(talk) if not one.is_joined]
    if not asked or not utterances or not lexicon.points:
        return odds
    chances = _chances(weigh_evidence(utterances, [Ask(text) for _, text in asked], lexicon))
    best = np.zeros((len(place), len(utterances)))
    for column, (move, _) in enumerate(asked):
        best[place[move]] = np.maximum(best[place[move]], chances[:, column])
    firsts = [one.line.first for one in utterances]
    odds[:, firsts] = _against_average(best, _COMMON_POINT)
    return odds


def _chances(evidence: Evidence) -> Floats:
    """Give the chance that an utterance (row) gives a point (column)."""
    total = _GIVES_BIAS + sum(
        weight * getattr(evidence, name) for name, weight in _GIVES_POINT.items()
    )
    total = total + _GIVES_BEST * np.maximum(evidence.cover, evidence.kin)
    total = total + _GIVES_LINK * evidence.link[None, :]
    total = total + _GIVES_ANY * evidence.any_point[:, None]
    total = total + _GIVES_LENGTH * np.log1p(evidence.terms)[:, None]
    total = total + _GIVES_USUAL_COVER * evidence.cover.mean(axis=0)[None, :]
    total = total + _GIVES_USUAL_KIN * evidence.kin.mean(axis=0)[None, :]
    chances: Floats = 1 / (1 + np.exp(-total))
    return chances


# --- words that go with a move ----------------------------------------------------------


def _move_words(plan: Plan, lexicon: Lexicon) -> dict[str, dict[str, float]]:
    """Weigh the stemmed words that go with each move."""
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


def _going_with(
    talk: Talk, moves: Sequence[str], words: Mapping[str, Mapping[str, float]]
) -> Floats:
    stems = [stem(word.norm) for word in talk.words]
    table = [[words[move].get(one, 0.0) for one in stems] for move in moves]
    return np.array(table).reshape(len(moves), len(stems))
