"""Print what a batch costs: a core's rate beside a single process, memory, disk, database.

    python -m tests.benchmarks.batch
    python -m tests.benchmarks.batch --memory 100 300 1000
    python -m tests.benchmarks.batch --postgres

Rates are ratios, which carry over from machine to machine, of seconds of the processor, best
of a few, so that a busy machine changes them little; by the clock they hold for an idle
machine alone. Everything is measured in fresh processes. Memory is read from ``/proc``.
"""

from __future__ import annotations

import argparse
import multiprocessing
import time
from collections.abc import Callable, Generator, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import ExitStack
from dataclasses import dataclass, replace
from functools import partial
from itertools import cycle, islice
from pathlib import Path
from resource import RUSAGE_SELF, getrusage
from tempfile import TemporaryDirectory
from typing import ParamSpec, TypeVar

from sqlalchemy import create_engine

from reviewkit.batch.folders import Library, pair_folder, read_job
from reviewkit.batch.jobs import Job, Outcome, Settings, review_job
from reviewkit.batch.pool import one_thread_each, review_on_cores, usable_cores
from reviewkit.batch.running import run_batch
from reviewkit.batch.summary import summarise
from reviewkit.evaluate import LabelledClass
from reviewkit.model import PlanRow
from reviewkit.report.plan_files import plan_csv
from reviewkit.store import NewReview, Store, open_data
from tests.corpus import class_folders, load_class
from tests.forms import render
from tests.postgres import programs, server

CLASSES = 20
WARM = 2
TURNS = 3
SHORT_MS = 180_000
COUNTS = (100, 300)

P = ParamSpec("P")
Made = TypeVar("Made")


@dataclass(frozen=True, slots=True)
class Rate:
    """What a class takes once all is warm, in seconds of one core's processor, and by the clock."""

    cpu_s: float
    clock_s: float


@dataclass(frozen=True, slots=True)
class Taken:
    """What a whole batch took; ``keep_s`` is the time of the database, all classes together."""

    parent_mb: float
    worker_mb: float
    documents_kb: float
    database_kb: float
    keep_s: float


def write_classes(folder: Path, count: int, *, most_ms: int | None = None) -> Path:
    """Write so many classes, the labelled ones over and over, whole or their first minutes."""
    folder.mkdir(parents=True)
    kept = 60 if most_ms else count
    given = [_shortened(load_class(one), most_ms) for one in class_folders()[:kept]]
    files = [(render(one, "vtt"), plan_csv(one.plan)) for one in given]
    for number, (captions, plan) in enumerate(islice(cycle(files), count)):
        (folder / f"{number}.vtt").write_text(captions, encoding="utf-8")
        (folder / f"{number}-plan.csv").write_text(plan, encoding="utf-8")
    return folder


def _shortened(one: LabelledClass, most_ms: int | None) -> LabelledClass:
    if most_ms is None:
        return one
    words = tuple(word for word in one.words if word.end_ms <= most_ms)
    rows: list[PlanRow] = []
    at_ms = 0
    for row in one.plan.rows:
        at_ms += row.work_ms + (row.rest_ms or 0)
        if rows and at_ms > most_ms:
            break
        rows.append(row)
    return replace(one, words=words, plan=replace(one.plan, rows=tuple(rows)))


def fresh(work: Callable[P, Made], *given: P.args, **named: P.kwargs) -> Made:
    """Do some work in a process of its own that calculates in one thread."""
    with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as pool:
        with one_thread_each():
            done = pool.submit(work, *given, **named)
        return done.result()


def jobs_of(folder: Path) -> list[Job]:
    """Read the classes of a folder."""
    return [read_job(folder, pair, Settings()) for pair in pair_folder(folder).pairs]


# --- rates ---------------------------------------------------------------------------------


def alone(folder: Path) -> Rate:
    """Review classes one after the other in this process, some of them before it counts."""
    first, *jobs = jobs_of(folder)
    for _ in range(WARM):
        review_job(first)
    cpu_s, clock_s = time.process_time(), time.perf_counter()
    for job in jobs:
        review_job(job)
    counted = len(jobs)
    return Rate((time.process_time() - cpu_s) / counted, (time.perf_counter() - clock_s) / counted)


def on_cores(folder: Path, cores: int) -> Rate:
    """Review classes as the batch does; what the processes take at first does not count."""
    first, *jobs = jobs_of(folder)
    # No class is reviewed twice of those that count: lines that were heard before are quick.
    warm, begun = WARM * cores, (0.0, 0.0)
    jobs = [first] * warm + jobs
    done, now = 0, begun
    for done, _ in enumerate(review_on_cores(jobs, cores), start=1):
        now = _used_s(), time.perf_counter()
        if done == warm:
            begun = now
    counted = done - warm
    return Rate((now[0] - begun[0]) / counted, (now[1] - begun[1]) * cores / counted)


def _used_s() -> float:
    """Give the seconds of the processor that this process and those it started have used."""
    used_s = time.process_time()
    for child in multiprocessing.active_children():
        fields = Path(f"/proc/{child.pid}/stat").read_text("utf-8").rsplit(")", 1)[1].split()
        used_s += (int(fields[11]) + int(fields[12])) / 100
    return used_s


def say_rates(cores: int, turns: int) -> None:
    """Set a core of a batch beside a single process."""
    with TemporaryDirectory() as folder:
        classes = write_classes(Path(folder) / "in", CLASSES)

        def batch_on(used: int) -> Callable[[], Rate]:
            return lambda: fresh(on_cores, classes, used)

        ways: dict[str, Callable[[], Rate]] = {"a single process": lambda: fresh(alone, classes)}
        for used in sorted({1, cores}):
            ways[f"a batch on {used} of the cores"] = batch_on(used)
        # In turns, so that a busy moment is not one way's alone.
        found: dict[str, list[Rate]] = {name: [] for name in ways}
        for _ in range(turns):
            for name, measure in ways.items():
                found[name].append(measure())
    say(f"A class on one core, whole classes, best of {turns}")
    least = min(one.cpu_s for one in found["a single process"])
    least_clock = min(one.clock_s for one in found["a single process"])
    for name, rates in found.items():
        cpu_s, clock_s = (min(getattr(one, of) for one in rates) for of in ("cpu_s", "clock_s"))
        say(
            f"  {name:<28}{cpu_s:7.3f} s, {cpu_s / least:5.2f} times (goal 1.1); "
            f"by the clock {clock_s:7.3f} s, {clock_s / least_clock:5.2f} times"
        )


# --- memory, disk and database -------------------------------------------------------------


class Timed:
    """Keeps reviews in a store, and counts the seconds."""

    def __init__(self, store: Store) -> None:
        self.store = store
        self.keep_s = 0.0

    def has_digest(self, digest: str) -> bool:
        return self.store.has_digest(digest)

    def add_review_once(self, review: NewReview) -> int:
        begun_s = time.perf_counter()
        kept = self.store.add_review_once(review)
        self.keep_s += time.perf_counter() - begun_s
        return kept


def whole_batch(folder: Path, out: Path, cores: int, data: str | None) -> Taken:
    """Run a batch as the command does, summary and all, and look at what it takes."""
    pairing, library = pair_folder(folder), Library(out)
    read = partial(read_job, folder, settings=Settings())
    worker_mb = 0.0

    def look(*_: object) -> None:
        nonlocal worker_mb
        worker_mb = max([worker_mb, *map(_peak_mb, multiprocessing.active_children())])

    def work(jobs: Iterable[Job]) -> Generator[Outcome, None, None]:
        yield from review_on_cores(jobs, cores)

    with ExitStack() as closing:
        store = closing.enter_context(open_data(data)) if data else None
        keeper = Timed(store) if store else None
        ran = run_batch(pairing, read, work, library, keeper, look)
        assert len(ran.done) == len(pairing.pairs), ran.failed
        summarise((name, library.read(name)) for name in ran.done)
    return Taken(
        getrusage(RUSAGE_SELF).ru_maxrss / 1024,
        worker_mb,
        _size_kb((out / "classes").glob("*")) / len(ran.done),
        _size_kb([*Path(data).glob("*")] if data and "://" not in data else []) / len(ran.done),
        keeper.keep_s if keeper else 0.0,
    )


def _peak_mb(process: multiprocessing.process.BaseProcess) -> float:
    lines = Path(f"/proc/{process.pid}/status").read_text("utf-8").splitlines()
    return next((int(one.split()[1]) / 1024 for one in lines if one.startswith("VmHWM")), 0.0)


def _size_kb(paths: Iterable[Path]) -> float:
    return sum(one.stat().st_size for one in paths) / 1000


def say_memory(counts: Sequence[int], cores: int) -> None:
    """See whether memory grows with the number of classes, by classes of some minutes."""
    say(f"Peak of memory on {cores} cores, classes of {SHORT_MS // 60_000} minutes")
    for count in counts:
        with TemporaryDirectory() as folder:
            classes = write_classes(Path(folder) / "in", count, most_ms=SHORT_MS)
            begun_s = time.perf_counter()
            taken = fresh(whole_batch, classes, Path(folder) / "out", cores, None)
            clock_s = time.perf_counter() - begun_s
        say(
            f"  {count:5} classes: parent {taken.parent_mb:5.0f} MB, largest worker "
            f"{taken.worker_mb:5.0f} MB, {clock_s:6.0f} s by the clock"
        )


def say_places(cores: int, *, has_server: bool) -> None:
    """Print the disk and the time that keeping a whole class takes, in a file or on a server."""
    say("Kept of a whole class")
    with ExitStack() as closing:
        folder = Path(closing.enter_context(TemporaryDirectory()))
        classes = write_classes(folder / "in", CLASSES)
        bin_folder = programs()
        if has_server and bin_folder:
            name = "PostgreSQL"
            address = closing.enter_context(server(bin_folder)).format("postgres")
            taken = fresh(whole_batch, classes, folder / "out", cores, address)
            engine = create_engine(address)
            with engine.connect() as connection:
                size = "SELECT pg_total_relation_size('reviews')"
                database_kb = int(connection.exec_driver_sql(size).scalar_one()) / 1000 / CLASSES
            engine.dispose()
        else:
            name = "SQLite"
            taken = fresh(whole_batch, classes, folder / "out", cores, str(folder / "data"))
            database_kb = taken.database_kb
    say(f"  document {taken.documents_kb:6.0f} kB, row in {name} {database_kb:6.0f} kB")
    say(f"  keeping it in {name} {1000 * taken.keep_s / CLASSES:6.1f} ms by the clock")
    say(f"  peak of the parent {taken.parent_mb:.0f} MB, of a worker {taken.worker_mb:.0f} MB")


def say(text: str) -> None:
    """Print a line at once."""
    print(text, flush=True)  # noqa: T201


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.batch", description=__doc__)
    parser.add_argument("--cores", type=int, default=min(2, usable_cores()))
    parser.add_argument("--turns", type=int, default=TURNS)
    parser.add_argument("--memory", type=int, nargs="+", help="numbers of classes")
    parser.add_argument("--postgres", action="store_true", help="keep on a server of its own")
    asked = parser.parse_args()
    if asked.memory:
        say_memory(asked.memory, asked.cores)
    elif asked.postgres:
        say_places(asked.cores, has_server=True)
    else:
        say_rates(asked.cores, asked.turns)
        say_memory(COUNTS, asked.cores)
        say_places(asked.cores, has_server=False)


if __name__ == "__main__":
    main()
