"""What a cue sheet holds: everything a coach needs to see while filming, interval by interval.

Times are whole milliseconds from the start of the first interval.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from reviewkit.model import PlanRow, PointKind

# When a point can be said: in the rest before, in the first third, or only after that.
Place = Literal["before", "first third", "later"]
LastVerdict = Literal["", "missing", "late"]


@dataclass(frozen=True, slots=True)
class SpeakingRate:
    """How fast the coach speaks, in words a minute; ``is_own`` when it was measured."""

    words_per_min: float
    is_own: bool


@dataclass(frozen=True, slots=True)
class CuePoint:
    """A point to say: in the coach's words when the plan asks for it, else a suggestion.

    ``until_ms`` is the moment by which it can have been said when all points before it
    are said one after the other, with room to breathe.
    """

    text: str
    kind: PointKind
    is_suggested: bool
    place: Place
    until_ms: int
    last: LastVerdict = ""


@dataclass(frozen=True, slots=True)
class MomentCall:
    """A time call worth making; its last word should fall on ``at_ms``.

    ``short`` stands for it where room is scarce.
    """

    at_ms: int
    text: str
    short: str


@dataclass(frozen=True, slots=True)
class TalkTime:
    """The time that what must be said takes, and the time there is for it.

    ``needed_ms`` is speech alone; ``free_ms`` the rest before and the interval;
    ``over_ms`` by how much more than the free time is needed with room to breathe, 0 when
    it fits; ``suggested_over_ms`` the same with the suggestions said as well.
    """

    needed_ms: int
    free_ms: int
    over_ms: int
    suggested_over_ms: int


@dataclass(frozen=True, slots=True)
class Cue:
    """One planned interval on the sheet; ``again`` are points given in an earlier one.

    ``is_first`` marks the first interval of a move, where its points are due.
    ``is_breath_missing`` and ``are_ways_missing`` are set for a work interval when last
    time no breath was prompted, or no easier or harder way offered, for its move;
    ``calls_last`` tells the time calls in it that were wrong.
    """

    number: int
    row: PlanRow
    part: str
    start_ms: int
    end_ms: int
    points: tuple[CuePoint, ...]
    again: tuple[str, ...]
    breath: str
    easier: str
    harder: str
    calls: tuple[MomentCall, ...]
    time: TalkTime
    is_first: bool
    is_breath_missing: bool = False
    are_ways_missing: bool = False
    calls_last: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CueSheet:
    """A class to be filmed; ``last_source`` names the review that was looked at, if any."""

    title: str
    total_ms: int
    cues: tuple[Cue, ...]
    rate: SpeakingRate
    cautions: tuple[str, ...]
    last_source: str = ""
