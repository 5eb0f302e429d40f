"""What around a slot speaks for another move in it: named signs, each 0 to a few."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from operator import attrgetter

from reviewkit.model import Interval, Mark, MoveEvidence, Talk

# Where a move is named or given away: from a while before the start until a little after.
ANNOUNCED_MS = 20_000
GIVEN_AWAY_MS = 25_000
NAMED_AFTER_MS = 10_000
# Giving the last move's rest away may begin with the last words of that move.
BEFORE_FREE_MS = 1500
# The name that counts as the last one before the start may come this late.
LAST_NAMED_MS = 3000
# A word that starts this little before an edge is still counted to what comes after it.
_ON_EDGE_MS = 200
PLANNED = 1.0
LEAST_WEIGHT = 0.25
# How many words may lie between a name and the word that gives it away or takes it up.
CLOSE_WORDS = 4

_REFUSED = frozenset(
    (
        "no", "not", "without", "never", "skip", "skipping", "swap", "swapping", "replace",
        "replacing", "forget", "scrap", "drop",
    )
)  # fmt: skip
_INSTEAD = "instead"
_MOST_CALLS = 2.0
_LEAST_TALK, _MOST_TALK = -3.0, 4.0

SIGNS = (
    "called", "calls", "own name", "own name refused", "own name last", "own name missing",
    "other name", "other name instead", "other name last", "planned name last", "own talk",
    "other talk",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Near:
    """The marks around the start of one interval: moves named, and moves given away."""

    names: tuple[Mark, ...]
    calls: tuple[Mark, ...]


def find_near(one: Interval, free_ms: int, names: Sequence[Mark], calls: Sequence[Mark]) -> Near:
    """Gather the marks that may say which move an interval is.

    Args:
        one: The interval.
        free_ms: When the one before it ended.
        names: All moves named.
        calls: All words that give a move away.
    """
    if one.start is None or one.end is None:
        return Near((), ())
    high = min(one.end.at_ms, one.start.at_ms + NAMED_AFTER_MS)
    named_from = max(free_ms, one.start.at_ms - ANNOUNCED_MS)
    called_from = max(free_ms - BEFORE_FREE_MS, one.start.at_ms - GIVEN_AWAY_MS)
    return Near(
        tuple(mark for mark in names if named_from <= mark.start_ms < high),
        tuple(mark for mark in calls if called_from <= mark.start_ms < high),
    )


def swap_signs(one: Interval, near: Near, talk: Talk, evidence: MoveEvidence) -> dict[str, float]:
    """Give every sign of ``SIGNS`` for a slot that was done."""
    own = [mark for mark in near.names if mark.ref == one.move]
    others = [mark for mark in near.names if mark.value != PLANNED]
    refused = [mark for mark in own if _is_refused(mark, near.calls, talk)]
    kept = [mark for mark in own if mark not in refused]
    last = _last_named(one, [mark for mark in near.names if mark not in refused])
    own_talk, other_talk = _talk_for(one, talk, evidence)
    weights = [mark.weight for mark in near.calls]
    values = (
        max(weights, default=0.0),
        min(_MOST_CALLS, sum(weights)),
        max((mark.weight for mark in kept), default=0.0),
        float(bool(refused)),
        float(last is not None and last.ref == one.move),
        float(not own),
        min(1.0, sum(mark.weight for mark in others)),
        float(any(_is_instead(m, talk) for m in near.names if m.ref != one.move)),
        float(last is not None and last.value != PLANNED),
        float(last is not None and last.value == PLANNED and last.ref != one.move),
        own_talk,
        other_talk,
    )
    return dict(zip(SIGNS, values, strict=True))


def swap_odds(signs: Mapping[str, float], weights: Mapping[str, float], bias: float) -> float:
    """Give the log-odds that another move was done."""
    return bias + sum(weights.get(name, 0.0) * value for name, value in signs.items())


def _is_refused(name: Mark, calls: Sequence[Mark], talk: Talk) -> bool:
    """Tell whether a name is what is given away: "instead of burpees", "no burpees"."""
    before = {word.norm for word in talk.words[max(0, name.first - CLOSE_WORDS + 1) : name.first]}
    return bool(before & _REFUSED) or any(
        call.last < name.first <= call.last + CLOSE_WORDS + 1 and not call.text.endswith(_INSTEAD)
        for call in calls
    )


def _is_instead(name: Mark, talk: Talk) -> bool:
    """Tell whether a name is what is done in another's place: "star jumps instead (of burpees)"."""
    after = talk.words[name.last + 1 : name.last + 1 + CLOSE_WORDS]
    return any(word.norm == _INSTEAD for word in after)


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
    first, last = (
        bisect_left(talk.words, edge.at_ms - _ON_EDGE_MS, key=attrgetter("start_ms"))
        for edge in (one.start, one.end)
    )
    sums = {
        move: sum(row[first:last]) for move, row in zip(evidence.moves, evidence.cued, strict=True)
    }
    own = sums.pop(one.move)
    return _clipped(own), _clipped(max(sums.values(), default=0.0))


def _clipped(value: float) -> float:
    return max(_LEAST_TALK, min(_MOST_TALK, value))
