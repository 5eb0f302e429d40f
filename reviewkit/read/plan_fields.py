"""The fields of a plan, shared by every form a plan comes in: spellings, limits, problems."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from reviewkit.errors import InputError, InputErrors
from reviewkit.model import Side
from reviewkit.times import HOUR_MS, parse_length

MAX_ROWS = 2_000
MAX_ROUND = 999
MAX_LENGTH_MS = 4 * HOUR_MS
MAX_NAME_CHARS = 200
MAX_POINT_CHARS = 300
MAX_POINTS = 50
MAX_PROBLEMS = 25

LENGTH_EXAMPLES = "write 45s, 1m30s or 0:45"

_SIDES: dict[str, Side] = {
    "": "",
    "none": "",
    "-": "",
    "left": "left",
    "l": "left",
    "left side": "left",
    "right": "right",
    "r": "right",
    "right side": "right",
    "each": "each",
    "each side": "each",
    "both": "each",
    "both sides": "each",
}


@dataclass(slots=True)
class Problems:
    """Gathers what is wrong with one file, so that all of it is reported together."""

    source: str
    found: list[InputError] = field(default_factory=list)

    def add(self, line: int | None, problem: str) -> None:
        """Note one problem at a 1-based line, or with the whole file."""
        self.found.append(InputError(self.source, line, problem))

    def raise_if_any(self) -> None:
        """Raise all problems in line order; of very many, the first ones and their number.

        Raises:
            InputErrors: Something was noted.
        """
        if not self.found:
            return
        ordered = sorted(self.found, key=lambda error: error.line or 0)
        if len(ordered) > MAX_PROBLEMS:
            more = len(ordered) - MAX_PROBLEMS
            rest = InputError(self.source, None, f"and {more} more problems like these")
            ordered = [*ordered[:MAX_PROBLEMS], rest]
        raise InputErrors(tuple(ordered))


def tidy(text: str) -> str:
    """Join the words of a text by single spaces; control characters count as spaces."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def quote(text: str) -> str:
    """Quote what somebody wrote for a message, shortened when it is long."""
    shown = tidy(text[:200])
    shown = shown if len(shown) <= 60 else shown[:57] + "..."
    return f'"{shown}"'


def side_named(text: str) -> Side | None:
    """Read a side in any usual spelling, or None."""
    return _SIDES.get(text.strip().casefold())


def length_named(text: str) -> int | None:
    """Read a length of time in milliseconds, or None; absurdly long figures are none."""
    return parse_length(text) if len(text) <= 30 else None


def work_problem(text: str) -> str | None:
    """Say what is wrong with a planned length of work, or None when nothing is."""
    length_ms = length_named(text)
    if length_ms is None:
        return f"work {quote(text)} is no length of time; {LENGTH_EXAMPLES}"
    if length_ms == 0:
        return f"work {quote(text)} is no time at all; {LENGTH_EXAMPLES}"
    return _too_long("work", text, length_ms)


def rest_problem(text: str) -> str | None:
    """Say what is wrong with a planned rest, or None when nothing is; 0 is a rest."""
    length_ms = length_named(text)
    if length_ms is None:
        return f"rest {quote(text)} is no length of time; {LENGTH_EXAMPLES}"
    return _too_long("rest", text, length_ms)


def _too_long(what: str, text: str, length_ms: int) -> str | None:
    if length_ms <= MAX_LENGTH_MS:
        return None
    return f"{what} {quote(text)} is longer than 4 hours; {LENGTH_EXAMPLES}"


def name_problem(what: str, text: str) -> str | None:
    """Say what is wrong with the name of a move or block, or None when nothing is."""
    if len(text) <= MAX_NAME_CHARS:
        return None
    return f"{what} {quote(text)} has {len(text)} characters; {MAX_NAME_CHARS} at most"


def points_problem(points: tuple[str, ...]) -> str | None:
    """Say what is wrong with the points of a move, or None when nothing is."""
    if len(points) > MAX_POINTS:
        return f"{len(points)} points for one move; {MAX_POINTS} at most"
    long = next((point for point in points if len(point) > MAX_POINT_CHARS), None)
    if long is None:
        return None
    return f"point {quote(long)} has {len(long)} characters; {MAX_POINT_CHARS} at most"


def split_points(text: str) -> tuple[str, ...]:
    """Split points at ``;`` and line ends; repeats and empty ones are left out."""
    points = (tidy(part) for part in re.split(r"[;\r\n]", text))
    return tuple(dict.fromkeys(point for point in points if point))
