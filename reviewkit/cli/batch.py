"""``reviewkit batch``: review a folder of classes."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reviewkit.cli.review import Tolerance, read_tolerance

if TYPE_CHECKING:
    from reviewkit.batch.pairing import Pairing
    from reviewkit.batch.running import Ran, Tell, Told

NONE_REVIEWED = 2
STOPPED = 130
MOST_NAMED = 20


def batch(
    folder: Annotated[Path, typer.Argument(help="Folder with the transcripts and plans.")],
    out: Annotated[
        Path, typer.Option(help="Folder for a document for each class, and the summary of all.")
    ],
    cores: Annotated[
        int | None, typer.Option(min=1, help="How many cores to use; all when not given.")
    ] = None,
    lexicon: Annotated[
        Path | None, typer.Option(help="Folder with word lists of your own.")
    ] = None,
    tolerance: Tolerance = None,
) -> None:
    """Review every class of a folder, and sum up the whole library.

    A transcript and a plan belong together when their names are the same but for words such
    as plan or captions; a plan called plan holds for its whole folder. The same command goes
    on where it was stopped. Exits 0 when any class was reviewed, and names those left out.
    """
    from reviewkit.batch.jobs import Settings, lexicon_of
    from reviewkit.batch.library import Library, pair_folder
    from reviewkit.batch.pool import review_on_cores, usable_cores
    from reviewkit.batch.running import run_batch
    from reviewkit.read import own_lexicon_files

    settings = Settings(read_tolerance(tolerance), own_lexicon_files(lexicon) if lexicon else ())
    lexicon_of(settings)  # What is wrong with the lists is wrong for every class: say it once.
    pairing = pair_folder(folder, [out])
    library = Library(out)
    at_most = min(cores or usable_cores(), max(1, len(pairing.pairs)))
    try:
        with _progress(len(pairing.pairs)) as tell:
            ran = run_batch(
                folder, pairing, settings, lambda jobs: review_on_cores(jobs, at_most),
                library, None, tell,
            )  # fmt: skip
    except KeyboardInterrupt:
        typer.echo("Stopped. What is done is kept; the same command goes on from there.", err=True)
        raise typer.Exit(STOPPED) from None
    _sum_up(library, ran, pairing)
    if not ran.done:
        raise typer.Exit(NONE_REVIEWED)


def _sum_up(library: object, ran: Ran, pairing: Pairing) -> None:
    from reviewkit.batch.library import Library
    from reviewkit.batch.summary import summarise
    from reviewkit.batch.writing import summary_files

    assert isinstance(library, Library)  # noqa: S101
    summary = summarise((name, library.read(name)) for name in ran.done)
    failed = [(one.name, one.reason) for one in ran.failed]
    unused = [(one.path.as_posix(), one.reason) for one in pairing.unused]
    library.write_summary(summary_files(summary, failed, unused))
    _say_ran(ran, unused, library.folder)


def _say_ran(ran: Ran, unused: list[tuple[str, str]], out: Path) -> None:
    earlier = len(ran.done) - ran.reviewed
    typer.echo(
        f"{ran.reviewed} reviewed, {earlier} done before, {len(ran.failed)} left out. "
        f"The summary is in {out}: open {out / 'summary.html'}"
    )
    left_out = [(one.name, one.reason) for one in ran.failed]
    for title, named in (("Left out:", left_out), ("Plans not used:", unused)):
        if named:
            typer.echo(title, err=True)
            for name, reason in named[:MOST_NAMED]:
                typer.echo(f"  {name}: {reason}", err=True)
            if len(named) > MOST_NAMED:
                typer.echo(f"  and {len(named) - MOST_NAMED} more; see the summary", err=True)


@contextmanager
def _progress(total: int) -> Iterator[Tell]:
    """Show how far the batch is and how long it may still take, where somebody watches."""
    import sys

    from rich.console import Console
    from rich.progress import (
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
        TimeRemainingColumn,
    )

    console = Console(stderr=True, markup=False, emoji=False, highlight=False)
    columns = (
        TextColumn("Reviewing", markup=False),
        BarColumn(bar_width=24),
        MofNCompleteColumn(),
        TextColumn("time left", markup=False),
        TimeRemainingColumn(),
        TextColumn("{task.fields[last]}", markup=False),
    )
    with Progress(*columns, console=console, disable=not sys.stderr.isatty()) as progress:
        task = progress.add_task("", total=total, last="")

        def tell(name: str, told: Told) -> None:
            if told == "failed":
                progress.update(task, advance=1, last=f"left out: {name}"[:30])
            elif told == "done before":
                # It took no time, so it says nothing about the rest.
                progress.update(task, total=max(0, (progress.tasks[0].total or 0) - 1))
            else:
                progress.update(task, advance=1)

        yield tell
