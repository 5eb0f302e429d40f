"""Scenes: what is said around the beginning of one interval, done as planned or not.

``fixtures/lines/slots.csv`` holds them; lines are separated by `` / ``.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from reviewkit.model import Edge, Interval, Plan, PlanRow, Talk
from tests.corpus import FIXTURES
from tests.talking import talk

SCENES = FIXTURES / "lines" / "slots.csv"
WORK_MS = 40_000
# Between two lines a coach draws breath.
_PAUSE = " [0.5] "


@dataclass(frozen=True, slots=True)
class Scene:
    """What is said around one slot of a plan, and what was done in it."""

    voice: str
    plan: Plan
    slot: Interval
    done: str
    talk: Talk

    @property
    def is_swapped(self) -> bool:
        """Whether another move was done than planned."""
        return self.done != self.slot.move


def load_scenes(path: Path = SCENES) -> Iterator[Scene]:
    """Give every scene, its slot beginning with the first word said after the start."""
    with path.open(encoding="utf-8", newline="") as file:
        for line in csv.DictReader(file):
            moves = [move.strip() for move in line["plan"].split(";")]
            plan = Plan("", tuple(PlanRow(move, WORK_MS) for move in moves))
            before = talk(line["before"].replace(" / ", _PAUSE))
            start_ms = before.length_ms + 500
            after = talk(line["after"].replace(" / ", _PAUSE), start_ms=start_ms)
            said = Talk((*before.words, *after.words), "words", 0, after.length_ms)
            yield Scene(line["voice"], plan, _slot(line["planned"], start_ms), line["done"], said)


def _slot(move: str, start_ms: int) -> Interval:
    end_ms = start_ms + WORK_MS
    return Interval(
        id="slot", plan_row=1, block="", kind="work", round=1, move=move, side="",
        planned_ms=WORK_MS, status="done", start=Edge(start_ms, start_ms, start_ms),
        end=Edge(end_ms, end_ms, end_ms), length_low_ms=None, length_high_ms=None,
        timing=None, planned_rest_ms=None, rest_after_ms=None,
    )  # fmt: skip
