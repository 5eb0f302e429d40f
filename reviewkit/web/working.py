"""The screen that waits with the coach while a class is listened to."""

from __future__ import annotations

from http import HTTPStatus

from fastapi import APIRouter, HTTPException
from fastapi.responses import JSONResponse, RedirectResponse, Response

from reviewkit.web.jobs import STEPS, Job
from reviewkit.web.state import PageState

FORGOTTEN = "This review in the making is not known any more. Send the class again."


def router(state: PageState) -> APIRouter:
    """Give the routes of a review in the making."""
    routes = APIRouter()

    @routes.get("/working/{job_id}")
    def show(job_id: str) -> Response:
        """Show how far it is; once it is over, go to where it led."""
        job = known_job(state, job_id)
        if job.is_over:
            return RedirectResponse(leads_to(job), HTTPStatus.SEE_OTHER)
        return state.render("working.html", job=job, steps=STEPS, at=_place(job))

    @routes.get("/working/{job_id}/state")
    def tell(job_id: str) -> Response:
        """Tell how far it is, and where to go once it is over."""
        job = known_job(state, job_id)
        return JSONResponse({"step": _place(job), "next": leads_to(job) if job.is_over else None})

    return routes


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
