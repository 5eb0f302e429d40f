"""Make reviews in the background, one after the other, and say how far each one is."""

from __future__ import annotations

import logging
import secrets
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from threading import Lock
from typing import Literal

from reviewkit.errors import ReviewkitError
from reviewkit.keeping import HeardReview
from reviewkit.web.sending import Sending

Step = Literal["waiting", "listening", "judging", "keeping", "drafted", "done", "failed"]
STEPS: tuple[tuple[Step, str], ...] = (
    ("waiting", "Transcript and plan read"),
    ("listening", "Listening through the class"),
    ("judging", "Comparing it with the plan"),
    ("keeping", "Keeping the review"),
)
FAULT = "the review stopped at a fault of the program; what it says stands where it was started"

KEPT_JOBS = 12

logger = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Job:
    """One review in the making, as it stands.

    ``drafted`` holds the class as heard with a plan drafted from its talk, once the job
    has come to ``drafted`` and waits for the coach. ``problem`` is what stopped it.
    """

    id: str
    sending: Sending
    step: Step = "waiting"
    review_id: int | None = None
    drafted: HeardReview | None = None
    problem: str = ""

    @property
    def is_over(self) -> bool:
        """Tell whether nothing more happens by itself."""
        return self.step in ("drafted", "done", "failed")


Work = Callable[[Job, Callable[[Step], None]], Job]


class Jobs:
    """The reviews in the making; safe to share between threads. Old ones are forgotten."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._jobs: OrderedDict[str, Job] = OrderedDict()
        self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="review")

    def keep(self, sending: Sending) -> Job:
        """Keep what was sent without working on it, so that it can be put right."""
        job = Job(secrets.token_urlsafe(12), sending)
        self._put(job)
        return job

    def start(self, sending: Sending, work: Work) -> Job:
        """Begin to make a review; ``work`` gives the job as it ends and tells its steps."""
        job = self.keep(sending)
        self._pool.submit(self._run, job, work)
        return job

    def find(self, job_id: str) -> Job | None:
        """Give a job as it stands now, None when it is not known (any more)."""
        with self._lock:
            return self._jobs.get(job_id)

    def close(self) -> None:
        """Begin nothing more; what is being worked on comes to its end."""
        self._pool.shutdown(wait=False, cancel_futures=True)

    def _run(self, job: Job, work: Work) -> None:
        try:
            ended = work(job, lambda step: self._put(replace(job, step=step)))
        except ReviewkitError as error:
            ended = replace(job, step="failed", problem=str(error))
        except Exception:
            logger.exception("a review failed")
            ended = replace(job, step="failed", problem=FAULT)
        self._put(ended)

    def _put(self, job: Job) -> None:
        with self._lock:
            self._jobs[job.id] = job
            while len(self._jobs) > KEPT_JOBS:
                self._jobs.popitem(last=False)
