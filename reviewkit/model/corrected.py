"""What a coach says against a review: each a record of its own, to be undone by itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

EdgeName = Literal["start", "end"]


@dataclass(frozen=True, slots=True)
class MovedEdge:
    """An interval began or ended at another moment; ``interval`` is its id."""

    interval: str
    edge: EdgeName
    at_ms: int


@dataclass(frozen=True, slots=True)
class NamedMove:
    """Another move was done in an interval; no move at all where ``move`` is empty."""

    interval: str
    move: str


@dataclass(frozen=True, slots=True)
class DoneInterval:
    """An interval that was not heard was done all the same, from one moment to another."""

    interval: str
    start_ms: int
    end_ms: int


@dataclass(frozen=True, slots=True)
class MarkedPoint:
    """A point of a move was given, by these words, or it was not."""

    move: str
    point: str
    verdict: Literal["said", "missing"]
    at_ms: int | None = None
    text: str = ""


@dataclass(frozen=True, slots=True)
class SetAside:
    """A finding the coach does not take up, and why; ``finding`` is its key."""

    finding: str
    reason: str


Correction = MovedEdge | NamedMove | DoneInterval | MarkedPoint | SetAside
