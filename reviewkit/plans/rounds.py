"""Number the rounds of a plan that its writer left unnumbered."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
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
        number = row.round if has_round else latest.get(_key(row), 0) + 1
        latest[_key(row)] = number
        counted.append(replace(row, round=number))
    return tuple(counted)


def counts_up(rows: Iterable[PlanRow]) -> Iterator[bool]:
    """Tell for each row whether its round is the one that counting up would give it."""
    latest: dict[tuple[str, str, str], int] = {}
    for row in rows:
        yield row.round == latest.get(_key(row), 0) + 1
        latest[_key(row)] = row.round


def _key(row: PlanRow) -> tuple[str, str, str]:
    return row.block.casefold(), row.move.casefold(), row.side
