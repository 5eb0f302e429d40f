"""Make reviews in the background, one after the other, and say how far each one is."""

from __future__ import annotations

import logging
import secrets
import time
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from threading import Lock
from typing import Literal

from reviewkit.errors import ReviewkitError
from reviewkit.kept.keeping import HeardReview
from reviewkit.web.sending import Sending

Step = Literal[
    "entered", "waiting", "listening", "placing", "judging", "keeping",
    "drafted", "done", "failed", "stopped",
]  # fmt: skip
STEPS: tuple[tuple[Step, str], ...] = (
    ("waiting", "Transcript and plan read"),
    ("listening", "Listening through the class"),
    ("placing", "Finding where intervals start and end"),
    ("judging", "Comparing it with the plan"),
    ("keeping", "Keeping the review"),
)
_AT_WORK = frozenset(step for step, _ in STEPS)
FAULT = "the review stopped at a fault of the program; what it says stands where it was started"

KEPT_JOBS = 12

logger = logging.getLogger(__name__)


class Stopped(Exception):  # noqa: N818 - nothing is wrong
    """A review in the making is not wanted any more."""


@dataclass(frozen=True, slots=True)
class Job:
    """One review in the making, as it stands.

    ``entered`` is what was sent and cannot be worked on yet. ``drafted`` holds the class as
    heard with a plan drafted from its talk, once the job has come to ``drafted`` and waits
    for the coach; ``corrected`` is its text as put right so far. ``problem`` is what stopped
    it. ``sent_s`` is by the machine's steady clock. What ``is_left`` is not spoken of any more.
    """

    id: str
    sending: Sending
    step: Step = "waiting"
    length_ms: int = 0
    sent_s: float = field(default_factory=time.monotonic)
    review_id: int | None = None
    drafted: HeardReview | None = None
    corrected: str = ""
    problem: str = ""
    is_left: bool = False

    @property
    def is_over(self) -> bool:
        """Tell whether nothing more happens by itself."""
        return self.step not in _AT_WORK

    @property
    def is_open(self) -> bool:
        """Tell whether the coach still has to see what came of it."""
        return not self.is_left and (not self.is_over or self.step in ("drafted", "failed"))


Work = Callable[[Job, Callable[[Step], None]], Job]


class Jobs:
    """The reviews in the making; safe to share between threads. Old ones are forgotten."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._jobs: OrderedDict[str, Job] = OrderedDict()
        self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="review")
        self._is_closed = False

    def keep(self, sending: Sending) -> Job:
        """Keep what was sent without working on it, so that it can be put right."""
        return self._add(Job(_new_id(), sending, "entered"))

    def start(self, sending: Sending, work: Work, *, length_ms: int = 0) -> Job:
        """Begin to make a review; ``work`` gives the job as it ends and tells its steps.

        Telling a step raises ``Stopped`` once the job is stopped: it is not to be caught.
        """
        job = self._add(Job(_new_id(), sending, length_ms=length_ms))
        self._pool.submit(self._run, job, work)
        return job

    def find(self, job_id: str) -> Job | None:
        """Give a job as it stands now, None when it is not known (any more)."""
        with self._lock:
            return self._jobs.get(job_id)

    def list_open(self) -> tuple[Job, ...]:
        """Give the jobs that are worked on, or wait for the coach, in the order they were sent."""
        with self._lock:
            return tuple(job for job in self._jobs.values() if job.is_open)

    def count_before(self, job_id: str) -> int:
        """Count the jobs that have to be over before this one begins."""
        with self._lock:
            earlier = list(self._jobs).index(job_id) if job_id in self._jobs else 0
            return sum(not job.is_over for job in list(self._jobs.values())[:earlier])

    def correct(self, job_id: str, plan_text: str) -> None:
        """Keep a drafted plan as the coach has put it right so far."""
        with self._lock:
            if job_id in self._jobs:
                self._jobs[job_id] = replace(self._jobs[job_id], corrected=plan_text)

    def leave(self, job_id: str) -> None:
        """Speak of a job no more, as when another has taken its place."""
        with self._lock:
            if job_id in self._jobs:
                self._jobs[job_id] = replace(self._jobs[job_id], is_left=True)

    def stop(self, job_id: str) -> Job | None:
        """Stop a job before it is kept; the work ends with the stage it is at.

        Returns:
            The job as it now stands: what is being kept, or is over, goes on being so.
        """
        with self._lock:
            job = self._jobs.get(job_id)
            if job is not None and not job.is_over and job.step != "keeping":
                job = self._jobs[job_id] = replace(job, step="stopped")
            return job

    def close(self) -> None:
        """Begin nothing more; what is being worked on ends with the stage it is at."""
        self._is_closed = True
        self._pool.shutdown(wait=False, cancel_futures=True)

    def _run(self, job: Job, work: Work) -> None:
        try:
            ended = work(job, lambda step: self._tell(job, step))
        except Stopped:
            return
        except ReviewkitError as error:
            ended = replace(job, step="failed", problem=str(error))
        except Exception:
            logger.exception("a review failed")
            ended = replace(job, step="failed", problem=FAULT)
        with self._lock:
            if self._is_wanted(job):
                self._jobs[job.id] = ended
            self._forget()

    def _tell(self, job: Job, step: Step) -> None:
        with self._lock:
            if self._is_closed or not self._is_wanted(job):
                raise Stopped
            self._jobs[job.id] = replace(job, step=step)

    def _is_wanted(self, job: Job) -> bool:
        now = self._jobs.get(job.id)
        return now is not None and now.step != "stopped"

    def _add(self, job: Job) -> Job:
        with self._lock:
            self._jobs[job.id] = job
            self._forget()
        return job

    def _forget(self) -> None:
        """Keep the last ones of those that are over; one that is worked on is never forgotten."""
        over = [job.id for job in self._jobs.values() if job.is_over]
        for job_id in over[:-KEPT_JOBS]:
            del self._jobs[job_id]


def _new_id() -> str:
    return secrets.token_urlsafe(12)
