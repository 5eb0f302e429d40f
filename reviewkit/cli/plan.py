"""``reviewkit plan``: show a plan as a timetable, or convert it."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from rich.table import Table

    from reviewkit.model import Plan


class PlanForm(StrEnum):
    """The forms a plan is written in."""

    CSV = "csv"
    XLSX = "xlsx"
    TEXT = "text"


_FORM_BY_ENDING = {
    ".csv": PlanForm.CSV,
    ".xlsx": PlanForm.XLSX,
    ".txt": PlanForm.TEXT,
    ".text": PlanForm.TEXT,
    ".md": PlanForm.TEXT,
}


def plan(
    file: Annotated[Path, typer.Argument(help="The plan: CSV, .xlsx or plain text.")],
    to: Annotated[
        PlanForm | None, typer.Option(help="Convert to this form instead of showing it.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option(help="File to write; its ending may stand for --to.")
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace the file if it exists.")] = False,
) -> None:
    """Show a plan as a timetable, or convert it."""
    from reviewkit.files import write_whole
    from reviewkit.read import read_plan

    form = to or _form_of(out)
    if form is PlanForm.XLSX and out is None:
        raise typer.BadParameter("a spreadsheet needs a file; add --out FILE", param_hint="--to")
    read = read_plan(file)
    if form is None:
        _show(read)
    elif out is None:
        sys.stdout.write(_written(read, form).decode("utf-8-sig"))
    else:
        write_whole(out, _written(read, form), overwrite=force)
        typer.echo(f"Wrote {out}")


def _form_of(out: Path | None) -> PlanForm | None:
    if out is None:
        return None
    form = _FORM_BY_ENDING.get(out.suffix.casefold())
    if form is None:
        raise typer.BadParameter(
            f'the ending of "{out.name}" stands for no form; add --to csv, xlsx or text',
            param_hint="--out",
        )
    return form


def _written(read: Plan, form: PlanForm) -> bytes:
    from reviewkit.report.plan_files import plan_csv, plan_text

    if form is PlanForm.XLSX:
        from reviewkit.report.plan_sheet import plan_xlsx

        return plan_xlsx(read)
    if form is PlanForm.TEXT:
        return plan_text(read).encode()
    # Spreadsheets take a table for UTF-8 only when a mark at its start says so.
    table = plan_csv(read)
    return table.encode("utf-8" if table.isascii() else "utf-8-sig")


def _show(read: Plan) -> None:
    from reviewkit.cli.console import make_console
    from reviewkit.report.timetable import total_ms, work_ms
    from reviewkit.times import format_clock

    console = make_console()
    if read.title:
        console.print(read.title)
    console.print(_timetable(read))
    promised = "" if read.minutes is None else f", announced as {read.minutes:g} minutes"
    intervals = "1 interval" if len(read.rows) == 1 else f"{len(read.rows)} intervals"
    console.print(
        f"{intervals}, {format_clock(work_ms(read))} of work, "
        f"{format_clock(total_ms(read))} in all{promised}"
    )


def _timetable(read: Plan) -> Table:
    from rich import box
    from rich.table import Table

    from reviewkit.report.timetable import start_times
    from reviewkit.times import format_clock, format_length

    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 2, 0, 0), show_edge=False)
    for title in ("Start", "Move", "Side", "Work", "Rest", "Must say"):
        is_figure = title in ("Start", "Work", "Rest")
        table.add_column(title, justify="right" if is_figure else "left", no_wrap=is_figure)
    repeating = {row.block for row in read.rows if row.round > 1}
    part = ""
    shown: set[tuple[str, tuple[str, ...]]] = set()
    for at_ms, row in start_times(read):
        here = f"{row.block}, round {row.round}" if row.block in repeating else row.block
        if here != part:
            part = here
            table.add_section()
            table.add_row("", part, style="bold")
        # Points of a move are shown once, where they are due.
        points = () if (row.move, row.must_say) in shown else row.must_say
        shown.add((row.move, row.must_say))
        table.add_row(
            format_clock(at_ms),
            row.move,
            row.side,
            format_length(row.work_ms),
            "" if row.rest_ms is None else format_length(row.rest_ms),
            "; ".join(points),
        )
    return table
