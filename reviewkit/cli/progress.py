"""``reviewkit progress``: the classes that are kept, over time."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reviewkit.cli.options import DataOption

if TYPE_CHECKING:
    from reviewkit.progress.overview import Overview
    from reviewkit.store import Store

STANDARD_OUTPUT = "-"


def progress(
    data: DataOption = None,
    compare: Annotated[
        tuple[str, str] | None,
        typer.Option(help="Set two classes side by side, each by its number or title."),
    ] = None,
    json: Annotated[
        Path | None, typer.Option(help="Write all of it as JSON to this file; - prints it.")
    ] = None,
    csv: Annotated[
        Path | None,
        typer.Option(
            help="Write a line a class to this file, and a line a point and class to one beside "
            "it whose name ends in -points."
        ),
    ] = None,
    parquet: Annotated[
        Path | None,
        typer.Option(help="The same two tables as Parquet (with reviewkit[parquet])."),
    ] = None,
    html: Annotated[Path | None, typer.Option(help="Write it as one page to this file.")] = None,
) -> None:
    """Show how your classes go over time: figures, trends, and what is still missing.

    Files of these names are replaced, whole or not at all.
    """
    from reviewkit.cli.console import make_console
    from reviewkit.kept.reopen import open_kept

    if compare and (json or csv or parquet):
        raise typer.BadParameter("--compare is printed, or written with --html")
    with open_kept(data) as store:
        if compare:
            _compare(store, *compare, html)
            return
        overview = _overview(store)
    targets = _targets(json, csv, parquet, html)
    _write({path: make(overview) for path, make in targets.items()})
    if str(json) == STANDARD_OUTPUT:
        from reviewkit.progress.tables import progress_json

        typer.echo(progress_json(overview), nl=False)
    elif not targets:
        from reviewkit.progress.text import print_progress

        print_progress(overview, make_console())


def _overview(store: Store) -> Overview:
    from reviewkit.cli.waiting import waiting
    from reviewkit.kept.looking_back import look_back

    with waiting("Looking through your classes ..."):
        return look_back(store)


def _compare(store: Store, first: str, second: str, html: Path | None) -> None:
    from reviewkit.cli.console import make_console
    from reviewkit.kept.forgetting import find_class
    from reviewkit.kept.looking_back import look_at
    from reviewkit.progress.compare import compare
    from reviewkit.progress.page import comparison_page
    from reviewkit.progress.text import print_comparison

    comparison = compare(*(look_at(store, find_class(store, which)) for which in (first, second)))
    if html:
        _write({html: comparison_page(comparison)})
    else:
        print_comparison(comparison, make_console())


Makers = dict[Path, Callable[["Overview"], str | bytes]]


def _targets(
    json: Path | None, csv: Path | None, parquet: Path | None, html: Path | None
) -> Makers:
    from reviewkit.progress import page, tables

    targets: Makers = {}
    if json and str(json) != STANDARD_OUTPUT:
        targets[json] = tables.progress_json
    if csv:
        targets |= {csv: tables.classes_csv, _beside(csv): tables.points_csv}
    if parquet:
        targets |= {parquet: tables.classes_parquet, _beside(parquet): tables.points_parquet}
    if html:
        targets[html] = page.page
    return targets


def _beside(path: Path) -> Path:
    return path.with_name(f"{path.stem}-points{path.suffix}")


def _write(made: dict[Path, str | bytes]) -> None:
    """Write files that are all made, so that none is written for nothing."""
    from reviewkit.files import write_whole

    for path, data in made.items():
        write_whole(path, data, overwrite=True)
        typer.echo(f"Written: {path}", err=True)
