"""The truth about a labelled class: everything that was said and done, and when."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from reviewkit.model import Plan, Side, Status, Word


@dataclass(frozen=True, slots=True)
class SaidLine:
    """One line as spoken, with its labels and the plan's points that it gives.

    ``claimed_left`` is what the coach says is left: seconds, or a share of the interval
    when it is below 1.
    """

    start_ms: int
    end_ms: int
    text: str
    labels: tuple[str, ...]
    points: tuple[str, ...]
    claimed_left: float | None


@dataclass(frozen=True, slots=True)
class TrueInterval:
    """An interval as it really was; ``plan_row`` is None when nobody planned it.

    ``move`` is what was done; a swapped interval names the plan's in ``planned_move``.
    """

    plan_row: int | None
    move: str
    block: str
    round: int
    side: Side
    planned_ms: int | None
    start_ms: int
    end_ms: int
    status: Status
    planned_move: str | None

    @property
    def asked_move(self) -> str:
        """The move whose slot this is."""
        return self.planned_move or self.move


@dataclass(frozen=True, slots=True)
class Anomaly:
    """Something wrong on purpose; ``details`` depend on the kind."""

    kind: str
    details: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class LabelledClass:
    """A class of which everything is known; words, lines and intervals in time order."""

    name: str
    plan: Plan
    words: tuple[Word, ...]
    said: tuple[SaidLine, ...]
    intervals: tuple[TrueInterval, ...]
    anomalies: tuple[Anomaly, ...]
    length_ms: int
