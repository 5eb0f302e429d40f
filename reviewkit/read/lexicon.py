"""Turn the lexicon's files, the bundled ones and a coach's own, into one ``Lexicon``.

``moves.csv``, ``patterns.csv`` and ``points.toml`` have columns and fields of their own;
every other CSV is a flat list of ``phrase,label,note``. A coach's file of the same name
adds lines, or changes the bundled line of the same move, pattern, point or phrase: a
cell left empty keeps what is there, and aliases come on top.
"""

from __future__ import annotations

import csv
import re
import tomllib
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from difflib import get_close_matches
from pathlib import PurePath
from typing import Any

from reviewkit.errors import InputError, InputErrors
from reviewkit.language.matching import fold_phrase, stem
from reviewkit.model import Lexicon, LexiconMove, Pattern, Phrase, Point

MOVE_COLUMNS = ("move", "aliases", "pattern", "load", "sides", "points", "breath")
PATTERN_COLUMNS = ("pattern", "meaning", "nouns", "body_parts", "verbs", "easier", "harder")
LIST_COLUMNS = ("phrase", "label", "note")

# A label that takes a bundled phrase out of its list.
NO_LABEL = "-"

_HEADER = re.compile(r"^\s*\[\s*\"?([^\]\"]+)\"?\s*\]", re.MULTILINE)
_TOML_LINE = re.compile(r"\(at line (\d+)")
_TEXT_FIELDS = ("kind", "say", "why", "line")
_LIST_FIELDS = tuple(f.name for f in fields(Point) if f.name not in ("id", *_TEXT_FIELDS))


@dataclass(frozen=True, slots=True)
class LexiconFile:
    """One file of a lexicon folder; ``source`` is its name as errors show it."""

    source: str
    text: str
    is_own: bool = False

    @property
    def stem(self) -> str:
        """File name without folder and suffix, such as "moves"."""
        return PurePath(self.source).stem


@dataclass(frozen=True, slots=True)
class _Row:
    """One line of a table, cells by column."""

    file: LexiconFile
    line: int
    cells: Mapping[str, str]

    def error(self, problem: str) -> InputError:
        return InputError(self.file.source, self.line, problem)


@dataclass(slots=True)
class _Draft:
    """What has been read so far, each entry with the row that last gave it."""

    moves: dict[tuple[str, ...], tuple[LexiconMove, _Row]] = field(default_factory=dict)
    patterns: dict[str, tuple[Pattern, _Row]] = field(default_factory=dict)
    points: dict[str, tuple[Point, _Row]] = field(default_factory=dict)
    lists: dict[str, dict[str, tuple[Phrase, ...]]] = field(default_factory=dict)
    errors: list[InputError] = field(default_factory=list)


def header_of(name: str) -> str:
    """Give the header line of the table of this name, such as "moves.csv"."""
    columns = {"moves": MOVE_COLUMNS, "patterns": PATTERN_COLUMNS}
    return ",".join(columns.get(PurePath(name).stem, LIST_COLUMNS))


def build_lexicon(files: Sequence[LexiconFile]) -> Lexicon:
    """Build the lexicon from its files, the bundled ones before the coach's own.

    Returns:
        Moves and patterns in the order of their names, points and list lines in the
        order of the files, a coach's additions last.

    Raises:
        InputErrors: Every problem of every file, by file and line.
    """
    draft = _Draft()
    for file in files:
        _read_file(file, draft)
    _check_references(draft)
    moves = _settle_aliases(draft)
    if draft.errors:
        raise InputErrors(tuple(draft.errors))
    return Lexicon(
        moves=tuple(sorted(moves, key=lambda move: move.name.casefold())),
        points=tuple(point for point, _ in draft.points.values()),
        lists={
            name: tuple(line for lines in by_phrase.values() for line in lines)
            for name, by_phrase in draft.lists.items()
        },
        patterns=tuple(draft.patterns[name][0] for name in sorted(draft.patterns)),
    )


def _read_file(file: LexiconFile, draft: _Draft) -> None:
    """Read one file into the draft; other kinds of file are left alone."""
    suffix = PurePath(file.source).suffix.lower()
    if suffix == ".toml" and file.stem == "points":
        _read_points(file, draft)
    elif suffix == ".csv" and file.stem == "moves":
        rows = _rows(file, MOVE_COLUMNS, draft.errors)
        for row in _without_twins(rows, draft, lambda row: fold_phrase(row.cells["move"])):
            _read_move(row, draft)
    elif suffix == ".csv" and file.stem == "patterns":
        rows = _rows(file, PATTERN_COLUMNS, draft.errors)
        for row in _without_twins(rows, draft, lambda row: row.cells["pattern"].lower()):
            _read_pattern(row, draft)
    elif suffix == ".csv":
        _read_list(file, _rows(file, LIST_COLUMNS, draft.errors), draft)


def _without_twins(
    rows: Iterable[_Row], draft: _Draft, key: Callable[[_Row], Hashable]
) -> Iterator[_Row]:
    """Give the rows of a table, noting each whose name a line above has."""
    seen: dict[Hashable, int] = {}
    for row in rows:
        first = seen.setdefault(key(row), row.line)
        if first == row.line:
            yield row
        else:
            draft.errors.append(_twin_error(row, next(iter(row.cells.values())), first))


def _twin_error(row: _Row, name: str, first: int) -> InputError:
    return row.error(f'"{name}" is already on line {first}; keep one')


def _rows(file: LexiconFile, columns: tuple[str, ...], errors: list[InputError]) -> Iterator[_Row]:
    """Give a table's lines with their cells by column; empty and ``#`` lines are skipped."""
    table = _table(file.text)
    line, header = next(table, (1, []))
    header = [name.lower() for name in header]
    if problem := _header_problem(header, columns):
        errors.append(InputError(file.source, line, problem))
        return
    no_cells = dict.fromkeys(columns, "")
    for line, cells in table:
        values = dict(zip(header, cells, strict=False))
        row = _Row(file, line, values if len(values) == len(columns) else no_cells | values)
        if len(cells) > len(header) and (spare := "".join(cells[len(header) :])):
            problem = f'"{spare}" is one cell too many, there are {len(header)} columns'
            errors.append(row.error(f"{problem}; put quotes around a cell that holds a comma"))
        elif not row.cells[columns[0]]:
            errors.append(row.error(f'the column "{columns[0]}" is empty; every line needs one'))
        else:
            yield row


def _table(text: str) -> Iterator[tuple[int, list[str]]]:
    """Give the lines of a table that say something, with their numbers.

    Columns may be parted by commas, semicolons or tabs, as spreadsheets write them.
    """
    lines = text.removeprefix("\ufeff").splitlines()
    first = next((line for line in lines if line.strip() and not line.startswith("#")), "")
    reader = csv.reader(lines, delimiter=next((mark for mark in ",;\t" if mark in first), ","))
    for cells in reader:
        stripped = [cell.strip() for cell in cells]
        if any(stripped) and not stripped[0].startswith("#"):
            yield reader.line_num, stripped


def _header_problem(header: Sequence[str], columns: tuple[str, ...]) -> str:
    """Say what is wrong with a first line, nothing when it is right.

    Only the first column has to be there: a coach's file may leave out the rest.
    """
    wanted = ",".join(columns)
    if not header:
        return f"the file is empty; start it with {wanted}"
    if columns[0] not in header:
        return f'the first line has no column "{columns[0]}"; it must be {wanted}'
    for name in header:
        if name not in columns:
            return f'"{name}" is no column of this file; the columns are {wanted}'
        if header.count(name) > 1:
            return f'the column "{name}" is there twice; the columns are {wanted}'
    return ""


def _words(text: str) -> str:
    """Write a phrase the one way: lower case, plain apostrophes, single spaces."""
    return " ".join(text.replace("\u2019", "'").lower().split())


def _parts(cell: str) -> tuple[str, ...]:
    """Split a cell at its semicolons."""
    return tuple(dict.fromkeys(part for part in map(_words, cell.split(";")) if part))


# --- one line ------------------------------------------------------------------------


def _read_move(row: _Row, draft: _Draft) -> None:
    """Add a move, or change the one of the same name."""
    cells = row.cells
    sides = cells["sides"].lower()
    if sides not in ("", "one", "both"):
        draft.errors.append(
            row.error(f'sides "{cells["sides"]}" is not known; write one (left and right) or both')
        )
    key = fold_phrase(cells["move"])
    old = draft.moves[key][0] if key in draft.moves else None
    base = old or LexiconMove(cells["move"], (), "", "bodyweight", False, ())
    move = LexiconMove(
        name=base.name,
        aliases=tuple(dict.fromkeys((*base.aliases, *_parts(cells["aliases"])))),
        pattern=cells["pattern"].lower() or base.pattern,
        load=cells["load"].lower() or base.load,
        is_sided=sides == "one" if sides else base.is_sided,
        points=_parts(cells["points"]) or base.points,
        effort=cells["breath"].lower() or base.effort,
    )
    draft.moves[key] = (move, row)


def _read_pattern(row: _Row, draft: _Draft) -> None:
    """Add a pattern, or change the one of the same name."""
    cells = row.cells
    name = cells["pattern"].lower()
    base = draft.patterns[name][0] if name in draft.patterns else Pattern(name, "")
    pattern = Pattern(
        id=name,
        meaning=cells["meaning"] or base.meaning,
        nouns=_parts(cells["nouns"]) or base.nouns,
        body_parts=_parts(cells["body_parts"]) or base.body_parts,
        verbs=_parts(cells["verbs"]) or base.verbs,
        easier=cells["easier"] or base.easier,
        harder=cells["harder"] or base.harder,
    )
    draft.patterns[name] = (pattern, row)


def _read_list(file: LexiconFile, rows: Iterable[_Row], draft: _Draft) -> None:
    """Read a flat list; a coach's lines replace the bundled ones of the same phrase.

    One phrase may carry several labels, on a line each.
    """
    lines: dict[str, tuple[Phrase, ...]] = {}
    seen: dict[tuple[str, str], int] = {}
    for row in rows:
        phrase, label = _words(row.cells["phrase"]), row.cells["label"]
        first = seen.setdefault((phrase, label), row.line)
        if not label:
            draft.errors.append(row.error(f'"{phrase}" has no label; say what it stands for'))
        elif first != row.line:
            draft.errors.append(_twin_error(row, phrase, first))
        else:
            lines[phrase] = (*lines.get(phrase, ()), Phrase(phrase, label, row.cells["note"]))
    merged = draft.lists.get(file.stem, {}) | lines
    draft.lists[file.stem] = {
        phrase: kept
        for phrase, group in merged.items()
        if (kept := tuple(line for line in group if line.label != NO_LABEL))
    }


# --- points --------------------------------------------------------------------------


def _read_points(file: LexiconFile, draft: _Draft) -> None:
    """Read ``points.toml``: one table a point, its name the point's id."""
    try:
        tables = tomllib.loads(file.text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError as error:
        place = _TOML_LINE.search(str(error))
        problem = f"this is not TOML: {str(error).split(' (at')[0].rstrip('.').lower()}"
        draft.errors.append(InputError(file.source, int(place[1]) if place else None, problem))
        return
    lines = _header_lines(file.text)
    for name, table in tables.items():
        row = _Row(file, lines.get(name, 1), {})
        old = draft.points[name][0] if name in draft.points else None
        if problem := _point_problem(table, old):
            draft.errors.append(row.error(f"point {name}: {problem}"))
            continue
        values: dict[str, Any] = {
            key: tuple(value) if isinstance(value, list) else value for key, value in table.items()
        }
        base = old or Point(name, "form", "", "", "")
        draft.points[name] = (replace(base, **values), row)


def _header_lines(text: str) -> dict[str, int]:
    """Give the line on which each table starts."""
    lines: dict[str, int] = {}
    line, place = 1, 0
    for match in _HEADER.finditer(text):
        line += text.count("\n", place, match.start(1))
        place = match.start(1)
        lines.setdefault(match[1].strip(), line)
    return lines


def _point_problem(table: Any, old: Point | None) -> str:
    """Say what is wrong with a point's table, nothing when it can be used."""
    if not isinstance(table, dict):
        return "must be a table; start it with its id in square brackets"
    for key, value in table.items():
        if key in _TEXT_FIELDS:
            if not isinstance(value, str):
                return f'"{key}" must be one text in quotes'
        elif key not in _LIST_FIELDS:
            return f'"{key}" is not known; fields are {", ".join((*_TEXT_FIELDS, *_LIST_FIELDS))}'
        elif not (isinstance(value, list) and all(isinstance(item, str) for item in value)):
            return f'"{key}" must be a list of texts in square brackets'
    if table.get("kind", "form") not in ("form", "safety"):
        return f'kind "{table["kind"]}" is not known; write form or safety'
    missing = [key for key in ("kind", "say") if key not in table and old is None]
    return f'"{missing[0]}" is missing' if missing else ""


# --- checks --------------------------------------------------------------------------


def _check_references(draft: _Draft) -> None:
    """Note each pattern and point that an entry names and nobody defines."""
    for move, row in draft.moves.values():
        if not move.pattern:
            draft.errors.append(row.error(f'"{move.name}" has no pattern; see patterns.csv'))
        elif move.pattern not in draft.patterns:
            draft.errors.append(row.error(_unknown("pattern", move.pattern, draft.patterns)))
        for name in move.points:
            if name not in draft.points:
                draft.errors.append(row.error(_unknown("point", name, draft.points)))
    for point, row in draft.points.values():
        for pattern in point.patterns:
            if pattern not in draft.patterns:
                draft.errors.append(row.error(_unknown("pattern", pattern, draft.patterns)))


def _unknown(what: str, name: str, known: Mapping[str, object]) -> str:
    """Say that a name is not defined, with the nearest one that is."""
    near = get_close_matches(name, known, n=1)
    home = "points.toml" if what == "point" else "patterns.csv"
    hint = f'did you mean "{near[0]}"?' if near else f"add it to {home} or take one from there"
    return f'{what} "{name}" is not known; {hint}'


def _settle_aliases(draft: _Draft) -> list[LexiconMove]:
    """Give every name to one move: a coach's line wins over a bundled one, two of a kind fail."""
    owners: dict[tuple[str, ...], tuple[str, _Row]] = {}
    settled: list[LexiconMove] = []
    for move, row in sorted(draft.moves.values(), key=lambda entry: not entry[1].file.is_own):
        kept: list[str] = []
        for name in (move.name, *move.aliases):
            owner, owner_row = owners.setdefault(fold_phrase(name, stem), (move.name, row))
            if owner == move.name:
                kept.append(name)
            elif owner_row.file.is_own == row.file.is_own:
                draft.errors.append(
                    row.error(
                        f'"{name}" is already a name of "{owner}" (line {owner_row.line}); keep one'
                    )
                )
        settled.append(replace(move, aliases=tuple(name for name in kept if name != move.name)))
    return settled
