"""Progress printed in a terminal."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table

from reviewkit.cautions import CAUTIONS
from reviewkit.progress.charts import sparkline
from reviewkit.progress.compare import Comparison, PointPair
from reviewkit.progress.figures import FIGURES
from reviewkit.progress.overview import Overview
from reviewkit.progress.wording import (
    METHOD,
    ONLY_TWO,
    say_change,
    say_figure,
    say_overview,
    say_points,
    say_trend,
)
from reviewkit.report.wording import NONE, clean

MOST_CLASSES = 20
MOST_POINTS = 20


def print_progress(overview: Overview, console: Console) -> None:
    """Print figures with their small charts, and what is still missing."""
    console.print(say_overview(overview), style="bold")
    for line in overview.left_out:
        console.print(f"Left out: {clean(line)}")
    if not overview.classes:
        console.print("Review a class on the page, or with: reviewkit review ... --keep")
        return
    console.print()
    console.print(_figures(overview))
    if len(overview.classes) > MOST_CLASSES:
        console.print(f"Drawn: the latest {MOST_CLASSES}.", style="dim")
    _print_missing(overview, console)
    console.print("\nHow this is told", style="bold")
    for line in METHOD:
        console.print(line)
    _print_cautions(console)


def _figures(overview: Overview) -> Table:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column("Figure", no_wrap=True)
    table.add_column("First", justify="right", no_wrap=True)
    table.add_column("Latest", justify="right", no_wrap=True)
    table.add_column("Classes", no_wrap=True)
    table.add_column("Trend")
    for one in FIGURES:
        values = [record.figures[one.key] for record in overview.classes]
        known = [value for value in values if value is not None]
        table.add_row(
            one.name,
            say_figure(known[0] if known else None, one.unit),
            say_figure(known[-1] if known else None, one.unit),
            sparkline(one, values, MOST_CLASSES),
            say_trend(one, overview.trends[one.key]),
        )
    return table


def _print_missing(overview: Overview, console: Console) -> None:
    still = overview.still_missing
    if not still:
        return
    console.print("\nStill missing after three classes or more", style="bold")
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for name in ("Move", "Point", "Kind"):
        table.add_column(name)
    table.add_column("Missing in", no_wrap=True)
    for one in still[:MOST_POINTS]:
        table.add_row(
            clean(one.move),
            clean(one.point),
            say_points(one.kind, one.asked_by),
            f"the last {one.missing_run}",
        )
    console.print(table)
    if len(still) > MOST_POINTS:
        console.print(f"and {len(still) - MOST_POINTS} more; --json or --csv gives all of them")


def print_comparison(comparison: Comparison, console: Console) -> None:
    """Print two classes side by side."""
    for sign, one in (("A", comparison.first), ("B", comparison.second)):
        made = one.made_at.astimezone()
        console.print(f"{sign}: review {one.id}, {clean(one.title)}, {made:%Y-%m-%d}")
    console.print()
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column("Figure", no_wrap=True)
    for name in ("A", "B", "Change"):
        table.add_column(name, justify="right", no_wrap=True)
    for pair in comparison.figures:
        unit = pair.figure.unit
        table.add_row(
            pair.figure.name,
            say_figure(pair.first, unit),
            say_figure(pair.second, unit),
            say_change(pair.change, unit),
        )
    console.print(table)
    for title, pairs in (
        ("Went otherwise", comparison.changed),
        ("Missing in both", comparison.missing),
        ("Missing or late where only one asked for it", comparison.only_one),
    ):
        _print_pairs(title, pairs, console)
    console.print()
    console.print(ONLY_TWO)
    _print_cautions(console)


def _print_pairs(title: str, pairs: tuple[PointPair, ...], console: Console) -> None:
    if not pairs:
        return
    console.print(f"\n{title}", style="bold")
    for one in pairs:
        kind = say_points(one.kind, one.asked_by)
        is_same = one.first == one.second
        verdicts = "" if is_same else f": {one.first or NONE} → {one.second or NONE}"
        console.print(f"{clean(one.move)}: {clean(one.point)} ({kind}){verdicts}")


def _print_cautions(console: Console) -> None:
    console.print("\nWhat this cannot tell", style="bold")
    for line in CAUTIONS:
        console.print(f"- {line}")
