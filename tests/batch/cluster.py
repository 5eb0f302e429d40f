"""A Dask cluster of the tests' own: a scheduler and workers, each a process of this machine."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

PATIENCE_S = 60


@dataclass(frozen=True, slots=True)
class DaskCluster:
    """Processes that end with ``close``; the scheduler is the first of them."""

    folder: Path
    processes: list[subprocess.Popen[bytes]] = field(default_factory=list)

    @property
    def address(self) -> str:
        held = json.loads((self.folder / "scheduler.json").read_text("utf-8"))
        return str(held["address"])

    def start(self, kind: str, *options: str, path: Path | None = None) -> subprocess.Popen[bytes]:
        """Start a scheduler or a worker; ``path`` comes before all that Python imports from."""
        paths = [str(path)] if path else []
        paths += [one for one in sys.path if one]
        process = subprocess.Popen(
            [sys.executable, "-m", "dask", kind, "--no-dashboard", *options],
            cwd=self.folder,
            env=os.environ | {"PYTHONPATH": os.pathsep.join(paths)},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        self.processes.append(process)
        return process

    def worker(self, *, path: Path | None = None) -> subprocess.Popen[bytes]:
        """Start a worker in a process of its own, which nobody starts again when it is lost."""
        options = ("--nthreads", "1", "--no-nanny", "--local-directory", "scratch")
        return self.start("worker", self.address, *options, path=path)

    def close(self) -> None:
        for process in self.processes:
            process.kill()
        for process in self.processes:
            process.wait()


@contextmanager
def dask_cluster(folder: Path) -> Iterator[DaskCluster]:
    """Run a scheduler on a free port, as yet without workers, for as long as it is needed."""
    cluster = DaskCluster(folder)
    file = folder / "scheduler.json"
    cluster.start("scheduler", "--host", "127.0.0.1", "--port", "0", "--scheduler-file", str(file))
    try:
        until_s = time.monotonic() + PATIENCE_S
        while not file.is_file() or not file.read_text("utf-8").endswith("}"):
            assert time.monotonic() < until_s, "the scheduler did not start"
            time.sleep(0.05)
        yield cluster
    finally:
        cluster.close()
