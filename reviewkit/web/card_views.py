"""The records of a card, which tells of one thing chosen on a review's screen."""

from __future__ import annotations

from dataclasses import dataclass

from reviewkit.web.views import Moment, Said, Verdict


@dataclass(frozen=True, slots=True)
class ClockFields:
    """A moment as two number fields: whole minutes, and seconds with one decimal."""

    minutes: str
    seconds: str


@dataclass(frozen=True, slots=True)
class IntervalForm:
    """What can be said otherwise about an interval.

    ``moves`` are the plan's; ``done`` is the move as it stands. One that was not done has its
    expected place for edges.
    """

    interval: str
    is_done: bool
    start: ClockFields
    end: ClockFields
    moves: tuple[str, ...]
    done: str


@dataclass(frozen=True, slots=True)
class LineChoice:
    """A line of the talk that may have given a point; ``is_chosen`` where it is what was heard."""

    at_ms: int
    clock: str
    words: str
    is_chosen: bool


@dataclass(frozen=True, slots=True)
class PointForm:
    """What can be said otherwise about a point: the lines near its move, and all others."""

    move: str
    point: str
    verdict: str
    near: tuple[LineChoice, ...]
    others: tuple[LineChoice, ...]


@dataclass(frozen=True, slots=True)
class LexiconOffer:
    """A line for the coach's own lexicon: words that were marked as a way of saying a point.

    ``is_new_point`` where the lexicon has no such point yet.
    """

    words: str
    point: str
    file: str
    line: str
    is_new_point: bool = False


@dataclass(frozen=True, slots=True)
class CorrectionView:
    """A correction in words; ``item`` is what it is about, empty when that is gone."""

    id: int
    what: str
    reason: str
    at: Moment | None
    item: str
    offer: LexiconOffer | None


@dataclass(frozen=True, slots=True)
class Card:
    """One thing chosen: what it is, its verdict, words and reason, and what can be corrected.

    ``finding`` is the key under which it can be set aside, empty when it cannot.
    """

    item: str
    over: str
    title: str
    at: Moment | None
    verdict: Verdict | None = None
    facts: tuple[tuple[str, str], ...] = ()
    said: tuple[Said, ...] = ()
    reasons: tuple[str, ...] = ()
    instead: str = ""
    interval: IntervalForm | None = None
    point: PointForm | None = None
    finding: str = ""
    corrections: tuple[CorrectionView, ...] = ()
