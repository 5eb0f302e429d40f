"""``reviewkit batch``: review a folder of classes."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reviewkit.cli.review import Tolerance, check_keeping, read_tolerance

if TYPE_CHECKING:
    from reviewkit.batch.folders import Library
    from reviewkit.batch.jobs import Settings
    from reviewkit.batch.pairing import Pairing
    from reviewkit.batch.running import Ran, Tell, Told, Work
    from reviewkit.store import Store

NONE_REVIEWED = 2
STOPPED = 130
STOPPED_AT = "Stopped. What is done is kept; the same command goes on from there."
MOST_NAMED = 20
CLUSTER_LIBRARIES = frozenset({"dask", "distributed"})
NO_CLUSTER = "needs a library that is not installed; pip install 'reviewkit[cluster]'"


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
    scheduler: Annotated[
        str | None,
        typer.Option(
            help="Review on the workers of this Dask cluster, such as tcp://host:8786; "
            "transcripts and plans are sent to them."
        ),
    ] = None,
    data: Annotated[
        str | None,
        typer.Option(
            help="Keep the reviews in this folder, too, as the page does, or in a PostgreSQL "
            "database by its address, such as postgresql+psycopg://user@host/database."
        ),
    ] = None,
) -> None:
    """Review every class of a folder, and sum up the whole library.

    A transcript and a plan belong together when their names are the same but for words such
    as plan or captions; a plan called plan holds for its whole folder. The same command goes
    on where it was stopped. Exits 0 when any class was reviewed, and names those left out.
    """
    from contextlib import ExitStack

    from reviewkit.batch.folders import Library, pair_folder

    if data:
        check_keeping(lexicon, "--data")
    tolerance_ms = read_tolerance(tolerance)
    pairing = pair_folder(folder, [out])
    with ExitStack() as closing:
        work = closing.enter_context(_workers(scheduler, cores, len(pairing.pairs)))
        store = closing.enter_context(_opened(data)) if data else None
        settings = _settings(lexicon, tolerance_ms, store)
        library = Library(out)
        try:
            ran = _run(folder, pairing, settings, work, library, store)
        except KeyboardInterrupt:
            typer.echo(STOPPED_AT, err=True)
            raise typer.Exit(STOPPED) from None
    _sum_up(library, ran, pairing)
    if not ran.done:
        raise typer.Exit(NONE_REVIEWED)


def _opened(data: str) -> Store:
    from reviewkit.store import open_data

    return open_data(data)


def _settings(lexicon: Path | None, tolerance_ms: int | None, store: Store | None) -> Settings:
    """Read the options; what is wrong with word lists is said once, not for every class."""
    from reviewkit.batch.jobs import Settings, lexicon_of
    from reviewkit.read import own_lexicon_files

    lines = store.list_lexicon_lines() if store else ()
    settings = Settings(
        tolerance_ms,
        own_lexicon_files(lexicon) if lexicon else (),
        tuple((one.file, one.line) for one in lines),
    )
    lexicon_of(settings)
    return settings


@contextmanager
def _workers(scheduler: str | None, cores: int | None, classes: int) -> Iterator[Work]:
    """Give what reviews classes: the cores of this machine, or a cluster's workers."""
    from reviewkit.batch.pool import review_on_cores, usable_cores
    from reviewkit.errors import InputError

    if scheduler is None:
        at_most = min(cores or usable_cores(), max(1, classes))
        yield lambda jobs: review_on_cores(jobs, at_most)
        return
    if cores is not None:
        raise InputError("--cores", None, "does not go with --scheduler; its workers tell")
    try:
        from reviewkit.batch.cluster import connected, review_on_cluster
    except ModuleNotFoundError as error:
        if error.name not in CLUSTER_LIBRARIES:
            raise
        raise InputError("--scheduler", None, NO_CLUSTER) from None
    with connected(scheduler) as cluster:
        yield lambda jobs: review_on_cluster(jobs, cluster)


def _run(
    folder: Path,
    pairing: Pairing,
    settings: Settings,
    work: Work,
    library: Library,
    store: Store | None,
) -> Ran:
    from functools import partial

    from reviewkit.batch.folders import read_job
    from reviewkit.batch.running import run_batch

    read = partial(read_job, folder, settings=settings)
    with _progress(len(pairing.pairs)) as tell:
        return run_batch(pairing, read, work, library, store, tell)


def _sum_up(library: Library, ran: Ran, pairing: Pairing) -> None:
    from reviewkit.batch.summary import summarise
    from reviewkit.batch.writing import summary_files

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

        def tell(name: str, told: Told, _reason: str) -> None:
            if told == "failed":
                progress.update(task, advance=1, last=f"left out: {name}"[:30])
            elif told == "done before":
                # It took no time, so it says nothing about the rest.
                progress.update(task, total=max(0, (progress.tasks[0].total or 0) - 1))
            else:
                progress.update(task, advance=1)

        yield tell
