"""Classes by hand: a plan in one line a row, with when each row really happened."""

from __future__ import annotations

from dataclasses import dataclass, replace

from reviewkit.model import (
    Clock,
    Edge,
    HeardClass,
    Interval,
    Lexicon,
    Mark,
    Plan,
    PlanKind,
    PlanRow,
    Side,
    Talk,
    Timing,
    Word,
)

EMPTY = Lexicon((), (), {})


@dataclass(frozen=True)
class Row:
    """A planned row and what became of it; ``start_s`` None means skipped."""

    move: str
    start_s: float | None
    length_s: float = 40
    work_s: float = 40
    rest_s: float = 20
    kind: PlanKind = "work"
    block: str = "Main"
    round: int = 1
    side: Side = ""
    instead: str = ""


def edge(at_s: float, unsure_s: float = 0.3) -> Edge:
    at_ms, unsure_ms = round(1000 * at_s), round(1000 * unsure_s)
    return Edge(at_ms, at_ms - unsure_ms, at_ms + unsure_ms)


def interval(row: Row, number: int, unsure_s: float = 0.3) -> Interval:
    planned_ms = round(1000 * row.work_s)
    base = Interval(
        id=f"i{number}", plan_row=number, block=row.block, kind=row.kind, round=row.round,
        move=row.move, side=row.side, planned_ms=planned_ms, status="skipped", start=None, end=None,
        length_low_ms=None, length_high_ms=None, timing=None,
        planned_rest_ms=round(1000 * row.rest_s), rest_after_ms=None,
    )  # fmt: skip
    if row.start_s is None:
        return base
    length_ms = round(1000 * row.length_s)
    slack_ms = round(2000 * unsure_s)
    drift_ms = length_ms - planned_ms
    timing: Timing = "on time" if abs(drift_ms) <= 3200 else "long" if drift_ms > 0 else "short"
    return replace(
        base,
        status="swapped" if row.instead else "done",
        start=edge(row.start_s, unsure_s),
        end=edge(row.start_s + row.length_s, unsure_s),
        length_low_ms=length_ms - slack_ms,
        length_high_ms=length_ms + slack_ms,
        timing=timing,
        done_instead=row.instead,
    )


def plan_row(row: Row) -> PlanRow:
    return PlanRow(
        row.move, round(1000 * row.work_s), row.block, row.kind, row.round, row.side,
        round(1000 * row.rest_s),
    )  # fmt: skip


def heard_class(
    rows: list[Row],
    *,
    words: tuple[Word, ...] = (),
    marks: tuple[Mark, ...] = (),
    clock: Clock = "words",
    unsure_s: float = 0.3,
    length_s: float | None = None,
    lexicon: Lexicon = EMPTY,
) -> HeardClass:
    intervals = tuple(interval(row, at, unsure_s) for at, row in enumerate(rows, start=1))
    last_s = max((row.start_s + row.length_s for row in rows if row.start_s is not None), default=0)
    length_ms = round(1000 * (last_s if length_s is None else length_s))
    talk = Talk(words, clock, 100, max(length_ms, 1))
    return HeardClass(Plan("plan.csv", tuple(map(plan_row, rows))), talk, marks, intervals, lexicon)


def claim(ref: str, value: float | None = None, at_s: float = 5, *, sure: bool = False) -> Mark:
    """Make a claim about the class; ``at_s`` is when it was said."""
    at_ms = round(1000 * at_s)
    weight = 1.0 if sure else 0.8
    return Mark("promise", 0, 1, at_ms, at_ms + 900, f"said {ref}", ref, value, weight)


def circuit(
    moves: tuple[str, ...] = ("Squat", "Push-up", "Lunge", "Plank"),
    *,
    rounds: int = 3,
    start_s: float = 120,
    length_s: float = 40,
    rest_s: float = 20,
    planned_rest_s: float = 20,
) -> list[Row]:
    """Plan and do rounds of moves, evenly."""
    rows = []
    at_s = start_s
    for number in range(1, rounds + 1):
        for move in moves:
            rows.append(Row(move, at_s, length_s, rest_s=planned_rest_s, round=number))
            at_s += length_s + rest_s
    return rows


WARM_UP = Row("March", 30, 60, 60, 30, kind="warm-up", block="Warm-up")
COOL_DOWN = Row("Calf stretch", 900, 60, 60, 0, kind="cool-down", block="Cool-down")
