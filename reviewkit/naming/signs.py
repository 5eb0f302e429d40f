"""What around a slot speaks for another move in it: named signs and single words.

The named signs, each 0 to a few, tell which moves are named and given away, and how.
Words count by themselves ("instead", "hurt") and by standing right before or after a
name: ``own < no`` is a "no" just before the planned move, ``other > today`` a "today" just
after a move that is in no plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from reviewkit.language.matching import stem
from reviewkit.model import Interval, Mark, MoveEvidence, Talk
from reviewkit.naming.around import LEAST_WEIGHT, Near, words_between
from reviewkit.naming.mentions import How, words_after, words_before

# The name that counts as the last one before the start may come this late.
LAST_NAMED_MS = 3000
# A word that starts this little before an edge is still counted to what comes after it.
_ON_EDGE_MS = 200
PLANNED = 1.0

_MOST_CALLS = 2.0
_LEAST_TALK, _MOST_TALK = -3.0, 4.0
_WORDS_BEFORE, _WORDS_AFTER = 4, 6

SIGNS = (
    "given up", "planned otherwise", "maybe given up", "calls", "own name", "own refused",
    "own given away", "own last", "own missing", "other announced", "other named",
    "other offered", "other instead", "other last", "planned announced", "planned last",
    "own talk", "other talk", "other named, own missing", "own kind", "another kind",
)  # fmt: skip
OWN, OTHER, PLANNED_OTHER = "own", "other", "planned"
WORD = "word"
Named = Sequence[tuple[Mark, How]]


def swap_signs(one: Interval, near: Near, talk: Talk, evidence: MoveEvidence) -> dict[str, float]:
    """Give every sign of ``SIGNS`` for a slot that was done, and one for each word heard."""
    own = [(mark, how) for mark, how in near.mentions if mark.ref == one.move]
    planned = [
        (mark, how) for mark, how in near.mentions if mark.ref != one.move and mark.value == PLANNED
    ]
    others = [(mark, how) for mark, how in near.mentions if mark.value != PLANNED]
    to_do = [(mark, how) for mark, how in others if how.is_to_do]
    kept = [mark for mark, how in own if how.is_kept]
    last = _last_named(one, [mark for mark, how in near.mentions if how.is_kept])
    own_talk, other_talk = _talk_for(one, talk, evidence)
    own_kind, another_kind = _kind_of_talk(one, talk, evidence)
    labels = {mark.ref for mark in near.calls}
    other = min(1.0, sum(mark.weight for mark, _ in to_do))
    values = (
        float("swap" in labels),
        float("plan" in labels),
        float("maybe" in labels),
        min(_MOST_CALLS, sum(mark.weight for mark in near.calls)),
        max((mark.weight for mark in kept), default=0.0),
        float(any(how.is_refused for _, how in own)),
        float(_is_given_away(own)),
        float(last is not None and last.ref == one.move),
        float(not own),
        max((mark.weight for mark, how in to_do if how.is_announced), default=0.0),
        other,
        max((mark.weight for mark, how in others if how.is_offered), default=0.0),
        float(any(how.is_instead for mark, how in near.mentions if mark.ref != one.move)),
        float(last is not None and last.value != PLANNED),
        max((mark.weight for mark, how in planned if how.is_announced), default=0.0),
        float(last is not None and last.value == PLANNED and last.ref != one.move),
        own_talk,
        other_talk,
        other * (not kept),
        own_kind,
        another_kind,
    )
    return dict(zip(SIGNS, values, strict=True)) | dict.fromkeys(_words(one, near, talk), 1.0)


def swap_odds(signs: Mapping[str, float], weights: Mapping[str, float], bias: float) -> float:
    """Give the log-odds that another move was done."""
    return bias + sum(weights.get(name, 0.0) * value for name, value in signs.items())


def _words(one: Interval, near: Near, talk: Talk) -> set[str]:
    """Name every word heard, and every word right before or after a move's name."""
    found = {f"{WORD} {stem(talk.words[at].norm)}" for at in near.words}
    for mark, _ in near.mentions:
        if mark.ref == one.move:
            name = OWN
        elif mark.weight < LEAST_WEIGHT:
            continue
        else:
            name = PLANNED_OTHER if mark.value == PLANNED else OTHER
        found |= {f"{name} < {stem(w)}" for w in words_before(mark, talk, _WORDS_BEFORE)}
        found |= {f"{name} > {stem(w)}" for w in words_after(mark, talk, _WORDS_AFTER)}
    return found


def _is_given_away(own: Named) -> bool:
    """Tell whether a move is refused and not named again after that."""
    refused = [mark.first for mark, how in own if how.is_refused]
    kept = [mark.first for mark, how in own if how.is_kept]
    return bool(refused) and max(kept, default=-1) < max(refused)


def _last_named(one: Interval, names: Sequence[Mark]) -> Mark | None:
    """Give the surest of the last names before the start."""
    if one.start is None:
        return None
    limit_ms = one.start.at_ms + LAST_NAMED_MS
    sure = [mark for mark in names if mark.weight >= LEAST_WEIGHT and mark.start_ms < limit_ms]
    return max(sure, key=lambda mark: (mark.first, mark.last, mark.weight), default=None)


def _talk_for(one: Interval, talk: Talk, evidence: MoveEvidence) -> tuple[float, float]:
    """Say how much the talk inside a slot speaks for its move, and for the likeliest other."""
    if one.start is None or one.end is None or one.move not in evidence.moves:
        return 0.0, 0.0
    inside = words_between(talk, one.start.at_ms - _ON_EDGE_MS, one.end.at_ms - _ON_EDGE_MS)
    sums = {
        move: sum(row[inside.start : inside.stop])
        for move, row in zip(evidence.moves, evidence.cued, strict=True)
    }
    own = sums.pop(one.move)
    return _clipped(own), _clipped(max(sums.values(), default=0.0))


def _kind_of_talk(one: Interval, talk: Talk, evidence: MoveEvidence) -> tuple[float, float]:
    """Say how much the words inside a slot are of its move's kind, and of a likelier kind.

    Each word counts once: what is said over and over tells no more.
    """
    if one.start is None or one.end is None or one.move not in evidence.moves:
        return 0.0, 0.0
    own = evidence.own_kinds[evidence.moves.index(one.move)] if evidence.own_kinds else -1
    inside = words_between(talk, one.start.at_ms - _ON_EDGE_MS, one.end.at_ms - _ON_EDGE_MS)
    first_said = {stem(talk.words[at].norm): at for at in reversed(inside)}.values()
    if own < 0 or not first_said:
        return 0.0, 0.0
    sums = [
        usual + sum(row[at] for at in first_said)
        for usual, row in zip(evidence.usual_kinds, evidence.kinds, strict=True)
    ]
    return _clipped(sums[own]), _clipped(max(sums) - sums[own])


def _clipped(value: float) -> float:
    return max(_LEAST_TALK, min(_MOST_TALK, value))
