"""Read a plan from a table: delimited text, or rows of cells from a spreadsheet.

Everything here works on text cells; what a cell of a spreadsheet says is settled before.
"""

from __future__ import annotations

import csv
import difflib
import io
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from reviewkit.errors import InputError
from reviewkit.model import Plan, PlanKind, PlanRow, Side
from reviewkit.plans.kinds import kind_named, kind_of_block
from reviewkit.plans.rounds import count_rounds
from reviewkit.read.plan_fields import (
    MAX_ROUND,
    MAX_ROWS,
    Problems,
    length_named,
    name_problem,
    points_problem,
    quote,
    rest_problem,
    side_named,
    split_points,
    tidy,
    work_problem,
)

COLUMNS = ("block", "kind", "round", "move", "side", "work", "rest", "must_say")
REQUIRED = ("move", "work")
_OTHER_NAMES = {"exercise": "move", "must_say_points": "must_say", "points": "must_say"}
_HEADER_SEARCH_ROWS = 20
_MAX_CELL_CHARS = 20_000
_DELIMITERS = (",", ";", "\t")
_OPEN_QUOTE = "a quote mark opens here and is not closed; close it or take it away"
_ROUND = re.compile(r"(?:round|r)?\s*#?(\d{1,6})(?:\.0+)?(?:\s*(?:of|/)\s*\d+)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class TableLine:
    """One row of a table, its cells as text; ``line`` is 1-based."""

    line: int
    cells: tuple[str, ...]

    @property
    def is_blank(self) -> bool:
        """Tell whether no cell holds anything."""
        return not any(cell.strip() for cell in self.cells)


def column_named(title: str) -> str | None:
    """Give the plan's column a header cell stands for, or None."""
    name = re.sub(r"[\s_-]+", "_", title.strip().casefold())
    name = _OTHER_NAMES.get(name, name)
    return name if name in COLUMNS else None


def is_header(cells: Iterable[str]) -> bool:
    """Tell whether a row names columns of a plan: two or more, a required one among them."""
    named = {column_named(cell) for cell in cells} - {None}
    return len(named) >= 2 and any(name in named for name in REQUIRED)


def find_delimiter(text: str) -> str | None:
    """Give the delimiter of the first line that is a plan's header, or None.

    Only the first lines are searched, as a title may stand above the header.
    """
    for line in _first_lines(text):
        for delimiter in _DELIMITERS:
            if delimiter in line and is_header(_cells_of(line, delimiter)):
                return delimiter
    return None


def read_table_text(source: str, text: str) -> Plan:
    """Read a plan from delimited text; the delimiter may be a comma, semicolon or tab.

    Raises:
        InputErrors: Every problem found, in line order.
    """
    delimiter = find_delimiter(text) or _likely_delimiter(text)
    return read_table_lines(source, _split_lines(source, text, delimiter), delimiter)


def read_table_lines(source: str, lines: Iterable[TableLine], delimiter: str = "") -> Plan:
    """Read a plan from rows of text cells; blank rows and rows above the header are skipped.

    Args:
        source: Name of the file, for messages and the plan.
        lines: Rows in order.
        delimiter: What the cells were split at, none in a spreadsheet: it joins again the
            cells that an unquoted list of points was split into.

    Raises:
        InputErrors: Every problem found, in line order.
    """
    problems = Problems(source)
    filled = [line for line in lines if not line.is_blank]
    columns, body = _find_columns(filled, problems)
    if len(body) > MAX_ROWS:
        problems.add(None, f"has {len(body)} rows; a plan holds {MAX_ROWS} at most")
        body = []
    elif columns and not body:
        problems.add(None, "has no rows under its header; add one row for each interval")
    reader = _RowReader(columns, delimiter, problems)
    rows = tuple(row for line in body if (row := reader.read(line)) is not None)
    problems.raise_if_any()
    return Plan(source, count_rounds(rows))


@dataclass(frozen=True, slots=True)
class _RowReader:
    """Reads rows under one header."""

    columns: tuple[str | None, ...]
    delimiter: str
    problems: Problems

    def read(self, line: TableLine) -> tuple[PlanRow, bool] | None:
        """Read one row and whether it has a round of its own; None when it has a problem."""
        before = len(self.problems.found)
        cells = self._cells(line)
        move = tidy(cells["move"])
        block = tidy(cells["block"]) or "Main"
        points = split_points(cells["must_say"])
        number = self._round(line.line, cells["round"].strip())
        row = PlanRow(
            move=move,
            work_ms=self._work(line.line, cells["work"].strip()),
            block=block,
            kind=self._kind(line.line, tidy(cells["kind"]), block),
            round=number or 1,
            side=self._side(line.line, tidy(cells["side"])),
            rest_ms=self._rest(line.line, cells["rest"].strip()),
            must_say=points,
        )
        if not move:
            self.problems.add(line.line, "move is empty; write the exercise")
        for problem in (
            name_problem("move", move),
            name_problem("block", block),
            points_problem(points),
        ):
            if problem:
                self.problems.add(line.line, problem)
        return None if before < len(self.problems.found) else (row, number is not None)

    def _cells(self, line: TableLine) -> dict[str, str]:
        cells = list(line.cells)
        if any(_holds_rows(cell, self.delimiter) for cell in cells):
            self.problems.add(line.line, _OPEN_QUOTE)
        extra = cells[len(self.columns) :]
        if any(cell.strip() for cell in extra):
            if self.columns[-1] == "must_say":
                cells[len(self.columns) - 1 :] = [
                    self.delimiter.join(cells[len(self.columns) - 1 :])
                ]
            else:
                self.problems.add(
                    line.line,
                    f"has {len(cells)} cells and the header {len(self.columns)}; "
                    'put a cell that holds the delimiter in quotes, such as "chest up, slow"',
                )
        named = {
            name: cell for name, cell in zip(self.columns, cells, strict=False) if name is not None
        }
        return dict.fromkeys(COLUMNS, "") | named

    def _work(self, line: int, text: str) -> int:
        problem = work_problem(text) if text else "work is empty; write a length such as 45s"
        if problem:
            self.problems.add(line, problem)
        return length_named(text) or 0

    def _rest(self, line: int, text: str) -> int | None:
        if not text:
            return None
        if problem := rest_problem(text):
            self.problems.add(line, problem)
        return length_named(text)

    def _kind(self, line: int, text: str, block: str) -> PlanKind:
        kind = kind_named(text) if text else kind_of_block(block)
        if kind is None:
            self.problems.add(
                line, f"kind {quote(text)} is unknown; write warm-up, work or cool-down"
            )
        return kind or "work"

    def _side(self, line: int, text: str) -> Side:
        side = side_named(text)
        if side is None:
            self.problems.add(
                line, f"side {quote(text)} is unknown; write left, right, each or nothing"
            )
        return side or ""

    def _round(self, line: int, text: str) -> int | None:
        if not text:
            return None
        match = _ROUND.fullmatch(text)
        if match and 1 <= int(match[1]) <= MAX_ROUND:
            return int(match[1])
        self.problems.add(
            line, f"round {quote(text)} is no round; write a number from 1 to {MAX_ROUND}"
        )
        return None


def _find_columns(
    lines: list[TableLine], problems: Problems
) -> tuple[tuple[str | None, ...], list[TableLine]]:
    """Split rows into the header's columns and the body; no columns when there is a problem."""
    if not lines:
        problems.add(None, "is empty; the first line names the columns, such as move,work,rest")
        return (), []
    places = range(min(len(lines), _HEADER_SEARCH_ROWS))
    place = next((i for i in places if is_header(lines[i].cells)), 0)
    header = lines[place]
    titles = list(header.cells)
    while titles and not titles[-1].strip():
        titles.pop()
    columns = tuple(column_named(title) for title in titles)
    before = len(problems.found)
    _check_columns(header.line, titles, columns, problems)
    return ((), []) if before < len(problems.found) else (columns, lines[place + 1 :])


def _check_columns(
    line: int, titles: list[str], columns: tuple[str | None, ...], problems: Problems
) -> None:
    """Note missing, doubled and misspelt columns; other columns are the coach's own."""
    named = [column for column in columns if column]
    missing = [name for name in REQUIRED if name not in named]
    if missing:
        problems.add(
            line,
            f"no column named {' and none named '.join(missing)}; "
            "the first line names the columns, such as move,work,rest",
        )
    for name in sorted({name for name in named if named.count(name) > 1}):
        problems.add(line, f"two columns are named {name}; keep one")
    absent = [name for name in COLUMNS if name not in named]
    for title, column in zip(titles, columns, strict=True):
        near = difflib.get_close_matches(title.strip().casefold(), absent, 1, 0.75)
        if column is None and near:
            problems.add(line, f"column {quote(title.strip())} is unknown; write {near[0]}")


def _split_lines(source: str, text: str, delimiter: str) -> Iterator[TableLine]:
    """Split delimited text into rows, each with the line it starts on."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, skipinitialspace=True)
    start = 1
    try:
        for cells in reader:
            if not _is_separator_note(cells, delimiter):
                yield TableLine(start, tuple(cells))
            start = reader.line_num + 1
    except csv.Error:
        raise InputError(source, start, _OPEN_QUOTE) from None


def _holds_rows(cell: str, delimiter: str) -> bool:
    """Tell whether a cell has swallowed whole rows, as it does when a quote stays open."""
    return bool(delimiter) and any(line.count(delimiter) > 1 for line in cell.splitlines()[1:])


def _is_separator_note(cells: list[str], delimiter: str) -> bool:
    """Tell whether a row is the ``sep=;`` line some spreadsheets put first."""
    return delimiter.join(cells).strip().casefold() == f"sep={delimiter}".strip()


def _first_lines(text: str) -> list[str]:
    """Give the first lines that hold anything."""
    found: list[str] = []
    for line in text[:_MAX_CELL_CHARS].splitlines():
        if line.strip() and len(found) < _HEADER_SEARCH_ROWS:
            found.append(line)
    return found


def _likely_delimiter(text: str) -> str:
    first = next(iter(_first_lines(text)), "")
    return max(_DELIMITERS, key=first.count)


def _cells_of(line: str, delimiter: str) -> list[str]:
    return next(csv.reader([line], delimiter=delimiter, skipinitialspace=True), [])
