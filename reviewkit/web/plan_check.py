"""What a typed plan comes to: its timetable and total, or what is wrong by line."""

from __future__ import annotations

from dataclasses import dataclass

from reviewkit.errors import InputError, InputErrors
from reviewkit.model import Plan
from reviewkit.report.timetable import start_times, total_ms, work_ms
from reviewkit.report.wording import count, say_move
from reviewkit.times import format_clock, format_length
from reviewkit.web.sending import typed_plan


@dataclass(frozen=True, slots=True)
class PlanProblem:
    """What is wrong; ``line`` is 1-based, None when it concerns the whole."""

    line: int | None
    text: str


@dataclass(frozen=True, slots=True)
class PlannedInterval:
    """One interval of the timetable, in words; ``part`` is its block and round."""

    at: str
    part: str
    move: str
    work: str
    rest: str


@dataclass(frozen=True, slots=True)
class PlanCheck:
    """A plan as understood: rows in order, or problems; neither when nothing was typed."""

    total: str = ""
    rows: tuple[PlannedInterval, ...] = ()
    problems: tuple[PlanProblem, ...] = ()


def check_plan(text: str) -> PlanCheck:
    """Read a typed plan and lay it out, or say everything that is wrong with it."""
    if not text.strip():
        return PlanCheck()
    try:
        plan = typed_plan(text)
    except InputErrors as errors:
        return PlanCheck(problems=tuple(_problem(one) for one in errors.errors))
    except InputError as error:
        return PlanCheck(problems=(_problem(error),))
    return lay_out(plan)


def lay_out(plan: Plan) -> PlanCheck:
    """Lay a plan out as a timetable with its total."""
    repeating = _in_rounds(plan)
    rows = tuple(
        PlannedInterval(
            format_clock(at_ms),
            f"{row.block}, round {row.round}" if row.block in repeating else row.block,
            say_move(row),
            format_length(row.work_ms),
            "" if row.rest_ms is None else format_length(row.rest_ms),
        )
        for at_ms, row in start_times(plan)
    )
    total = (
        f"{count(len(rows), 'interval')}, {format_clock(work_ms(plan))} of work, "
        f"{format_clock(total_ms(plan))} in all"
    )
    return PlanCheck(total, rows)


def _in_rounds(plan: Plan) -> set[str]:
    """Name the blocks that go round by round, not those in which a move merely comes again."""
    rounds: dict[str, list[int]] = {}
    for row in plan.rows:
        rounds.setdefault(row.block, []).append(row.round)
    return {block for block, order in rounds.items() if order == sorted(order) and order[-1] > 1}


def _problem(error: InputError) -> PlanProblem:
    return PlanProblem(error.line, error.problem)
