"""Review classes on an existing Dask cluster; this process alone takes in what comes back.

A worker that is lost loses no class: its classes are reviewed anew by the others, and a
class is taken in once, however often it was reviewed. Scheduler and workers must have the
same version of the program, which is looked at before and with every class.
"""

from __future__ import annotations

import asyncio
import logging
import re
import time
from collections.abc import Generator, Iterable, Iterator
from concurrent.futures import CancelledError
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from importlib.metadata import version
from itertools import islice

from distributed import Client, Future, KilledWorker, rpc, wait

from reviewkit.batch.jobs import Failed, Job, Outcome, Reviewed, review_job
from reviewkit.batch.pool import WAITING_PER_CORE
from reviewkit.errors import InputError

CONNECT_S = 10
# A cluster without a worker for this long will hardly get one.
DESERTED_S = 60
LOOK_S = 5
KILLED = "the workers that reviewed it were ended, one after the other; see that memory suffices"
_ADDRESS = re.compile(r"((tcp|tls|ws|wss)://)?[^\s/]+:\d{1,5}")
_NO_ADDRESS = "is no address of a Dask scheduler; write tcp://host:8786"
_NO_ANSWER = (
    "no Dask scheduler answers there; see that it runs, and give the address that it names "
    "when it starts"
)
_GONE = "the scheduler is gone; what is done is kept, and the same command goes on from there"
_DESERTED = (
    "there are no workers left; what is done is kept, and the same command goes on once some "
    "have been started"
)
_NO_WORKER = "has no workers; start one for each core with: dask worker ADDRESS --nthreads 1"
_TOO_NEW = "was joined by a worker of another Reviewkit than this; install the same everywhere"


@dataclass(frozen=True, slots=True)
class Cluster:
    """A cluster whose scheduler and workers have this very program; ``address`` as given."""

    address: str
    client: Client

    def cores(self) -> int:
        """Give how many classes its workers review at once now."""
        return sum(self.client.nthreads().values())

    def error(self, problem: str) -> InputError:
        """Say what is wrong with it."""
        return InputError(self.address, None, problem)


@contextmanager
def connected(address: str) -> Iterator[Cluster]:
    """Join a cluster for as long as it is needed; it goes on when this program has left.

    Raises:
        InputError: It is no address, nobody answers, there is no worker, or one of them
            has another version of the program.
    """
    with _quiet():
        client = _client(address)
        try:
            cluster = Cluster(address, client)
            _check_versions(cluster)
            yield cluster
        finally:
            with suppress(OSError):
                client.close(timeout=CONNECT_S)


def _client(address: str) -> Client:
    if not _ADDRESS.fullmatch(address):
        raise InputError(address or "--scheduler", None, _NO_ADDRESS)
    try:
        kind = asyncio.run(_kind(address))
    except Exception:
        # What a server of another sort sends may be anything.
        kind = ""
    if kind != "Scheduler":
        raise InputError(address, None, _NO_ANSWER)
    try:
        return Client(address, timeout=CONNECT_S, set_as_default=False)
    except OSError:
        raise InputError(address, None, _NO_ANSWER) from None
    except ImportError as error:
        raise InputError(address, None, f"runs another Dask than this machine: {error}") from None


async def _kind(address: str) -> str:
    """Ask who is there: a client that met no scheduler would be slow to give up."""
    async with asyncio.timeout(CONNECT_S), rpc(address, timeout=CONNECT_S) as server:
        return str((await server.identity())["type"])


@contextmanager
def _quiet() -> Iterator[None]:
    """Keep what the library logs of a lost worker or scheduler from the terminal."""
    names = [name for name in logging.root.manager.loggerDict if name.startswith("distributed")]
    levels = {name: logging.getLogger(name).level for name in names}
    for name in names:
        logging.getLogger(name).setLevel(logging.CRITICAL)
    try:
        yield
    finally:
        for name, level in levels.items():
            logging.getLogger(name).setLevel(level)


def _check_versions(cluster: Cluster) -> None:
    # A function of Python's own runs where the program is missing, too.
    found = cluster.client.run(version, "reviewkit", on_error="return")
    if not found:
        raise cluster.error(_NO_WORKER)
    with suppress(ModuleNotFoundError):
        found["its scheduler"] = cluster.client.run_on_scheduler(version, "reviewkit")
    found.setdefault("its scheduler", None)
    ours = version("reviewkit")
    for place, theirs in sorted(found.items()):
        if theirs != ours:
            has = f"Reviewkit {theirs}" if isinstance(theirs, str) else "no Reviewkit"
            raise cluster.error(
                f"{place} has {has}, and this is Reviewkit {ours}; install the same everywhere"
            )


def review_on_cluster(jobs: Iterable[Job], cluster: Cluster) -> Generator[Outcome, None, None]:
    """Review classes on the workers of a cluster and give each outcome as it comes.

    Jobs are taken only as they are needed, more of them when more workers join. A class
    whose workers were lost several times over fails alone. Closing the iterator leaves
    what was not reviewed by then.

    Raises:
        InputError: The scheduler or all workers are gone, or a worker of another version
            of the program has joined.
    """
    rest = iter(jobs)
    at_work: dict[Future[Outcome], Job] = {}
    try:
        while True:
            room = max(1, WAITING_PER_CORE * cluster.cores()) - len(at_work)
            for job in islice(rest, max(0, room)):
                at_work[cluster.client.submit(review_job, job, pure=False)] = job
            if not at_work:
                return
            for future in _some_done(cluster, at_work):
                outcome = _outcome(cluster, future, at_work[future])
                del at_work[future]
                future.release()
                yield outcome
    except (CancelledError, OSError):
        raise cluster.error(_GONE) from None
    finally:
        with suppress(CancelledError, OSError):
            cluster.client.cancel(list(at_work))


def _some_done(cluster: Cluster, at_work: Iterable[Future[Outcome]]) -> set[Future[Outcome]]:
    """Wait until some are done; the cluster may lose all of its workers only for a while."""
    seen_s = time.monotonic()
    while True:
        try:
            with cluster.client.as_current():
                return set(wait(list(at_work), LOOK_S, "FIRST_COMPLETED").done)
        except TimeoutError:
            if cluster.client.status != "running":
                raise cluster.error(_GONE) from None
            if cluster.cores():
                seen_s = time.monotonic()
            elif time.monotonic() - seen_s > DESERTED_S:
                raise cluster.error(_DESERTED) from None


def _outcome(cluster: Cluster, future: Future[Outcome], job: Job) -> Outcome:
    try:
        outcome: Outcome = future.result()
    except KilledWorker:
        return Failed(job.name, KILLED)
    except (AttributeError, ImportError):
        raise cluster.error(_TOO_NEW) from None
    # The version is a part of the digest.
    if isinstance(outcome, Reviewed) and outcome.digest != job.digest():
        raise cluster.error(_TOO_NEW)
    return outcome
