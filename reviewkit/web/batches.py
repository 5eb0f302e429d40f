"""Review many classes in the background, one batch after the other, and say how far each is."""

from __future__ import annotations

import logging
import secrets
import time
from collections import OrderedDict
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import partial
from pathlib import PurePosixPath
from threading import Lock
from typing import Any, Literal

from reviewkit.batch.jobs import Settings, lexicon_of
from reviewkit.batch.pairing import Pairing
from reviewkit.batch.pool import review_on_cores, usable_cores
from reviewkit.batch.running import Told, run_batch
from reviewkit.batch.sent import Sent, read_sent
from reviewkit.batch.shelf import Shelf
from reviewkit.batch.summary import Summary, summarise
from reviewkit.errors import ReviewkitError
from reviewkit.store import Missing, Store
from reviewkit.web.jobs import FAULT, Stopped

BatchStep = Literal["waiting", "reviewing", "summing", "done", "stopped", "failed"]
OVER = frozenset[BatchStep]({"done", "stopped", "failed"})
KEPT_BATCHES = 6

logger = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class ClassOver:
    """A class that is over with: its review, or why there is none."""

    told: Told
    review_id: int | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Batch:
    """A batch as it stands; ``over`` is by the name of the class.

    ``sent_s`` and ``begun_s`` are by the machine's steady clock, the latter None until it
    is its turn. ``problem`` is what stopped it as a whole.
    """

    id: str
    pairing: Pairing
    sent_s: float
    step: BatchStep = "waiting"
    begun_s: float | None = None
    over: Mapping[str, ClassOver] | None = None
    summary: Summary | None = None
    problem: str = ""

    @property
    def is_over(self) -> bool:
        """Tell whether nothing more happens by itself."""
        return self.step in OVER

    def classes_over(self) -> Mapping[str, ClassOver]:
        """Give the classes that are over with, by name."""
        return self.over or {}

    def failed(self) -> list[tuple[str, str]]:
        """Name what was left out so far, each with its reason."""
        named = [(one.path.as_posix(), one.reason) for one in self.pairing.refused]
        over = self.classes_over().items()
        return sorted([*named, *((name, one.reason) for name, one in over if one.reason)])

    def unused(self) -> list[tuple[str, str]]:
        """Name the plans that belong to no transcript, each with the reason."""
        return [(one.path.as_posix(), one.reason) for one in self.pairing.unused]

    def left_s(self, now_s: float) -> float | None:
        """Guess the seconds that are left by those taken so far; None while none can be."""
        over = self.classes_over().values()
        # What was reviewed before took no time, so it says nothing about the rest.
        worked = sum(one.told != "done before" for one in over)
        if self.begun_s is None or not worked:
            return None
        return (now_s - self.begun_s) / worked * (len(self.pairing.pairs) - len(over))


class Batches:
    """The batches since the program was started; safe to share between threads.

    What was reviewed is kept in the store at once; only the last batches are remembered.
    """

    def __init__(self, store: Store) -> None:
        self._store = store
        self._lock = Lock()
        self._batches: OrderedDict[str, Batch] = OrderedDict()
        self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="batch")
        self._is_closed = False

    def start(self, pairing: Pairing, files: Mapping[PurePosixPath, Sent]) -> Batch:
        """Begin to review classes that were sent."""
        batch = Batch(secrets.token_urlsafe(12), pairing, time.monotonic())
        with self._lock:
            self._batches[batch.id] = batch
            over = [one.id for one in self._batches.values() if one.is_over]
            for batch_id in over[:-KEPT_BATCHES]:
                del self._batches[batch_id]
        self._pool.submit(self._run, batch, files)
        return batch

    def find(self, batch_id: str) -> Batch | None:
        """Give a batch as it stands now, None when it is not known (any more)."""
        with self._lock:
            return self._batches.get(batch_id)

    def list_all(self) -> Sequence[Batch]:
        """Give the batches that are known, the last first."""
        with self._lock:
            return tuple(reversed(self._batches.values()))

    def stop(self, batch_id: str) -> None:
        """Stop a batch with the classes it is at; what is done stays kept."""
        with self._lock:
            batch = self._batches.get(batch_id)
            if batch is not None and not batch.is_over:
                self._batches[batch_id] = replace(batch, step="stopped")

    def close(self) -> None:
        """Begin nothing more; what is being worked on ends with the classes it is at."""
        self._is_closed = True
        self._pool.shutdown(wait=False, cancel_futures=True)

    def _run(self, batch: Batch, files: Mapping[PurePosixPath, Sent]) -> None:
        try:
            self._work(batch, files)
        except Stopped:
            return
        except ReviewkitError as error:
            self._change(batch.id, step="failed", problem=str(error))
        except Exception:
            logger.exception("a batch failed")
            self._change(batch.id, step="failed", problem=FAULT)

    def _work(self, batch: Batch, files: Mapping[PurePosixPath, Sent]) -> None:
        self._change(batch.id, step="reviewing", begun_s=time.monotonic())
        lines = self._store.list_lexicon_lines()
        settings = Settings(lines=tuple((one.file, one.line) for one in lines))
        # What is wrong with own words is said once, not for every class.
        lexicon_of(settings)
        shelf = Shelf(self._store)
        over: dict[str, ClassOver] = {}

        def tell(name: str, told: Told, reason: str) -> None:
            review_id = None if told == "failed" else shelf.find(name)
            over[name] = ClassOver(told, review_id, reason)
            self._change(batch.id, over=dict(over))

        cores = min(usable_cores(), len(batch.pairing.pairs))
        run_batch(
            batch.pairing,
            partial(read_sent, files, settings=settings),
            lambda jobs: review_on_cores(jobs, cores),
            shelf,
            shelf,
            tell,
        )
        self._change(batch.id, step="summing")
        summary = summarise(_documents(shelf, over))
        self._change(batch.id, step="done", summary=summary)

    def _change(self, batch_id: str, **changes: Any) -> None:
        with self._lock:
            batch = self._batches.get(batch_id)
            if self._is_closed or batch is None or batch.step == "stopped":
                raise Stopped
            self._batches[batch_id] = replace(batch, **changes)


def _documents(shelf: Shelf, over: Mapping[str, ClassOver]) -> Iterator[tuple[str, dict[str, Any]]]:
    for name, one in sorted(over.items()):
        with suppress(Missing):
            if one.review_id is not None:
                yield name, shelf.read(one.review_id)
