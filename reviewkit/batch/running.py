"""Run a batch: what is new is reviewed and kept, what is done is left as it is."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterable, Iterator
from contextlib import closing
from dataclasses import dataclass
from typing import Literal, Protocol

from reviewkit.batch.jobs import Failed, Job, Outcome, Reviewed
from reviewkit.batch.pairing import Pair, Pairing
from reviewkit.errors import ReviewkitError
from reviewkit.store import NewReview

Told = Literal["reviewed", "done before", "failed"]
Work = Callable[[Iterable[Job]], Generator[Outcome, None, None]]
Read = Callable[[Pair], Job]
Tell = Callable[[str, Told, str], None]


class Documents(Protocol):
    """Where the documents go, each by the name of its class."""

    def has(self, name: str, digest: str) -> bool:
        """Tell whether a class was reviewed before from the very same things."""

    def write(self, name: str, text: str) -> None:
        """Write the document of a class, whole or not at all."""

    def drop(self, name: str) -> None:
        """Delete the document of a class that cannot be reviewed any more, if there is one."""


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
    pairing: Pairing,
    read: Read,
    work: Work,
    library: Documents,
    keeper: Keeper | None,
    tell: Tell,
) -> Ran:
    """Review every class that is not done yet; one that cannot be reviewed stops no other.

    Args:
        pairing: The classes.
        read: Reads the files of one; a class that it cannot read is left out with the reason.
        work: Reviews classes, in any order and anywhere; takes them only as it needs them.
        library: Where the documents go.
        keeper: Where the reviews go as well.
        tell: Called once for each class as soon as it is over with, with why it failed.

    Raises:
        InputError: A result cannot be written or kept; what was done by then stays.
    """
    done, failed = [], [Failed(one.path.as_posix(), one.reason) for one in pairing.refused]
    reviewed = 0

    def fail(one: Failed) -> None:
        library.drop(one.name)
        failed.append(one)
        tell(one.name, "failed", one.reason)

    def open_jobs() -> Iterator[Job]:
        for pair in pairing.pairs:
            try:
                job = read(pair)
            except ReviewkitError as error:
                fail(Failed(pair.name, str(error)))
                continue
            if _is_done(job, library, keeper):
                done.append(job.name)
                tell(job.name, "done before", "")
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
            tell(outcome.name, "reviewed", "")
    in_order = sorted(failed, key=lambda one: one.name)
    return Ran(tuple(sorted(done)), reviewed, tuple(in_order))


def _is_done(job: Job, library: Documents, keeper: Keeper | None) -> bool:
    digest = job.digest()
    return library.has(job.name, digest) and (keeper is None or keeper.has_digest(digest))


def _keep(outcome: Reviewed, library: Documents, keeper: Keeper | None) -> None:
    """Keep a review in both places; stopped between them, the next run puts it in the other."""
    if keeper is not None:
        keeper.add_review_once(outcome.kept)
    library.write(outcome.name, outcome.text)
