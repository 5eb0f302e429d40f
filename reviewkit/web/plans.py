"""Plans: checked while they are typed, drafted from the talk, and kept to be picked again."""

from __future__ import annotations

from dataclasses import asdict, replace
from http import HTTPStatus

from fastapi import APIRouter
from fastapi.responses import JSONResponse, RedirectResponse, Response

from reviewkit.errors import ReviewkitError
from reviewkit.kept.keeping import HeardReview
from reviewkit.report.plan_files import plan_text
from reviewkit.web.jobs import Job
from reviewkit.web.making import drafted_work
from reviewkit.web.plan_check import check_plan
from reviewkit.web.sending import typed_plan
from reviewkit.web.state import PageState
from reviewkit.web.uploads import SentForm
from reviewkit.web.working import known_job, leads_to


def router(state: PageState) -> APIRouter:
    """Give the routes of plans."""
    routes = APIRouter()

    @routes.post("/plans/check")
    def check(form: SentForm) -> Response:
        """Tell what a typed plan comes to, or what is wrong with it, line by line."""
        return JSONResponse(asdict(check_plan(form.text("plan_text"))))

    @routes.get("/plans")
    def show_all() -> Response:
        """List the plans that are kept."""
        plans = [(one, check_plan(one.text)) for one in state.store.list_plans()]
        return state.render("plans.html", plans=plans)

    @routes.post("/plans/{plan_id}/delete")
    def delete(plan_id: int) -> Response:
        """Delete a plan; reviews made with it keep theirs."""
        state.store.delete_plan(plan_id)
        return RedirectResponse("/plans", HTTPStatus.SEE_OTHER)

    @routes.get("/drafts/{job_id}")
    def show_draft(job_id: str) -> Response:
        """Show the plan drafted from the talk, to be put right."""
        job = known_job(state, job_id)
        if job.drafted is None:
            return RedirectResponse(leads_to(job), HTTPStatus.SEE_OTHER)
        return _draft_screen(state, job, job.corrected or _drafted_text(job.drafted))

    @routes.post("/drafts/{job_id}")
    def use_draft(job_id: str, form: SentForm) -> Response:
        """Go on with the plan as it was put right."""
        return _used(state, known_job(state, job_id), form.text("plan_text"), form.text("then"))

    return routes


def _used(state: PageState, job: Job, text: str, then: str) -> Response:
    if job.drafted is None:
        return RedirectResponse(leads_to(job), HTTPStatus.SEE_OTHER)
    if then == "check":
        return _draft_screen(state, job, text)
    if then == "later":
        state.jobs.correct(job.id, text)
        return RedirectResponse("/#making", HTTPStatus.SEE_OTHER)
    try:
        plan = typed_plan(text)
    except ReviewkitError as error:
        status = HTTPStatus.UNPROCESSABLE_ENTITY
        return _draft_screen(state, job, text, problem=str(error), status=status)
    if plan.rows == job.drafted.heard.plan.rows:
        plan = job.drafted.heard.plan
    sending = replace(job.sending, plan_from="typed", plan_text=text)
    work = drafted_work(state.store, state.heard, job.drafted, plan)
    begun = state.jobs.start(sending, work, length_ms=job.length_ms)
    state.jobs.leave(job.id)
    return RedirectResponse(f"/working/{begun.id}", HTTPStatus.SEE_OTHER)


def _draft_screen(
    state: PageState, job: Job, text: str, *, problem: str = "", status: int = HTTPStatus.OK
) -> Response:
    return state.render(
        "draft.html",
        status=status,
        job=job,
        plan_text=text,
        planned=check_plan(text),
        problem=problem,
    )


def _drafted_text(drafted: HeardReview) -> str:
    plan = drafted.heard.plan
    return plan_text(plan) if plan.rows else ""
