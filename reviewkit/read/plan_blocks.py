"""Put the lines of a plan in plain text together into blocks with settings and moves."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from reviewkit.model import PlanKind
from reviewkit.plans.kinds import kind_of_block
from reviewkit.read.plan_clauses import Clause, has_work, length_inside
from reviewkit.read.plan_fields import Problems, quote
from reviewkit.read.plan_lines import TITLE_WORD, LineKind, PlanLine

_QUOTED = re.compile(r'"((?:[^"]|"")*)"')
_MINUTES = re.compile(r"(\d{1,3}(?:\.\d+)?)[\s-]?(?:minutes?|mins?)\b", re.IGNORECASE)
_MINUTES_TAIL = re.compile(
    r"(?:^|[\s,;:-]+)\(?\d{1,3}(?:\.\d+)?[\s-]?(?:minutes?|mins?)\)?\.?$", re.IGNORECASE
)
_LIKE_LENGTH = re.compile(
    r"(?P<n>\d+)(?:[.,:]\d+)*(?P<unit>[a-z]{0,4})"
    r"(?P<word>\s+(?:work|rest|on|off|each|hold|between.*|after.*))?",
    re.IGNORECASE,
)
_NO_LENGTH_UNITS = re.compile(r"(?:kgs?|lbs?|cm|k?m|reps?|x|in|ft|kb|db)?", re.IGNORECASE)
_COUNT_TIMES_COUNT = re.compile(r"\b(\d{1,3})\s?x\s?\d{1,3}\b(?!\s?(?:kg|lb))", re.IGNORECASE)


@dataclass(slots=True)
class TypedMove:
    """A move as typed; ``rest_ms`` comes from a rest line below it."""

    line: int
    name: str
    clauses: tuple[Clause, ...]
    points: tuple[str, ...] = ()
    is_quoted: bool = False
    is_broken: bool = False
    rest_ms: int | None = None


@dataclass(slots=True)
class TypedBlock:
    """A block as typed; ``line`` is None and nothing set where moves stand without one.

    ``shared`` are the settings of the block whose rounds are written out one by one.
    """

    line: int | None
    name: str
    kind: PlanKind
    is_named: bool = False
    clauses: list[Clause] = field(default_factory=list)
    moves: list[TypedMove] = field(default_factory=list)
    shared: list[Clause] = field(default_factory=list)
    after_ms: int | None = None
    is_broken: bool = False


@dataclass(slots=True)
class TypedPlan:
    """A plan as typed; ``defaults`` are settings that stand above every block."""

    blocks: list[TypedBlock] = field(default_factory=list)
    defaults: list[Clause] = field(default_factory=list)
    title: str = ""
    minutes: float | None = None


_Adder = Callable[[TypedPlan, PlanLine, Problems], None]


def add_line(plan: TypedPlan, line: PlanLine, kind: LineKind, problems: Problems) -> None:
    """Take the next line into a plan, noting what is wrong with it."""
    _ADDERS[kind](plan, line, problems)


def _add_title(plan: TypedPlan, line: PlanLine, _: Problems) -> None:
    forced = TITLE_WORD.match(line.text)
    text = line.text[forced.end() :] if forced else line.text
    quoted = _QUOTED.match(text)
    minutes = _MINUTES.search(text, quoted.end() if quoted else 0)
    plan.minutes = float(minutes[1]) if minutes else None
    plan.title = quoted[1].replace('""', '"') if quoted else _MINUTES_TAIL.sub("", text)


def _add_block(plan: TypedPlan, line: PlanLine, problems: Problems) -> None:
    read = line.read
    last = plan.blocks[-1] if plan.blocks else None
    is_broken = _has_left(line, problems)
    if last is not None and not read.name and read.has("round"):
        _add_round(plan, last, line)
        return
    if last is not None and not last.moves:
        if not read.name and not (line.has_work and has_work(last.clauses)):
            last.clauses.extend(read.clauses)
            return
        if len(plan.blocks) == 1 and not last.is_named:
            plan.defaults = last.clauses
            plan.blocks.pop()
    name = read.name or "Main"
    kinds = read.values("kind")
    kind = kinds[0].plan_kind if kinds else kind_of_block(name)
    plan.blocks.append(
        TypedBlock(
            line.number, name, kind, bool(read.name), list(read.clauses), is_broken=is_broken
        )
    )


def _add_round(plan: TypedPlan, last: TypedBlock, line: PlanLine) -> None:
    """Go on with the block above: "Round 2:"."""
    shared = last.shared
    if not last.moves:
        plan.blocks.pop()
        shared = last.clauses
    plan.blocks.append(
        TypedBlock(line.number, last.name, last.kind, False, list(line.read.clauses), shared=shared)
    )


def _add_move(plan: TypedPlan, line: PlanLine, problems: Problems) -> None:
    read = line.read
    is_broken = _has_left(line, problems)
    if not read.name:
        problems.add(line.number, f'{quote(line.text)} names no move; write it first, "Squat, 45s"')
        return
    if not plan.blocks:
        plan.blocks.append(TypedBlock(None, "Main", "work"))
    plan.blocks[-1].moves.append(
        TypedMove(line.number, read.name, read.clauses, read.points, read.is_quoted, is_broken)
    )


def _add_rest(plan: TypedPlan, line: PlanLine, problems: Problems) -> None:
    if not line.read.clauses:
        problems.add(line.number, "this rest has no length; write rest 30s")
    elif not plan.blocks:
        problems.add(line.number, "this rest has no move above it to follow")
    else:
        for clause in line.read.clauses:
            # "Water break, 1 minute" is all rest.
            rest = replace(clause, kind="rest") if clause.kind == "bare" else clause
            _add_rest_clause(plan.blocks[-1], line, rest)


def _add_rest_clause(block: TypedBlock, line: PlanLine, clause: Clause) -> None:
    if clause.kind == "between" or not block.moves:
        block.clauses.append(clause)
    elif clause.kind == "after" or (line.is_after_blank and not line.mark):
        block.after_ms = clause.value
    else:
        block.moves[-1].rest_ms = clause.value


def _add_points(plan: TypedPlan, line: PlanLine, problems: Problems) -> None:
    if not plan.blocks or not plan.blocks[-1].moves:
        problems.add(line.number, "these points have no move above them")
        return
    move = plan.blocks[-1].moves[-1]
    move.points = tuple(dict.fromkeys((*move.points, *(line.said or ()))))


def _add_unclear(_: TypedPlan, line: PlanLine, problems: Problems) -> None:
    problems.add(
        line.number,
        f"{quote(line.text)} is neither a move nor a block; "
        'start a move with "- ", end a block with ":"',
    )


_ADDERS: dict[LineKind, _Adder] = {
    "title": _add_title,
    "block": _add_block,
    "move": _add_move,
    "rest": _add_rest,
    "say": _add_points,
    "unclear": _add_unclear,
}


def _has_left(line: PlanLine, problems: Problems) -> bool:
    """Note what looks like a setting and was not read as one; tell whether anything was."""
    before = len(problems.found)
    read = line.read
    if read.is_quoted:
        if read.leftover:
            problems.add(
                line.number,
                f"{quote(read.leftover)} beside the name is no length, rest or side; "
                "put notes in brackets",
            )
        return before < len(problems.found)
    if match := _COUNT_TIMES_COUNT.search(read.name):
        problems.add(
            line.number,
            f"{quote(match[0])} counts repetitions and a plan is in time; write {match[1]} x 45s",
        )
    for piece in re.split(r"[,;:/]|\s-\s", read.name):
        match = _LIKE_LENGTH.fullmatch(piece.strip())
        if match and (match["word"] or not _NO_LENGTH_UNITS.fullmatch(match["unit"])):
            problems.add(
                line.number,
                f"{quote(piece.strip())} is no length of time; "
                f"write {int(match['n'][:4])}s, 1m30s or 0:45",
            )
    if before == len(problems.found) and (inside := length_inside(read.name)):
        problems.add(
            line.number,
            f"{quote(inside)} stands inside {quote(read.name)}; write the move first and its "
            'lengths last, points as "(say: ...)"',
        )
    return before < len(problems.found)
