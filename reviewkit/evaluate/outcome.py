"""What came of one review beside the truth, item by item. Times are seconds."""

from __future__ import annotations

from dataclasses import dataclass

# A drift between the two is neither clearly there nor clearly absent: it counts for nothing.
CLEAR_DRIFT_S = 5.0
NO_DRIFT_S = 2.0


@dataclass(frozen=True, slots=True)
class EdgeOutcome:
    """A true moment, the one found for it, and the range given with it."""

    true_s: float
    found_s: float
    low_s: float | None
    high_s: float | None

    @property
    def error_s(self) -> float:
        """How much too late the found moment is."""
        return self.found_s - self.true_s

    @property
    def width_s(self) -> float | None:
        """How wide the range is, None without a range."""
        return None if self.low_s is None or self.high_s is None else self.high_s - self.low_s

    @property
    def is_held(self) -> bool | None:
        """Whether the range holds the truth, None without a range."""
        if self.low_s is None or self.high_s is None:
            return None
        return self.low_s - 1e-6 <= self.true_s <= self.high_s + 1e-6


@dataclass(frozen=True, slots=True)
class RowOutcome:
    """One plan row: its true status and the found one, and edges where both have them."""

    place: str
    status: str
    found_status: str
    planned_s: float
    edges: tuple[EdgeOutcome, ...] = ()
    timing: str | None = None

    @property
    def drift_s(self) -> float:
        """True length less plan; only for rows with edges."""
        return self.edges[1].true_s - self.edges[0].true_s - self.planned_s

    @property
    def found_drift_s(self) -> float:
        """Found length less plan; only for rows with edges."""
        return self.edges[1].found_s - self.edges[0].found_s - self.planned_s

    @property
    def wanted_timing(self) -> str | None:
        """What the review should say of the length, None where either would do."""
        if abs(self.drift_s) >= CLEAR_DRIFT_S:
            return "long" if self.drift_s > 0 else "short"
        return "on time" if abs(self.drift_s) <= NO_DRIFT_S else None


@dataclass(frozen=True, slots=True)
class PointOutcome:
    """One of the plan's points: the true verdict and the found one."""

    move: str
    point: str
    verdict: str
    found: str | None

    @property
    def is_right(self) -> bool:
        """Whether the point was rightly called given or missing; late is given."""
        return self.found is not None and (self.verdict == "missing") == (self.found == "missing")


@dataclass(frozen=True, slots=True)
class Match:
    """Something of a kind that is there, was found, or both."""

    kind: str
    name: str
    is_true: bool
    is_found: bool


@dataclass(frozen=True, slots=True)
class Outcome:
    """Everything that one review got right and wrong, item by item."""

    rows: tuple[RowOutcome, ...]
    points: tuple[PointOutcome, ...]
    added: tuple[Match, ...]
    silent_moves: tuple[Match, ...]
    calls: tuple[Match, ...]
    wrong_calls: tuple[Match, ...]
    promises: tuple[Match, ...]
    flags: tuple[Match, ...]
