"""What was planned."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

PlanKind = Literal["warm-up", "work", "cool-down"]
Side = Literal["", "left", "right", "each"]


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One planned interval."""

    move: str
    work_ms: int
    block: str = "Main"
    kind: PlanKind = "work"
    round: int = 1
    side: Side = ""
    rest_ms: int | None = None
    must_say: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """A class as planned, rows in order; ``is_drafted`` when it was made from the talk."""

    source: str
    rows: tuple[PlanRow, ...]
    title: str = ""
    minutes: float | None = None
    is_drafted: bool = False
