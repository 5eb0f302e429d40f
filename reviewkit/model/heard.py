"""What was heard in the talk, and when each interval was."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from reviewkit.model.lexicon import Lexicon, Weights
from reviewkit.model.plan import Plan, PlanKind, Side
from reviewkit.model.talk import Talk

Label = Literal[
    "form", "safety", "breathing", "option", "motivation", "time_call", "announcement", "rest"
]
Status = Literal["done", "skipped", "swapped", "added"]
Timing = Literal["on time", "long", "short", "unclear"]
# What a move is called that nobody planned and the talk does not name.
UNNAMED = "Unnamed move"


@dataclass(frozen=True, slots=True)
class Mark:
    """Something heard: words ``first`` to ``last`` (inclusive) and what they stand for.

    ``kind`` names the detector ("move", "count", "time_call", "breathing", ...),
    ``ref`` what exactly was heard (a move's name, a point's id, "halfway", ...),
    ``value`` a number that goes with it (seconds left, the count reached), ``weight`` how
    sure it is, 0 to 1.
    """

    kind: str
    first: int
    last: int
    start_ms: int
    end_ms: int
    text: str
    ref: str = ""
    value: float | None = None
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class Moment:
    """A moment that may be an edge: before word ``word`` or in the silence before it.

    ``start`` and ``end`` are the log-odds that an interval starts or ends here;
    ``spread_ms`` is how far off the moment may be, in nine cases of ten. ``short`` and
    ``long`` are how much the talk around it says that an interval that ended here was cut
    short, or ran over (log-likelihood ratios).
    """

    at_ms: int
    word: int
    spread_ms: int
    start: float
    end: float
    short: float = 0.0
    long: float = 0.0

    def weighed(self, start: float, end: float) -> Moment:
        """Give the moment with other log-odds; a class has thousands, too many to ``replace``."""
        return Moment(self.at_ms, self.word, self.spread_ms, start, end, self.short, self.long)


@dataclass(frozen=True, slots=True, eq=False)
class Signs:
    """What a coach's own habits are told by, at each of M moments and at each of n words.

    ``at`` has one sign of each kind per moment; ``moments`` and ``words`` are what the
    network of edges makes of them before its last layer, shapes (M, width) and (n, width).
    ``weights`` say how much each counts once the class has shown the habit.
    """

    kinds: tuple[str, ...]
    at: tuple[tuple[str, ...], ...]
    moments: NDArray[np.float64]
    words: NDArray[np.float64]
    weights: Weights


@dataclass(frozen=True, slots=True)
class EdgeEvidence:
    """What the talk says of edges: moments in time order, and how much each word sounds
    like talk during work rather than between intervals (log-odds, one per word).

    ``signs`` are the moments', None where no habit can be learned.
    """

    moments: tuple[Moment, ...]
    work: tuple[float, ...]
    signs: Signs | None = None


@dataclass(frozen=True, slots=True)
class MoveEvidence:
    """How much each word speaks for each planned move against the others.

    ``named`` are log-odds from names, ``cued`` from words that belong to a move (its
    points, body parts, verbs); both have one row per move of ``moves`` and one entry per
    word. ``sides`` are +1 for words that say left, -1 for right, else 0; ``unplanned`` is
    how plainly a word announces an interval that the plan does not have. ``kinds`` has one
    row per movement pattern, planned or not, ``usual_kinds`` how usual each is in any class,
    and ``own_kinds`` the row of each move's, -1 when it has none.
    """

    moves: tuple[str, ...]
    named: tuple[tuple[float, ...], ...]
    cued: tuple[tuple[float, ...], ...]
    sides: tuple[int, ...]
    unplanned: tuple[float, ...]
    kinds: tuple[tuple[float, ...], ...] = ()
    usual_kinds: tuple[float, ...] = ()
    own_kinds: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Edge:
    """A start or end: the best guess and the range that holds the truth 9 times in 10."""

    at_ms: int
    low_ms: int
    high_ms: int

    def __post_init__(self) -> None:
        if not self.low_ms <= self.at_ms <= self.high_ms:
            raise ValueError(f"edge {self.at_ms} outside {self.low_ms} to {self.high_ms} ms")


@dataclass(frozen=True, slots=True)
class Interval:
    """A planned interval as it happened, or one that nobody planned.

    ``plan_row`` is the 1-based plan row, None when added; ``start`` and ``end`` are None
    when skipped; ``certainty`` is the chance that ``status`` is right, 0 to 1.
    """

    id: str
    plan_row: int | None
    block: str
    kind: PlanKind
    round: int
    move: str
    side: Side
    planned_ms: int | None
    status: Status
    start: Edge | None
    end: Edge | None
    length_low_ms: int | None
    length_high_ms: int | None
    timing: Timing | None
    planned_rest_ms: int | None
    rest_after_ms: int | None
    done_instead: str = ""
    certainty: float = 1.0
    by_coach: bool = False
    set_aside: str = ""

    @property
    def length_ms(self) -> int | None:
        """Length as done, None when skipped."""
        return None if self.start is None or self.end is None else self.end.at_ms - self.start.at_ms

    @property
    def move_done(self) -> str:
        """The move that was really done: the other one in a swapped slot."""
        return self.done_instead or self.move


@dataclass(frozen=True, slots=True)
class HeardClass:
    """What the findings are made from: plan, talk, marks and intervals of one class."""

    plan: Plan
    talk: Talk
    marks: tuple[Mark, ...]
    intervals: tuple[Interval, ...]
    lexicon: Lexicon
