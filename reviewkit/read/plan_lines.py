"""Tell apart the lines of a plan in plain text: title, block, move, rest and points.

Bullets decide where there are any; elsewhere the settings on a line and around it do.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from reviewkit.plans.kinds import kind_named
from reviewkit.read.plan_clauses import Peeled, has_work, peel, say_line
from reviewkit.read.plan_fields import Problems, tidy
from reviewkit.times import MINUTE_MS

LineKind = Literal["title", "block", "move", "rest", "say", "unclear"]
Mark = Literal["", "bullet", "number", "heading"]

TITLE_WORD = re.compile(r"(?:class|title)\s*:\s*", re.IGNORECASE)

_MAX_LINES = 5_000
_MAX_LINE_CHARS = 5_000
# Beside a name on the first line, a length like this is the whole class's.
_CLASS_MS = 5 * MINUTE_MS

_BULLET = re.compile("[-*\u2022\u00b7\u25e6\u25aa\u2023\u25cf\u25cb\u2013\u2014]\\s*(?=\\S)")
_EMPHASIS = re.compile(r"^((?:[-*#]+ |\d{1,2}[.)] )?)(\*\*|__)(?=\S)(.+?)\2")
_NUMBERED = re.compile(r"\(?\d{1,2}[.)](?!\d)\s*(?=\S)|\(?[A-Za-z][.)] (?=\S)")
_TICK_BOX = re.compile(r"\[[ xX]?\]\s*")
_HEADING = re.compile(r"#{1,6}\s*")
_REST_NAMES = re.compile(
    r"(?:then\s)?(?:and\s)?(?:rest|break|water(?: break)?|drink|recover|recovery|pause|breather)?",
    re.IGNORECASE,
)
_REST_ALONE = re.compile(r"(?:rest|break|water(?: break)?|pause)\.?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class PlanLine:
    """A line of the file, its bullet taken away and its settings read."""

    number: int
    text: str
    mark: Mark
    is_after_blank: bool
    read: Peeled
    said: tuple[str, ...] | None

    @property
    def has_work(self) -> bool:
        """Tell whether the line gives a length of work."""
        return has_work(self.read.clauses)


def split_lines(text: str, problems: Problems) -> list[PlanLine]:
    """Split a text into lines that hold something; lines too long are noted as problems."""
    lines: list[PlanLine] = []
    is_after_blank = False
    for number, raw in enumerate(text.split("\n"), start=1):
        plain = _EMPHASIS.sub(r"\1\3", tidy(raw))
        if not plain.strip("-=_*~ "):
            is_after_blank = True
            continue
        if len(plain) > _MAX_LINE_CHARS:
            problems.add(number, f"is {len(plain)} characters long; write one move a line")
            continue
        if len(lines) == _MAX_LINES:
            problems.add(None, f"has more than {_MAX_LINES} lines; a plan holds fewer")
            break
        lines.append(_line(number, plain, is_after_blank))
        is_after_blank = False
    return lines


def _line(number: int, plain: str, is_after_blank: bool) -> PlanLine:
    mark: Mark = ""
    if match := _HEADING.match(plain):
        mark = "heading"
    elif match := _BULLET.match(plain):
        mark = "bullet"
    elif match := _NUMBERED.match(plain):
        mark = "number"
    text = plain[match.end() :] if match else plain
    if mark == "bullet" and (box := _TICK_BOX.match(text)):
        text = text[box.end() :]
    return PlanLine(number, text, mark, is_after_blank, peel(text), say_line(text))


def tell_kinds(lines: Sequence[PlanLine]) -> Iterator[LineKind]:
    """Tell for each line what it is."""
    is_marked = _marked(lines)
    listed = _paragraphs_without_marks(lines, is_marked)
    for at, line in enumerate(lines):
        later = lines[at + 1] if at + 1 < len(lines) else None
        is_list_next = is_marked[at + 1 : at + 2] == [True]
        if line.said is not None:
            yield "say"
        elif _is_rest(line):
            yield "rest"
        elif is_marked[at]:
            yield "move"
        elif at == 0 and _is_title(line, later, is_list_next):
            yield "title"
        elif is_list_next or _is_block(line, later) or listed[at] == "head":
            yield "block"
        else:
            yield "move" if listed[at] else "unclear"


def _marked(lines: Sequence[PlanLine]) -> list[bool]:
    """Tell which lines carry the mark of a move.

    A numbered line is a move, but where bullets stand below it, it names their block.
    """
    is_bullet = [line.mark == "bullet" for line in lines]
    return [
        is_bullet[at] or (line.mark == "number" and is_bullet[at + 1 : at + 2] != [True])
        for at, line in enumerate(lines)
    ]


def _paragraphs_without_marks(
    lines: Sequence[PlanLine], is_marked: Sequence[bool]
) -> list[Literal["", "head", "item"]]:
    """Find the lines of paragraphs without bullets, and those that head one.

    A line without a length above lines that all have one names their block, as does one
    in capitals; this holds for the first line of a paragraph only.
    """
    told: list[Literal["", "head", "item"]] = [""] * len(lines)
    edges = [at for at, line in enumerate(lines) if at == 0 or line.is_after_blank]
    for start, end in pairwise([*edges, len(lines)]):
        if any(is_marked[start:end]):
            continue
        told[start:end] = ["item"] * (end - start)
        first, rest = lines[start], lines[start + 1 : end]
        moves = [line for line in rest if line.said is None and not _is_rest(line)]
        is_capital = first.text.isupper() and not all(line.text.isupper() for line in rest)
        is_above_lengths = start > 0 and all(line.has_work for line in moves)
        if moves and not first.has_work and (is_capital or is_above_lengths):
            told[start] = "head"
    return told


def _is_rest(line: PlanLine) -> bool:
    read = line.read
    if line.mark == "heading" or read.is_quoted or not _REST_NAMES.fullmatch(read.name):
        return False
    if _REST_ALONE.fullmatch(line.text):
        return True
    kinds = {clause.kind for clause in read.clauses}
    lengths = {"rest", "between", "after"} | ({"bare"} if read.name else set())
    return bool(kinds) and kinds <= lengths


def _is_block(line: PlanLine, later: PlanLine | None) -> bool:
    read = line.read
    if line.mark == "heading" or line.text.endswith(":") or not read.name:
        return True
    if read.has("rounds", "round", "between", "after", "kind") or kind_named(read.name):
        return True
    # "Strength: 40s work, 20s rest" above moves without lengths of their own.
    is_bare_next = later is not None and not later.is_after_blank and not later.has_work
    return ":" in line.text and line.has_work and is_bare_next and not _is_rest_or_none(later)


def _is_rest_or_none(line: PlanLine | None) -> bool:
    return line is None or line.said is not None or _is_rest(line)


def _is_title(line: PlanLine, later: PlanLine | None, is_list_next: bool) -> bool:
    read = line.read
    if TITLE_WORD.match(line.text):
        return True
    if line.text.endswith(":") or not read.name or kind_named(read.name):
        return False
    if any(clause.kind != "bare" for clause in read.clauses):
        return False
    work_ms = max((clause.value for clause in read.clauses), default=0)
    if work_ms >= _CLASS_MS:
        return True
    if later is None or work_ms:
        return later is not None and not is_list_next and _is_block(later, None)
    if line.mark == "heading":
        return later.mark == "heading" or _is_block(later, None)
    return later.is_after_blank or not is_list_next
