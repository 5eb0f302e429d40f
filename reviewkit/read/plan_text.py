"""Read a plan as a coach types it: blocks with settings, and the moves below them.

Lines are told apart, put together into blocks and unrolled: every round of a block
repeats its moves.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, islice

from reviewkit.model import Plan, PlanRow, Side
from reviewkit.plans.rounds import count_rounds
from reviewkit.read.plan_blocks import TypedBlock, TypedMove, TypedPlan, add_line
from reviewkit.read.plan_clauses import Clause, ClauseKind, has_work
from reviewkit.read.plan_fields import (
    LENGTH_EXAMPLES,
    MAX_LENGTH_MS,
    MAX_ROUND,
    MAX_ROWS,
    Problems,
    name_problem,
    points_problem,
    quote,
)
from reviewkit.read.plan_lines import split_lines, tell_kinds
from reviewkit.times import MINUTE_MS, format_length

# A bare length this long beside a block's name may be the whole block's.
_WHOLE_BLOCK_MS = 2 * MINUTE_MS
_NAMED_SIDE = re.compile(r"(.*\S)[\s-]+(left|right|l|r)", re.IGNORECASE)
_TAIL_KINDS = {"rounds", "between"}
_NEEDS_LENGTH = 'or give its block one, such as "Main: 40s work, 20s rest"'


def read_plan_text(source: str, text: str) -> Plan:
    """Read a plan from plain text.

    Raises:
        InputErrors: Every problem found, in line order.
    """
    problems = Problems(source)
    lines = split_lines(text, problems)
    problems.raise_if_any()
    typed = TypedPlan()
    for line, kind in zip(lines, tell_kinds(lines), strict=True):
        add_line(typed, line, kind, problems)
    rows: list[tuple[PlanRow, bool]] = []
    for block in _joined(typed.blocks):
        rows.extend(_rows(block, typed.defaults, problems, MAX_ROWS + 1 - len(rows)))
    if len(rows) > MAX_ROWS:
        problems.add(None, f"has more than {MAX_ROWS} rows with all its rounds")
    if not rows and not problems.found:
        problems.add(None, 'has no moves; write one a line, such as "- Squat, 45s"')
    problems.raise_if_any()
    return Plan(source, count_rounds(rows), title=typed.title, minutes=typed.minutes)


@dataclass(frozen=True, slots=True)
class _Settings:
    """What a block or move sets; None where it sets nothing. Lengths in milliseconds."""

    work_ms: int | None = None
    rest_ms: int | None = None
    between_ms: int | None = None
    after_ms: int | None = None
    times: int | None = None
    round: int | None = None
    sides: tuple[Side, ...] | None = None
    is_bare: bool = False


def _settings(clauses: Sequence[Clause], line: int | None, problems: Problems) -> _Settings:
    """Gather settings; two of one kind are a problem."""

    def one(what: str, *kinds: ClauseKind) -> Clause | None:
        found = [clause for clause in clauses if clause.kind in kinds]
        if len(found) > 1:
            texts = " and ".join(quote(clause.text) for clause in reversed(found))
            problems.add(line, f"{texts} are two {what}; keep one")
        return found[0] if found else None

    work = one("lengths of work", "work", "bare", "each", "pair", "sets")
    rest = one("rests", "rest", "pair")
    between = one("rests between rounds", "between")
    after = one("rests after the block", "after")
    times = one("numbers of rounds", "rounds", "sets")
    number = one("rounds", "round")
    side = one("sides", "side")
    return _Settings(
        work_ms=None if work is None else work.second if work.kind == "sets" else work.value,
        rest_ms=None if rest is None else rest.second if rest.kind == "pair" else rest.value,
        between_ms=between.value if between else None,
        after_ms=after.value if after else None,
        times=times.value if times else None,
        round=number.value if number else None,
        sides=side.sides if side else None,
        is_bare=work is not None and work.kind == "bare" and rest is None,
    )


def _rows(
    block: TypedBlock, defaults: Sequence[Clause], problems: Problems, most: int
) -> list[tuple[PlanRow, bool]]:
    """Unroll a block, at most ``most`` rows of it; each with whether its round is settled."""
    head = _settings(block.clauses, block.line, problems)
    base = _settings(block.shared or defaults, None, problems)
    _check(block.line, head, problems)
    if problem := name_problem("block", block.name):
        problems.add(block.line, problem)
    moves = list(block.moves)
    if not moves and not block.is_broken:
        moves = _block_as_move(block, head, problems)
    elif head.is_bare and (head.work_ms or 0) >= _WHOLE_BLOCK_MS:
        head = _without_whole_length(block, head, problems)
    rounds = head.times or 1
    unrolled = (_move_rows(block, move, head, base, problems) for move in moves)
    once = list(islice(chain.from_iterable(unrolled), most))
    rows: list[tuple[PlanRow, bool]] = []
    for number in range(1, min(rounds, MAX_ROUND) + 1):
        for at, (row, own_round) in enumerate(once):
            if len(rows) == most:
                return rows
            settled = own_round or head.round or (number if rounds > 1 else None)
            is_round_end = at == len(once) - 1
            rest_ms = row.rest_ms
            if is_round_end and number < rounds and head.between_ms is not None:
                rest_ms = head.between_ms
            if is_round_end and number == rounds:
                rest_ms = _first(block.after_ms, head.after_ms, rest_ms)
            rows.append((replace(row, rest_ms=rest_ms, round=settled or 1), settled is not None))
    return rows


def _joined(blocks: Sequence[TypedBlock]) -> list[TypedBlock]:
    """Join settings that stand below the moves to their block: "repeat 3 times"."""
    joined: list[TypedBlock] = []
    for block in blocks:
        is_tail = not (block.moves or block.is_named or block.is_broken)
        if is_tail and joined and {clause.kind for clause in block.clauses} <= _TAIL_KINDS:
            joined[-1].clauses.extend(block.clauses)
        else:
            joined.append(block)
    return joined


def _first(*values: int | None) -> int | None:
    return next((value for value in values if value is not None), None)


def _block_as_move(block: TypedBlock, head: _Settings, problems: Problems) -> list[TypedMove]:
    """Make the one move of a block without a list: "Cool-down, 3 minutes"."""
    if head.work_ms is not None and block.is_named:
        return [TypedMove(block.line or 1, block.name, (), is_quoted=True)]
    problems.add(
        block.line, f'block {quote(block.name)} has no moves; write them below it, "- Squat, 45s"'
    )
    return []


def _without_whole_length(block: TypedBlock, head: _Settings, problems: Problems) -> _Settings:
    """Set aside a length that is the whole block's; ask where it could be each move's."""
    text = format_length(head.work_ms or 0)
    if not all(has_work(move.clauses) for move in block.moves):
        problems.add(
            block.line,
            f'{text} could be the whole block or each move; write "{text} each" '
            "or give every move its own length",
        )
        return head
    return _Settings(None, None, head.between_ms, head.after_ms, head.times, head.round, head.sides)


def _move_rows(
    block: TypedBlock, move: TypedMove, head: _Settings, base: _Settings, problems: Problems
) -> Iterator[tuple[PlanRow, int | None]]:
    """Give the rows of one move in one round, each with its own round if it names one."""
    own = _settings(move.clauses, move.line, problems)
    _check(move.line, own, problems)
    name, sides = _name_and_sides(block, move, own.sides)
    for problem in (name_problem("move", name), points_problem(move.points)):
        if problem:
            problems.add(move.line, problem)
    if own.times is not None and own.work_ms is None:
        problems.add(
            move.line,
            f'"{own.times} x" could be rounds or repetitions; write {own.times} x 45s, '
            "or give the rounds to the block",
        )
    work_ms = _first(own.work_ms, head.work_ms, base.work_ms)
    if work_ms is None and not (move.is_broken or block.is_broken):
        problems.add(
            move.line, f'{quote(name)} has no length; write "{name[:40]}, 45s", {_NEEDS_LENGTH}'
        )
    rest_ms = _first(own.rest_ms, own.between_ms, own.after_ms, head.rest_ms, base.rest_ms)
    row = PlanRow(name, work_ms or 1, block.name, block.kind, 1, "", rest_ms, move.points)
    each_time = [replace(row, side=side) for side in sides or head.sides or ("",)]
    rows = each_time * min(own.times or 1, MAX_ROUND)
    # A rest line follows the whole move, not each of its sides.
    rows[-1] = replace(rows[-1], rest_ms=_first(move.rest_ms, rest_ms))
    return ((row, own.round) for row in rows)


def _name_and_sides(
    block: TypedBlock, move: TypedMove, sides: tuple[Side, ...] | None
) -> tuple[str, tuple[Side, ...] | None]:
    """Read "Row left" as a side where "Row right" stands in the same block."""
    match = _NAMED_SIDE.fullmatch(move.name)
    if match is None or sides is not None or move.is_quoted:
        return move.name, sides
    side: Side = "left" if match[2][0] in "lL" else "right"
    other = "r(?:ight)?" if side == "left" else "l(?:eft)?"
    partner = re.compile(rf"{re.escape(match[1])}[\s-]+{other}", re.IGNORECASE)
    if any(partner.fullmatch(entry.name) for entry in block.moves):
        return match[1], (side,)
    return move.name, None


def _check(line: int | None, settings: _Settings, problems: Problems) -> None:
    """Note lengths and counts that no class has."""
    if settings.work_ms == 0:
        problems.add(line, f"this work is no time at all; {LENGTH_EXAMPLES}")
    for length_ms in (settings.work_ms, settings.rest_ms, settings.between_ms, settings.after_ms):
        if length_ms is not None and length_ms > MAX_LENGTH_MS:
            problems.add(line, f"{format_length(length_ms)} is longer than 4 hours")
    for count in (settings.times, settings.round):
        if count is not None and not 1 <= count <= MAX_ROUND:
            problems.add(line, f"{count} is no number of rounds; write 1 to {MAX_ROUND}")
