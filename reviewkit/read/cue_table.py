"""CSV or TSV with start, end and text columns -> cues."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reviewkit.model import Cue, Piece
from reviewkit.read.reading import Reading, at_line

_STARTS = frozenset((
    "start", "start time", "starttime", "begin", "begin time", "from", "in", "time in", "time",
    "timestamp", "timecode", "timecode in", "offset", "start timestamp", "start timecode", "at",
))  # fmt: skip
_ENDS = frozenset((
    "end", "end time", "endtime", "stop", "stop time", "to", "out", "time out", "timecode out",
    "finish", "end timestamp", "end timecode", "until",
))  # fmt: skip
_LENGTHS = frozenset(("duration", "dur", "length"))
_TEXTS = frozenset((
    "text", "transcript", "caption", "captions", "speech", "content", "sentence", "subtitle",
    "subtitles", "words", "word", "utterance", "line", "segment", "said", "dialogue", "talk",
))  # fmt: skip
_UNIT = re.compile(r"[\s(\[]*(ms|msec|millis|milliseconds|s|sec|secs|seconds|hh:mm:ss)[)\]]*")
_DELIMITERS = ("\t", ";", ",", "|")
_TIME = re.compile(
    r"(?:(?:(?P<h>\d{1,4}):)?(?P<m>\d{1,4}):)?(?P<s>\d{1,9})(?:[.,](?P<part>\d{1,9})\d*)?s?"
)
_FRAMES = re.compile(r"(?P<h>\d{1,2})[:;](?P<m>\d{2})[:;](?P<s>\d{2})[:;](?P<f>\d{2})")
_USUAL_FRAMES_PER_S = 25
_FEWEST_WORDS_PER_S = 0.1
_LONGEST_FIELD = 1_000_000


@dataclass(frozen=True, slots=True)
class _Columns:
    """Where things stand in a row; ``None`` for a column that is not there."""

    start: int
    text: int
    end: int | None = None
    length: int | None = None
    unit_ms: int | None = None
    has_header: bool = True


def is_table(text: str) -> bool:
    """Tell whether the first line names a start and a text column, or is such a row."""
    return _find_layout(text) is not None


def read_table(text: str, source: str) -> Reading:
    """Read a table of captions; times are clocks, seconds, or milliseconds.

    Whole numbers are milliseconds when the heading says so, or when as seconds they
    would make less than one word in ten seconds.
    """
    del source
    layout = _find_layout(text)
    if layout is None:
        return Reading("csv", ())
    delimiter, columns = layout
    warnings: list[str] = []
    rows: list[tuple[int, list[str]]] = []
    for line, row in _rows(text, delimiter, warnings):
        if any(cell.strip() for cell in row):
            rows.append((line, row))
    if columns.has_header:
        rows = rows[1:]
    unit_ms = columns.unit_ms or _guess_unit(rows, columns)
    cues: list[Cue] = []
    for line, row in rows:
        cue = _to_cue(line, row, columns, unit_ms)
        if cue is None:
            warnings.append(at_line(line, "no start time and text in this row; it is left out"))
        else:
            cues.append(cue)
    return Reading("csv", tuple(cues), tuple(warnings), _stamp_step_ms(rows, columns))


def _rows(text: str, delimiter: str, warnings: list[str]) -> Iterator[tuple[int, list[str]]]:
    """Give rows with their lines; a quote that never ends stops the reading there."""
    reader = csv.reader(text.splitlines(keepends=True), delimiter=delimiter)
    csv.field_size_limit(_LONGEST_FIELD)
    line = 1
    while True:
        try:
            row = next(reader)
        except StopIteration:
            return
        except csv.Error:
            warnings.append(at_line(line, "the table cannot be read from here on"))
            return
        yield line, row
        line = reader.line_num + 1


def _find_layout(text: str) -> tuple[str, _Columns] | None:
    first = next((line for line in text.split("\n") if line.strip()), "")
    if len(first) > _LONGEST_FIELD:
        return None
    for delimiter in _DELIMITERS:
        if delimiter not in first:
            continue
        try:
            cells = next(csv.reader([first], delimiter=delimiter), [])
        except csv.Error:
            continue
        columns = _from_header(cells) or _from_row(cells)
        if columns is not None:
            return delimiter, columns
    return None


def _from_header(cells: Sequence[str]) -> _Columns | None:
    names: list[str] = []
    units: list[str] = []
    for cell in cells:
        plain = re.sub(r"[\s_-]+", " ", cell.strip().lower())
        name, unit = _cut_unit(plain)
        names.append(name)
        units.append(unit)
    start, text = _first(names, _STARTS), _first(names, _TEXTS)
    if start is None or text is None:
        return None
    unit_ms = {"m": 1, "s": 1000}.get(units[start][:1]) if units[start] else None
    return _Columns(start, text, _first(names, _ENDS), _first(names, _LENGTHS), unit_ms)


def _cut_unit(name: str) -> tuple[str, str]:
    """Cut the unit off a heading such as ``start (s)`` or ``start ms``."""
    for at in range(len(name) - 1, 0, -1):
        if name[at] in " ([" and (match := _UNIT.fullmatch(name, at)):
            unit = match[1]
            return name[:at].strip(), "" if ":" in unit else unit
    return name, ""


def _first(names: Sequence[str], wanted: frozenset[str]) -> int | None:
    return next((at for at, name in enumerate(names) if name in wanted), None)


def _from_row(cells: Sequence[str]) -> _Columns | None:
    """Take a table without a heading as start, end, text or as start, text."""
    if not cells or _time_ms(cells[0], 1000) is None:
        return None
    if len(cells) >= 3 and _time_ms(cells[1], 1000) is not None:
        return _Columns(0, 2, end=1, has_header=False)
    if len(cells) == 2 and re.search(r"[^\W\d]", cells[1]):
        return _Columns(0, 1, has_header=False)
    return None


def _to_cue(line: int, row: Sequence[str], columns: _Columns, unit_ms: int) -> Cue | None:
    start_ms = _time_at(row, columns.start, unit_ms)
    text = row[columns.text].strip() if columns.text < len(row) else ""
    if start_ms is None or not text:
        return None
    end_ms = _time_at(row, columns.end, unit_ms)
    length_ms = _time_at(row, columns.length, unit_ms)
    if end_ms is None and length_ms is not None:
        end_ms = start_ms + length_ms
    is_word = len(text.split()) == 1 and end_ms is not None
    piece = Piece(text, start_ms, end_ms) if is_word else Piece(text)
    return Cue(start_ms, end_ms, (piece,), line)


def _time_at(row: Sequence[str], at: int | None, unit_ms: int) -> int | None:
    return None if at is None or at >= len(row) else _time_ms(row[at], unit_ms)


def _time_ms(cell: str, unit_ms: int) -> int | None:
    """Read a clock, or a bare number in the table's unit."""
    text = cell.strip()
    if not text or len(text) > 40 or not text.isascii():
        return None
    frames = _FRAMES.fullmatch(text)
    if frames:
        whole = (int(frames["h"]) * 60 + int(frames["m"])) * 60 + int(frames["s"])
        return whole * 1000 + min(999, int(frames["f"]) * 1000 // _USUAL_FRAMES_PER_S)
    match = _TIME.fullmatch(text)
    if not match:
        return None
    scale = 1000 if match["m"] else unit_ms
    whole = (int(match["h"] or 0) * 60 + int(match["m"] or 0)) * 60 + int(match["s"])
    part = int(match["part"]) / 10 ** len(match["part"]) if match["part"] else 0.0
    return round((whole + part) * scale)


def _guess_unit(rows: Sequence[tuple[int, Sequence[str]]], columns: _Columns) -> int:
    cells = [row[columns.start].strip() for _, row in rows if columns.start < len(row)]
    if not cells or not all(re.fullmatch(r"[0-9]{1,9}", cell) for cell in cells):
        return 1000
    words = sum(len(row[columns.text].split()) for _, row in rows if columns.text < len(row))
    seconds = max(int(cell) for cell in cells) - min(int(cell) for cell in cells)
    return 1 if words < _FEWEST_WORDS_PER_S * seconds else 1000


def _stamp_step_ms(rows: Sequence[tuple[int, Sequence[str]]], columns: _Columns) -> int:
    """Give 1000 when every start is a clock without a fraction."""
    cells = [row[columns.start].strip() for _, row in rows if columns.start < len(row)]
    times = [cell for cell in cells if _time_ms(cell, 1000) is not None]
    clocks = [cell for cell in times if re.fullmatch(r"\d{1,4}:\d{1,4}(?::\d{1,4})?", cell)]
    return 1000 if clocks and len(clocks) == len(times) else 1
