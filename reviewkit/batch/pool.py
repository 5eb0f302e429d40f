"""Review classes on this machine's cores, a few at a time however many there are."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Generator, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from itertools import islice

from reviewkit.batch.jobs import Failed, Job, Outcome, review_job

# A core that is done finds the next class waiting, and no more than these are in memory.
WAITING_PER_CORE = 2
# Left alone, the linear algebra of every process takes a thread for each core, and these
# threads spin while they wait: twice as many as cores hinder one another.
THREADS = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")
KILLED = (
    "the process that reviewed it was ended from outside, perhaps as memory ran out; "
    "try again with fewer --cores"
)


def usable_cores() -> int:
    """Give the number of cores that this program may use, at least 1."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def review_on_cores(jobs: Iterable[Job], cores: int) -> Generator[Outcome, None, None]:
    """Review classes in so many processes and give each outcome as it comes.

    Jobs are taken only as they are needed. When a process is ended from outside, the
    classes that were being reviewed are reviewed again one at a time, so that a class that
    takes its process down with it fails alone. Closing the iterator ends the processes at once.
    """
    rest = iter(jobs)
    suspects: list[Job] = []
    while True:
        suspects = yield from _until_broken(rest, cores)
        if not suspects:
            return
        for job in suspects:
            if (yield from _until_broken(iter([job]), 1)):
                yield Failed(job.name, KILLED)


def _until_broken(rest: Iterator[Job], cores: int) -> Generator[Outcome, None, list[Job]]:
    """Review until all is done or a process was lost; return what was in work by then."""
    pool = ProcessPoolExecutor(
        cores, mp_context=multiprocessing.get_context("spawn"), initializer=_begin
    )
    at_work: dict[Future[Outcome], Job] = {}
    try:
        while True:
            for job in islice(rest, WAITING_PER_CORE * cores - len(at_work)):
                try:
                    with one_thread_each():
                        at_work[pool.submit(review_job, job)] = job
                except BrokenProcessPool:
                    return [*at_work.values(), job]
            if not at_work:
                return []
            for done in wait(at_work, return_when=FIRST_COMPLETED).done:
                outcome = done.result()
                del at_work[done]
                yield outcome
    except BrokenProcessPool:
        return list(at_work.values())
    finally:
        _end(pool)


@contextmanager
def one_thread_each() -> Iterator[None]:
    """Let processes that are started meanwhile calculate in one thread, unless told otherwise.

    It has to be in their environment from the start: libraries look there once.
    """
    ours = [name for name in THREADS if name not in os.environ]
    os.environ.update(dict.fromkeys(ours, "1"))
    try:
        yield
    finally:
        for name in ours:
            del os.environ[name]


def _begin() -> None:
    """Leave Ctrl+C to the program that gave out the work, and end when it is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _end(pool: ProcessPoolExecutor) -> None:
    # Shut down in the usual way, each process would first finish the classes it was given.
    for process in list((pool._processes or {}).values()):
        process.terminate()
    # The pool's own thread waits for them: two that do so at once get in each other's way.
    pool.shutdown(wait=True, cancel_futures=True)
