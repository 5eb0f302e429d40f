"""A real scheduler and real worker processes: as few as will do, as each takes seconds."""

from __future__ import annotations

import signal
import socket
from collections.abc import Generator, Iterable, Iterator
from functools import partial
from pathlib import Path

import pytest
from distributed import Client

import reviewkit.batch.cluster as joining
from reviewkit.batch import jobs
from reviewkit.batch.cluster import connected, review_on_cluster
from reviewkit.batch.folders import Library, pair_folder, read_job
from reviewkit.batch.jobs import Job, Outcome, Settings, review_job
from reviewkit.batch.running import Ran, Tell, Told, Work, run_batch
from reviewkit.cli.app import main
from reviewkit.errors import InputError
from reviewkit.store import Store, open_data
from tests.batch.classes import job, write_classes
from tests.batch.cluster import PATIENCE_S, DaskCluster, dask_cluster


@pytest.fixture(scope="module")
def cluster(tmp_path_factory: pytest.TempPathFactory) -> Iterator[DaskCluster]:
    with dask_cluster(tmp_path_factory.mktemp("cluster")) as one:
        for _ in range(2):
            one.worker()
        wait_for_workers(one, 2)
        yield one


def wait_for_workers(cluster: DaskCluster, workers: int) -> None:
    with Client(cluster.address, set_as_default=False) as client:
        client.wait_for_workers(workers, timeout=PATIENCE_S)


def join(address: str) -> None:
    with connected(address):
        pass


def here(given: Iterable[Job]) -> Generator[Outcome, None, None]:
    yield from map(review_job, given)


def run(
    folder: Path, out: Path, work: Work, store: Store | None, tell: Tell = lambda *_: None
) -> Ran:
    read = partial(read_job, folder, settings=Settings())
    return run_batch(pair_folder(folder), read, work, Library(out), store, tell)


def documents(out: Path) -> dict[str, bytes]:
    return {one.name: one.read_bytes() for one in (out / "classes").iterdir()}


def test_a_cluster_reviews_as_this_machine_does(cluster: DaskCluster, tmp_path: Path) -> None:
    folder = write_classes(tmp_path / "in", *"abc")
    (folder / "bad.vtt").write_text("nothing")
    out = tmp_path / "out"
    with pytest.raises(SystemExit) as left:
        main(["batch", str(folder), "--out", str(out), "--scheduler", cluster.address])
    assert not left.value.code
    ran = run(folder, tmp_path / "here", here, None)
    assert documents(out) == documents(tmp_path / "here")
    assert (
        set(documents(out))
        == {f"{name}.json" for name in ran.done}
        == {"a.json", "b.json", "c.json"}
    )


def test_a_lost_worker_loses_no_class_and_doubles_none(
    cluster: DaskCluster, tmp_path: Path, database: str
) -> None:
    names = [str(number) for number in range(12)]
    folder, out = write_classes(tmp_path / "in", *names), tmp_path / "out"
    held: list[object] = []
    told: list[tuple[str, Told]] = []

    def tell(name: str, what: Told, _: str) -> None:
        told.append((name, what))
        if len(told) == 4:
            held.extend(joined.client.processing()[address])
            lost.send_signal(signal.SIGKILL)

    with open_data(database) as store:
        with connected(cluster.address) as joined:
            known = set(joined.client.nthreads())
            lost = cluster.worker()
            joined.client.wait_for_workers(3, timeout=PATIENCE_S)
            (address,) = set(joined.client.nthreads()) - known
            ran = run(folder, out, lambda given: review_on_cluster(given, joined), store, tell)
        assert held, "the worker had no class to lose"
        assert lost.wait() == -signal.SIGKILL
        assert sorted(told) == sorted((name, "reviewed") for name in names)
        assert (sorted(ran.done), ran.reviewed, ran.failed) == (sorted(names), 12, ())
        assert set(documents(out)) == {f"{name}.json" for name in names}
        assert sorted(one.title for one in store.list_reviews()) == sorted(names)
        again = run(folder, out, here, store)
        assert (len(again.done), again.reviewed) == (12, 0)
        assert len(store.list_reviews()) == 12


def test_what_is_wrong_with_a_cluster_is_said(tmp_path: Path) -> None:
    other = tmp_path / "other" / "reviewkit-0.0.1.dist-info"
    other.mkdir(parents=True)
    (other / "METADATA").write_text("Metadata-Version: 2.1\nName: reviewkit\nVersion: 0.0.1\n")
    with dask_cluster(tmp_path) as cluster:
        with pytest.raises(InputError, match="has no workers; start one"):
            join(cluster.address)
        foreign = cluster.worker(path=other.parent)
        wait_for_workers(cluster, 1)
        with pytest.raises(InputError, match=r"has Reviewkit 0\.0\.1, and this is"):
            join(cluster.address)
        foreign.kill()
        cluster.worker()
        wait_for_workers(cluster, 1)
        with connected(cluster.address) as joined:
            cluster.close()
            with pytest.raises(InputError, match="the scheduler is gone"):
                next(review_on_cluster([job("a")], joined))


def test_a_worker_of_another_version_that_joins_later_is_found_out(
    cluster: DaskCluster, monkeypatch: pytest.MonkeyPatch
) -> None:
    with connected(cluster.address) as joined:
        # To this program every worker is of another version from now on.
        monkeypatch.setattr(jobs, "version", lambda _: "0.0.2")
        with pytest.raises(InputError, match="was joined by a worker of another Reviewkit"):
            next(review_on_cluster([job("a")], joined))


@pytest.mark.parametrize("address", ["", "nonsense", "foo://host:1", "inproc://x", "host:1/x"])
def test_what_is_no_address_is_said(address: str) -> None:
    with pytest.raises(InputError, match="is no address of a Dask scheduler; write tcp://"):
        join(address)


def test_where_no_scheduler_answers_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(joining, "CONNECT_S", 0.5)
    with socket.socket() as silent:
        silent.bind(("127.0.0.1", 0))
        address = f"127.0.0.1:{silent.getsockname()[1]}"
        with pytest.raises(InputError, match="no Dask scheduler answers there"):
            join(address)
        silent.listen()
        with pytest.raises(InputError, match="no Dask scheduler answers there"):
            join(address)
