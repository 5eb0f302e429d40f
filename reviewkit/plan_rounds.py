"""Number the rounds of a plan that its writer left unnumbered."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from reviewkit.model import PlanRow


def count_rounds(rows: Iterable[tuple[PlanRow, bool]]) -> tuple[PlanRow, ...]:
    """Give every row its round; a row without one counts up for its block, move and side.

    Args:
        rows: Rows in order, each with whether it carries a round of its own.
    """
    latest: dict[tuple[str, str, str], int] = {}
    counted = []
    for row, has_round in rows:
        key = (row.block.casefold(), row.move.casefold(), row.side)
        number = row.round if has_round else latest.get(key, 0) + 1
        latest[key] = number
        counted.append(replace(row, round=number))
    return tuple(counted)
