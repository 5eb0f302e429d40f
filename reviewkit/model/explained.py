"""Why an interval was put where it is: moments weighed, and what speaks for each."""

from __future__ import annotations

from dataclasses import dataclass

from reviewkit.model.heard import Edge, Interval


@dataclass(frozen=True, slots=True)
class Reason:
    """Something heard, in words, and how much it counts, in log-odds (negative: against)."""

    text: str
    weight: float


@dataclass(frozen=True, slots=True)
class Candidate:
    """A moment that may be the edge.

    ``chance`` is of all placements, given that the row was done; ``odds`` are what the
    talk around the moment says alone, the sum of ``reasons``, which come strongest
    first. ``before`` and ``after`` are the words on both sides.
    """

    at_ms: int
    chance: float
    odds: float
    before: str
    after: str
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class EdgeExplanation:
    """The edge as found (None when skipped), the moment it hangs on, and the runners-up."""

    edge: Edge | None
    taken: Candidate | None
    others: tuple[Candidate, ...]


@dataclass(frozen=True, slots=True)
class LengthExplanation:
    """How much a length counts, in log-odds, against the one this class leads to expect.

    ``remarked`` is how much the talk around the end says that the length was off, the way it
    is; None when it is not.
    """

    length_ms: int
    expected_ms: int
    weight: float
    expected_weight: float
    remarked: float | None = None


@dataclass(frozen=True, slots=True)
class Explanation:
    """Why one planned row was put where it is.

    ``names`` and ``cues`` are what was heard for or against the row's move, around the
    start and inside, in order of time. Rests are before the interval.
    """

    interval: Interval
    start: EdgeExplanation
    end: EdgeExplanation
    length: LengthExplanation | None
    rest_before_ms: int | None
    planned_rest_before_ms: int | None
    names: tuple[Reason, ...]
    cues: tuple[Reason, ...]
