"""The review on a terminal: readable at 80 columns, with and without colour."""

from __future__ import annotations

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from reviewkit.model import Fix, Interval, MoveFinding, PointFinding, Review
from reviewkit.report.document import in_class_order
from reviewkit.report.verdicts import verdict_sentence
from reviewkit.report.wording import (
    clean,
    count,
    name_kind,
    quote,
    say_left,
    say_length,
    say_length_range,
    say_moment,
    say_move,
    say_value,
    say_verdict,
)

MAX_FIXES = 7
_OFF = "bold"


def print_review(review: Review, console: Console, *, is_written: bool = False) -> None:
    """Print verdict, fixes, intervals, moves with something missing or late, and the rest.

    ``is_written`` tells whether the full report was asked for as well.
    """
    full = "full report" if is_written else "full report (--out)"
    console.print(Text(verdict_sentence(review), style="bold"))
    _print_fixes(review.findings.fixes, console, full)
    _print_intervals(review, console)
    _print_points(review.findings.moves, console, full)
    _print_others(review, console)
    for warning in review.transcript.warnings:
        console.print(Text(f"Note: {clean(warning)}"))
    if review.cautions:
        console.print()
        console.print(Text(clean(review.cautions[0]), style="italic"))


def _heading(text: str, console: Console) -> None:
    console.print()
    console.print(Text(text, style="bold underline"))


def _table(*columns: tuple[str, str]) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, header_style="")
    for name, options in columns:
        table.add_column(
            name,
            justify="right" if "right" in options else "left",
            no_wrap="whole" in options,
            ratio=1 if "wide" in options else None,
        )
    table.expand = any("wide" in options for _, options in columns)
    return table


def _print_fixes(fixes: tuple[Fix, ...], console: Console, full: str) -> None:
    if not fixes:
        return
    _heading("Before publishing", console)
    for fix in fixes[:MAX_FIXES]:
        moment = f"{say_moment(fix.at_ms):>7}" if fix.at_ms is not None else " " * 7
        console.print()
        grid = Table.grid(padding=(0, 2, 0, 0))
        grid.add_row(f"{fix.rank:>2}. {moment}", Text(clean(fix.what), style="bold"))
        grid.add_row("", Text(clean(fix.how)))
        console.print(grid)
    if len(fixes) > MAX_FIXES:
        console.print()
        console.print(Text(f"   {len(fixes) - MAX_FIXES} more in the {full}."))


def _print_intervals(review: Review, console: Console) -> None:
    _heading("Intervals", console)
    table = _table(
        ("at", "right whole"),
        ("move", "wide"),
        ("r", "right whole"),
        ("planned", "right whole"),
        ("actual (range)", "whole"),
        ("verdict", "whole"),
    )
    for interval, _ in in_class_order(review):
        table.add_row(
            Text(say_moment(interval.start.at_ms if interval.start else None)),
            Text(say_move(interval)),
            Text(str(interval.round)),
            Text(say_length(interval.planned_ms)),
            Text(say_length_range(interval)),
            Text(say_verdict(interval), style=_style(interval)),
        )
    console.print(table)


def _style(interval: Interval) -> str:
    return "" if interval.status == "done" and interval.timing == "on time" else _OFF


def _print_points(moves: tuple[MoveFinding, ...], console: Console, full: str) -> None:
    asked = [(move, point) for move in moves for point in move.points if _is_open(point)]
    by_plan = [pair for pair in asked if pair[1].asked_by == "plan"]
    suggested = len(asked) - len(by_plan)
    if by_plan:
        _heading("Points the plan asks for, missing or late", console)
        table = _table(("move", ""), ("point", "wide"), ("verdict", "wide"))
        for move, point in by_plan:
            table.add_row(
                Text(clean(move.move)), Text(clean(point.point)), Text(_verdict_words(point))
            )
        console.print(table)
    if suggested:
        console.print()
        points = count(
            suggested, "point that the lexicon suggests", "points that the lexicon suggests"
        )
        console.print(Text(f"Missing or late, too: {points}. The {full} has them."))


def _is_open(point: PointFinding) -> bool:
    return point.verdict != "said"


def _verdict_words(point: PointFinding) -> str:
    if point.verdict == "missing" or not point.evidence:
        return point.verdict
    first = point.evidence[0]
    return f"{point.verdict}, first at {say_moment(first.at_ms)}: {quote(first.text)}"


def _print_others(review: Review, console: Console) -> None:
    rows = sorted(_call_rows(review) + _promise_rows(review) + _flag_rows(review))
    if not rows:
        return
    _heading("Also heard", console)
    table = _table(("at", "right whole"), ("what", ""), ("words", "wide"))
    for at_ms, what, words in rows:
        table.add_row(Text(say_moment(at_ms)), Text(what), Text(words))
    console.print(table)


def _call_rows(review: Review) -> list[tuple[int, str, str]]:
    return [
        (
            call.at_ms,
            "wrong time call",
            f"{quote(call.text)} with {say_left(call.actual_left_ms)} left",
        )
        for call in review.findings.time_calls
        if call.verdict == "wrong"
    ]


def _promise_rows(review: Review) -> list[tuple[int, str, str]]:
    return [
        (
            promise.at_ms,
            f"broken promise: {name_kind(promise.what)}",
            f"{quote(promise.text)}; found {say_value(promise.found, promise.what)}",
        )
        for promise in review.findings.promises
        if promise.verdict == "broken"
    ]


def _flag_rows(review: Review) -> list[tuple[int, str, str]]:
    return [
        (
            flag.at_ms,
            name_kind(flag.kind),
            _quoted(flag.text) + _quoted(flag.other_text) + clean(flag.why),
        )
        for flag in review.findings.flags
    ]


def _quoted(text: str) -> str:
    return f"{quote(text)}; " if text.strip() else ""
