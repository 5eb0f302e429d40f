"""Run a batch: what is new is reviewed and kept, what is done is left as it is."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterable, Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, Protocol

from reviewkit.batch.jobs import Failed, Job, Outcome, Reviewed, Settings
from reviewkit.batch.library import Library, read_job
from reviewkit.batch.pairing import Pairing
from reviewkit.errors import ReviewkitError
from reviewkit.store import NewReview

Told = Literal["reviewed", "done before", "failed"]
Work = Callable[[Iterable[Job]], Generator[Outcome, None, None]]
Tell = Callable[[str, Told], None]


class Keeper(Protocol):
    """Where reviews are kept besides the documents; each is kept once, by its digest."""

    def has_digest(self, digest: str) -> bool:
        """Tell whether a review of that digest is kept."""

    def add_review_once(self, review: NewReview) -> int:
        """Keep a review unless one of its digest is kept, and give the id of that one."""


@dataclass(frozen=True, slots=True)
class Ran:
    """What a batch has done, names in order.

    Attributes:
        done: Classes whose documents are there now.
        reviewed: How many of them were reviewed in this run.
        failed: Classes without a document, and why.
    """

    done: tuple[str, ...]
    reviewed: int
    failed: tuple[Failed, ...]


def run_batch(
    folder: Path,
    pairing: Pairing,
    settings: Settings,
    work: Work,
    library: Library,
    keeper: Keeper | None,
    tell: Tell,
) -> Ran:
    """Review every class that is not done yet; one that cannot be reviewed stops no other.

    Args:
        folder: Where the classes are.
        pairing: The classes in it.
        settings: What holds for all of them.
        work: Reviews classes, in any order and anywhere; takes them only as it needs them.
        library: Where the documents go.
        keeper: Where the reviews go as well.
        tell: Called once for each class as soon as it is over with.

    Raises:
        InputError: A result cannot be written or kept; what was done by then stays.
    """
    done, failed = [], [Failed(one.path.as_posix(), one.reason) for one in pairing.refused]
    reviewed = 0

    def fail(one: Failed) -> None:
        library.drop(one.name)
        failed.append(one)
        tell(one.name, "failed")

    def open_jobs() -> Iterator[Job]:
        for pair in pairing.pairs:
            try:
                job = read_job(folder, pair, settings)
            except ReviewkitError as error:
                fail(Failed(pair.name, str(error)))
                continue
            if _is_done(job, library, keeper):
                done.append(job.name)
                tell(job.name, "done before")
            else:
                yield job

    with closing(work(open_jobs())) as outcomes:
        for outcome in outcomes:
            if isinstance(outcome, Failed):
                fail(outcome)
                continue
            _keep(outcome, library, keeper)
            done.append(outcome.name)
            reviewed += 1
            tell(outcome.name, "reviewed")
    in_order = sorted(failed, key=lambda one: one.name)
    return Ran(tuple(sorted(done)), reviewed, tuple(in_order))


def _is_done(job: Job, library: Library, keeper: Keeper | None) -> bool:
    digest = job.digest()
    return library.has(job.name, digest) and (keeper is None or keeper.has_digest(digest))


def _keep(outcome: Reviewed, library: Library, keeper: Keeper | None) -> None:
    """Keep a review in both places; stopped between them, the next run puts it in the other."""
    if keeper is not None:
        keeper.add_review_once(outcome.kept)
    library.write(outcome.name, outcome.text)
