"""``reviewkit plan``: show a plan as a timetable, or convert it."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer


class PlanForm(StrEnum):
    """The forms a plan is written in."""

    CSV = "csv"
    XLSX = "xlsx"
    TEXT = "text"


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
    """Show a plan as a timetable, or convert it between CSV, .xlsx and plain text."""
    from reviewkit.read import read_plan

    read_plan(file)
