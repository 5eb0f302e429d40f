"""Why an interval is where it is, on a terminal: readable at 80 columns."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from reviewkit.model import Interval
from reviewkit.model.explained import (
    Candidate,
    EdgeExplanation,
    Explanation,
    LengthExplanation,
    Reason,
)
from reviewkit.report.wording import (
    DASH,
    MINUS,
    clean,
    say_length,
    say_move,
    say_verdict,
)
from reviewkit.times import format_clock

MOST_REASONS = 6
MOST_REASONS_OF_OTHERS = 3
LEAST_WEIGHT = 0.25
LEGEND = (
    "Weights add up: +0.7 makes a moment twice as likely, +2.3 ten times, "
    f"{MINUS}2.3 a tenth as likely."
)


def print_explanation(explained: Explanation, console: Console) -> None:
    """Print both edges with what spoke for them, then length, rest and move."""
    one = explained.interval
    console.print(Text(f"Interval {one.plan_row}: {say_move(one)}", style="bold"))
    console.print(Text(_summary(one)))
    _print_edge("Start", explained.start, console)
    _print_edge("End", explained.end, console)
    _print_length(explained, console)
    _print_heard("Names heard around the start", explained.names, console)
    _print_heard("Talk inside that tells the move", explained.cues, console)
    console.print()
    console.print(Text(LEGEND, style="italic"))


def _summary(one: Interval) -> str:
    where = clean(f"{one.block}, round {one.round}")
    if one.start is None or one.end is None:
        return f"{where}: skipped"
    span = f"{_exact(one.start.at_ms)} {DASH} {_exact(one.end.at_ms)}"
    sure = f"{_percent(one.certainty)} sure that it was done"
    return f"{where}: {span}, {say_verdict(one)}, {sure}"


def _print_edge(name: str, edge: EdgeExplanation, console: Console) -> None:
    console.print()
    console.print(Text(_edge_title(name, edge), style="bold underline"))
    if edge.taken is not None:
        _print_candidate(edge.taken, MOST_REASONS, console)
    if edge.others:
        label = "Instead it might be" if edge.taken else "If it was done, it might be"
        console.print(Text(label))
    for other in edge.others:
        _print_candidate(other, MOST_REASONS_OF_OTHERS, console)
    if edge.taken is None and not edge.others:
        console.print(Text("  no moment in the talk comes into question"))


def _edge_title(name: str, edge: EdgeExplanation) -> str:
    if edge.edge is None:
        return name
    low, high = _exact(edge.edge.low_ms), _exact(edge.edge.high_ms)
    between = f", between {low} and {high}" if low != high else ""
    return f"{name} {_exact(edge.edge.at_ms)}{between}"


def _print_candidate(one: Candidate, most: int, console: Console) -> None:
    grid = _grid()
    grid.add_row(
        _exact(one.at_ms), f"chance {_percent(one.chance)}, the talk alone {_signed(one.odds)}"
    )
    grid.add_row("", f"{_or_nothing(one.before)} | {_or_nothing(one.after)}")
    console.print(grid)
    kept = [reason for reason in one.reasons if abs(reason.weight) >= LEAST_WEIGHT]
    _print_reasons(sorted(kept[:most], key=lambda reason: -reason.weight), console)


def _or_nothing(text: str) -> str:
    return clean(text) or "(nothing)"


def _print_reasons(reasons: Sequence[Reason], console: Console) -> None:
    grid = _grid()
    for reason in reasons:
        grid.add_row(_signed(reason.weight), clean(reason.text))
    if reasons:
        console.print(grid)


def _grid() -> Table:
    grid = Table.grid(padding=(0, 2, 0, 0))
    grid.add_column(justify="right", width=9, no_wrap=True)
    grid.add_column()
    return grid


def _print_length(explained: Explanation, console: Console) -> None:
    if explained.length is None:
        return
    console.print()
    console.print(Text("Length and rest", style="bold underline"))
    console.print(Text(_length_line(explained.length, explained.interval)))
    if explained.rest_before_ms is not None:
        planned = explained.planned_rest_before_ms
        against = "" if planned is None else f", planned {say_length(planned)}"
        console.print(Text(f"  rest before: {say_length(explained.rest_before_ms)}{against}"))


def _length_line(length: LengthExplanation, one: Interval) -> str:
    line = f"  length: {say_length(length.length_ms)}, planned {say_length(one.planned_ms)}"
    if one.planned_ms is not None and abs(length.expected_ms - one.planned_ms) >= 1000:
        line += f", usual in this class {say_length(length.expected_ms)}"
    line += (
        f"\n  this length counts {_signed(length.weight)}, "
        f"the usual one would count {_signed(length.expected_weight)}"
    )
    if length.remarked is not None:
        how = "been cut short" if length.length_ms < length.expected_ms else "run over"
        line += f"\n  said around the end of its having {how}: {_signed(length.remarked)}"
    return line


def _print_heard(title: str, reasons: Sequence[Reason], console: Console) -> None:
    if reasons:
        console.print()
        console.print(Text(title, style="bold underline"))
        _print_reasons(reasons, console)


def _signed(weight: float) -> str:
    return f"{MINUS if weight < 0 else '+'}{abs(weight):.1f}"


def _percent(chance: float) -> str:
    shown = f"{100 * chance:.0f} %"
    return "under 1 %" if shown == "0 %" else shown


def _exact(at_ms: int) -> str:
    """Write a moment to the tenth of a second."""
    return f"{format_clock(at_ms)}.{max(0, at_ms) % 1000 // 100}"
