"""When each interval of a plan starts, and how long the class takes."""

from __future__ import annotations

from collections.abc import Iterator

from reviewkit.model import Plan, PlanRow


def start_times(plan: Plan) -> Iterator[tuple[int, PlanRow]]:
    """Give each row with its start in milliseconds from the first; no rest counts as 0."""
    at_ms = 0
    for row in plan.rows:
        yield at_ms, row
        at_ms += row.work_ms + (row.rest_ms or 0)


def total_ms(plan: Plan) -> int:
    """Give the length of the class: all work and rest, without the rest after the last row."""
    total = sum(row.work_ms + (row.rest_ms or 0) for row in plan.rows)
    return total - (plan.rows[-1].rest_ms or 0) if plan.rows else 0


def work_ms(plan: Plan) -> int:
    """Give the length of all work together."""
    return sum(row.work_ms for row in plan.rows)
