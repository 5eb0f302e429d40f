"""Tell warm-up, main part and cool-down of a drafted plan apart."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from reviewkit.drafting.spans import WorkSpan
from reviewkit.language.wordsets import word_set
from reviewkit.model import PlanKind, Talk

_WARM = word_set("warm warmup warming loosen wake mobilise mobilize")
_MAIN = word_set("main proper workout block round circuit set real work")
_COOL = word_set("cool cooldown cooling stretch stretches stretching unwind wind settle")
_KINDS: tuple[PlanKind, ...] = ("warm-up", "work", "cool-down")
# A warm-up takes at most this share of the intervals, a cool-down too.
_MOST_SHARE = 0.4
_LONG_PAUSE = 1.6
_LEAST_SCORE = 2.0


def kinds_of(talk: Talk, spans: Sequence[WorkSpan]) -> tuple[PlanKind, ...]:
    """Give each span its kind.

    A warm-up must be spoken of, and ends where the coach turns to the main part or
    pauses; a cool-down begins where it is spoken of near the end.
    """
    if not spans:
        return ()
    said = _said_before(talk, spans)
    gaps = [0, *(b.start_ms - a.end_ms for a, b in pairwise(spans))]
    warm = _warm_count(talk, spans, said, gaps)
    cool = _cool_count(said, warm)
    main = len(spans) - warm - cool
    return (*_KINDS[:1] * warm, *_KINDS[1:2] * main, *_KINDS[2:] * cool)


def _said_before(talk: Talk, spans: Sequence[WorkSpan]) -> list[frozenset[str]]:
    """Give the words said between each span and the one before it."""
    said, free_ms = [], 0
    for span in spans:
        between = (word.norm for word in talk.words if free_ms <= word.start_ms < span.start_ms)
        said.append(frozenset(between))
        free_ms = span.end_ms
    return said


def _usual(gaps: Sequence[int]) -> int:
    return sorted(gaps[1:])[len(gaps[1:]) // 2] if len(gaps) > 1 else 0


def _turn(words: frozenset[str], gap: int, usual: int, sought: frozenset[str]) -> float:
    """Say how much a gap looks like the turn to another part."""
    is_long = gap > _LONG_PAUSE * usual and gap > usual + 5000
    return 1.5 * bool(words & sought) + (1.0 if is_long else 0.0)


def _warm_count(
    talk: Talk, spans: Sequence[WorkSpan], said: Sequence[frozenset[str]], gaps: Sequence[int]
) -> int:
    opening = {word.norm for word in talk.words if word.start_ms < spans[0].end_ms}
    if not opening & _WARM:
        return 0
    places = range(1, int(_MOST_SHARE * len(spans)) + 1)
    scores = {at: _turn(said[at], gaps[at], _usual(gaps), _MAIN) for at in places}
    best = max(scores, key=lambda at: (scores[at], -at), default=0)
    return best if best and scores[best] >= _LEAST_SCORE else min(1, len(spans) - 1)


def _cool_count(said: Sequence[frozenset[str]], warm: int) -> int:
    first = max(warm + 1, len(said) - int(_MOST_SHARE * len(said)))
    for at in range(first, len(said)):
        if said[at] & _COOL:
            return len(said) - at
    return 0
