"""Write a plan as the table or the plain text that the readers take."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby, islice
from typing import TypeVar

from reviewkit.model import Plan, PlanRow
from reviewkit.plans.kinds import kind_named, kind_of_block
from reviewkit.plans.rounds import counts_up
from reviewkit.times import format_length

COLUMNS = ("block", "kind", "round", "move", "side", "work", "rest", "must_say")
# A shorter class is read as a title only where the line says that it is one.
_CLEAR_MINUTES = 5

T = TypeVar("T")

# A name of other signs, or with words that could be a setting, stands in quotes: nothing
# in it can then be taken for one.
_NUMBERED_BLOCK = re.compile(r"(?:block|part|section|station) \d{1,2}", re.IGNORECASE)
_LIKE_SETTING = re.compile(
    r"\b(?:left|right|l|r|each|both|either|every|per|a side|halfway|half way|at half|half time"
    r"|minutes?|twice|rest|break|water|drink|recover|recovery|pause|breather|off|no|then)\b"
    r"|^(?:class|title|x)\b|\bx$"
    r"|\b(?:one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|thirty|forty"
    r"|fifty|sixty|ninety)[\s-]+(?:m|mins?|s|secs?|seconds?|rounds?|sets?|laps?|circuits?|times)\b",
    re.IGNORECASE,
)
_PLAIN_POINT = re.compile(r"[^()\[\]\"\u201c\u201d\u201e]*")


def plan_csv(plan: Plan) -> str:
    """Write a plan as a CSV table; its title is left out, as the table has no place for it."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows(plan_cells(row) for row in plan.rows)
    return out.getvalue()


def plan_text(plan: Plan) -> str:
    """Write a plan as plain text; blocks whose rounds repeat are written once."""
    parts = [_title(plan)] if plan.title or plan.minutes is not None else []
    is_counted = counts_up(plan.rows)
    for _, group in groupby(plan.rows, key=lambda row: (row.block, row.kind)):
        rows = list(group)
        parts.append("\n".join(_block(rows, list(islice(is_counted, len(rows))))))
    return "\n\n".join(parts) + "\n"


def plan_cells(row: PlanRow) -> tuple[str, ...]:
    """Write a row as the cells of the table, in the order of ``COLUMNS``."""
    return (
        row.block,
        row.kind,
        str(row.round),
        row.move,
        row.side,
        format_length(row.work_ms),
        "" if row.rest_ms is None else format_length(row.rest_ms),
        "; ".join(row.must_say),
    )


def _typed_length(length_ms: int) -> str:
    """Write a length for plain text, where a long "20m" would be metres."""
    text = format_length(length_ms)
    return text.replace("m", " min") if text.endswith("m") else text


def _title(plan: Plan) -> str:
    minutes = "" if plan.minutes is None else f", {plan.minutes:g} minutes"
    is_clear = _is_plain(plan.title) and kind_named(plan.title) is None
    if is_clear and (plan.minutes is None or plan.minutes >= _CLEAR_MINUTES):
        return plan.title + minutes
    return f"Class: {_name(plan.title)}{minutes}"


def _is_plain(name: str) -> bool:
    words = re.split(r"[ '-]", name)
    return all(word.isalpha() for word in words) and not _LIKE_SETTING.search(name)


def _quoted(name: str) -> str:
    return '"' + name.replace('"', '""') + '"'


def _name(name: str) -> str:
    return name if _is_plain(name) else _quoted(name)


def _equal_rounds(rows: Sequence[PlanRow]) -> int:
    """Tell how many times the same moves repeat as rounds 1, 2, ...; 1 when they do not."""
    rounds = rows[-1].round
    size, left = divmod(len(rows), rounds)
    if left or not size:
        return 1
    between = rows[size - 1].rest_ms
    if between is None and rows[-1].rest_ms is not None:
        return 1  # text has no words for a last rest alone
    expected = [
        replace(row, round=number, rest_ms=between if at == size - 1 else row.rest_ms)
        for number in range(1, rounds + 1)
        for at, row in enumerate(rows[:size])
    ]
    expected[-1] = replace(expected[-1], rest_ms=rows[-1].rest_ms)
    return rounds if expected == list(rows) else 1


def _block(rows: Sequence[PlanRow], is_counted: Sequence[bool]) -> Iterator[str]:
    rounds = _equal_rounds(rows)
    # The last rest of a block stands at its last move, those before it "between rounds".
    once = [*rows[: len(rows) // rounds]]
    between_ms = once[-1].rest_ms
    once[-1] = replace(once[-1], rest_ms=rows[-1].rest_ms)
    work_ms = _usual(row.work_ms for row in once)
    has_rests = all(row.rest_ms is not None for row in once)
    rest_ms = _usual(row.rest_ms for row in once) if has_rests else None
    settings = [f"{_typed_length(work_ms)} {'each' if rest_ms is None else 'work'}"]
    if rest_ms is not None:
        settings.append(_rest(rest_ms))
    if rounds > 1 and between_ms is not None and between_ms != once[-1].rest_ms:
        settings.append(f"{_rest(between_ms)} between rounds")
    yield f"{_heading(rows[0], rounds)}: {', '.join(settings)}"
    for row, is_counted_up in zip(once, is_counted, strict=False):
        parts = [_name(row.move)]
        if rounds == 1 and not is_counted_up:
            parts.append(f"round {row.round}")
        if row.work_ms != work_ms:
            parts.append(_typed_length(row.work_ms))
        if row.rest_ms is not None and row.rest_ms != rest_ms:
            parts.append(_rest(row.rest_ms))
        if row.side:
            parts.append(f"{row.side} side")
        yield from _move(", ".join(parts), row.must_say)


def _usual(values: Iterable[T]) -> T:
    return Counter(values).most_common(1)[0][0]


def _heading(row: PlanRow, rounds: int) -> str:
    kind = "" if kind_of_block(row.block) == row.kind else f" ({row.kind})"
    name = row.block if _NUMBERED_BLOCK.fullmatch(row.block) else _name(row.block)
    return f"{name}{kind}" + (f", {rounds} rounds" if rounds > 1 else "")


def _rest(length_ms: int) -> str:
    return f"{_typed_length(length_ms)} rest" if length_ms else "no rest"


def _move(line: str, points: Sequence[str]) -> Iterator[str]:
    """Write a move with its points: in brackets, or below it where brackets would not do."""
    said = "; ".join(points)
    if any("," in point for point in points) and len(points) == 1:
        said += ";"
    elif all("," not in point for point in points):
        said = ", ".join(points)
    if not points:
        yield f"- {line}"
    elif _PLAIN_POINT.fullmatch(said):
        yield f"- {line} (say: {said})"
    else:
        yield f"- {line}"
        yield f"  say: {said}"
