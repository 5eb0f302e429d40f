"""The screen that waits with the coach while a class is listened to."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass
from http import HTTPStatus

from fastapi import APIRouter, HTTPException
from fastapi.responses import JSONResponse, RedirectResponse, Response

from reviewkit.report.wording import count
from reviewkit.times import MINUTE_MS, format_clock
from reviewkit.web.jobs import STEPS, Job, Step
from reviewkit.web.state import PageState

FORGOTTEN = "This review in the making is not known any more. Send the class again."

TOLD: dict[Step, str] = {
    "drafted": "A plan is drafted from the talk; look it over, and the review goes on",
    "done": "The review is made; open it",
    "stopped": "Stopped",
}

# A class takes most computers less than this share of its own length, and one that is short
# not much less than the least time.
USUAL_SHARE = 1 / 120
LEAST_MINUTES = 0.5


@dataclass(frozen=True, slots=True)
class InMaking:
    """A review in the making, in words; ``told`` ends without a full stop."""

    id: str
    title: str
    told: str
    is_at_work: bool
    leads_to: str


def router(state: PageState) -> APIRouter:
    """Give the routes of a review in the making."""
    routes = APIRouter()

    @routes.get("/working/{job_id}")
    def show(job_id: str) -> Response:
        """Show how far it is; once it is over, go to where it led."""
        job = known_job(state, job_id)
        if job.is_over:
            return RedirectResponse(leads_to(job), HTTPStatus.SEE_OTHER)
        return state.render(
            "working.html",
            making=in_making(state, job),
            steps=STEPS,
            at=_place(job),
            length=format_clock(job.length_ms),
            usual=usual_wait(job.length_ms),
        )

    @routes.get("/working/{job_id}/state")
    def tell(job_id: str) -> Response:
        """Tell how far it is, and where to go once it is over."""
        job = known_job(state, job_id)
        told = in_making(state, job).told
        return JSONResponse(
            {"step": _place(job), "told": told, "next": leads_to(job) if job.is_over else None}
        )

    @routes.post("/working/{job_id}/stop")
    def stop(job_id: str) -> Response:
        """Stop it before it is kept and give back what was sent; where that is late, go on."""
        job = known_job(state, job_id)
        if job.is_over:
            state.jobs.leave(job.id)
            return RedirectResponse("/", HTTPStatus.SEE_OTHER)
        job = state.jobs.stop(job.id) or job
        at = f"/working/{job.id}" if not job.is_over else leads_to(job)
        return RedirectResponse(at, HTTPStatus.SEE_OTHER)

    return routes


def in_making(state: PageState, job: Job) -> InMaking:
    """Say how far a job is, for the coach."""
    sent = job.sending.transcript
    return InMaking(
        job.id,
        job.sending.title or (sent.name if sent else ""),
        _told(job, state.jobs.count_before(job.id)),
        not job.is_over,
        leads_to(job) if job.is_over else f"/working/{job.id}",
    )


def _told(job: Job, before: int) -> str:
    if job.step == "failed":
        return f"It could not be made: {job.problem.splitlines()[0].removesuffix('.')}"
    if job.is_over:
        return TOLD.get(job.step, "")
    so_far = f"{format_clock(round(1000 * (time.monotonic() - job.sent_s)))} so far"
    if before:
        return f"{so_far}; {count(before, 'class', 'classes')} to be done before it"
    return f"{dict(STEPS)[job.step]}, {so_far}"


def usual_wait(length_ms: int) -> str:
    """Say what a class of this length takes at most on most computers."""
    minutes = max(LEAST_MINUTES, USUAL_SHARE * length_ms / MINUTE_MS)
    if minutes <= LEAST_MINUTES:
        return "half a minute"
    return "a minute" if minutes <= 1 else count(math.ceil(minutes), "minute")


def known_job(state: PageState, job_id: str) -> Job:
    """Find a review in the making.

    Raises:
        HTTPException: It is not known, as after a new start of the program.
    """
    job = state.jobs.find(job_id)
    if job is None:
        raise HTTPException(HTTPStatus.GONE, FORGOTTEN)
    return job


def leads_to(job: Job) -> str:
    """Give the address that a job leads to once it is over."""
    if job.step == "done":
        return f"/reviews/{job.review_id}"
    return f"/drafts/{job.id}" if job.step == "drafted" else f"/?again={job.id}"


def _place(job: Job) -> int:
    names = [name for name, _ in STEPS]
    return names.index(job.step) if job.step in names else len(names)
