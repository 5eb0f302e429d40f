"""The start page: send a class, find earlier reviews again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from http import HTTPStatus

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response
from markupsafe import Markup

from reviewkit.read import bundled_class, read_plan
from reviewkit.report.strip import is_strip
from reviewkit.report.wording import SCORE_NAMES
from reviewkit.store import ReviewSummary
from reviewkit.web.jobs import Job
from reviewkit.web.making import review_work
from reviewkit.web.plan_check import PlanCheck, check_plan
from reviewkit.web.sending import (
    MAX_TITLE_CHARS,
    Checked,
    Sending,
    check,
    sending_of,
    talk_length_ms,
)
from reviewkit.web.state import PageState
from reviewkit.web.uploads import (
    MAX_PLAN_BYTES,
    MAX_TRANSCRIPT_BYTES,
    Form,
    SentFile,
    SentForm,
)
from reviewkit.web.working import in_making

SAMPLE_TITLE = "Harbour evening (sample)"
NO_TITLE = "write a title"


def router(state: PageState) -> APIRouter:
    """Give the routes of the start page."""
    routes = APIRouter()

    @routes.get("/")
    def start(again: str = "") -> Response:
        """Show the empty form, or what was sent by a review that could not be made."""
        job = state.jobs.find(again)
        return start_screen(state, job, {"form": job.problem} if job and job.problem else {})

    @routes.post("/reviews")
    def send(form: SentForm) -> Response:
        """Begin a review; where something cannot be used, show all again with the reason."""
        return _sent(state, form)

    @routes.post("/sample")
    def sample() -> Response:
        """Review the invented class that comes with the program."""
        return _begun(state, *_sample(state))

    @routes.post("/reviews/{review_id}/rename")
    def rename(review_id: int, form: SentForm) -> Response:
        """Give a review another title."""
        title = " ".join(form.text("title").split())[:MAX_TITLE_CHARS]
        if not title:
            problems = {f"title-{review_id}": f"title: {NO_TITLE}"}
            return start_screen(state, None, problems, status=HTTPStatus.UNPROCESSABLE_ENTITY)
        state.store.rename_review(review_id, title)
        return RedirectResponse("/#earlier", HTTPStatus.SEE_OTHER)

    return routes


def start_screen(
    state: PageState,
    job: Job | None = None,
    problems: Mapping[str, str] | None = None,
    *,
    planned: PlanCheck | None = None,
    status: int = HTTPStatus.OK,
) -> Response:
    """Show the start page with what was entered and what is wrong, by field."""
    return state.render(
        "start.html",
        status=status,
        kept=job,
        entered=job.sending if job else Sending(),
        problems=problems or {},
        planned=planned,
        plans=state.store.list_plans(),
        making=[in_making(state, one) for one in state.jobs.list_open()],
        reviews=[(one, _picture(one)) for one in state.store.list_reviews()],
        score_names=SCORE_NAMES,
        limits={"transcript": MAX_TRANSCRIPT_BYTES, "plan": MAX_PLAN_BYTES},
        most_title=MAX_TITLE_CHARS,
    )


def _sent(state: PageState, form: Form) -> Response:
    before = state.jobs.find(form.text("kept"))
    sending = sending_of(form, before.sending if before else None)
    checked = check(sending, state.store)
    if form.text("then") == "check":
        job = state.jobs.keep(_usable(sending, checked))
        # Nothing was sent for good yet: only a file that cannot be used is worth a word.
        unusable = checked.problems if sending.transcript else {}
        problems = {name: said for name, said in unusable.items() if name == "transcript"}
        return start_screen(state, job, problems, planned=check_plan(sending.plan_text))
    if not checked.problems and checked.transcript:
        if before:
            state.jobs.leave(before.id)
        return _begun(state, sending, checked)
    return start_screen(
        state,
        state.jobs.keep(_usable(sending, checked)),
        checked.problems,
        planned=check_plan(sending.plan_text),
        status=HTTPStatus.UNPROCESSABLE_ENTITY,
    )


def _usable(sending: Sending, checked: Checked) -> Sending:
    """Keep the files that could be read; of the others only what is said about them stays."""
    if "transcript" in checked.problems:
        sending = replace(sending, transcript=None)
    if "plan" in checked.problems:
        sending = replace(sending, plan_file=None)
    return sending


def _begun(state: PageState, sending: Sending, checked: Checked) -> Response:
    assert checked.transcript is not None  # noqa: S101 - nothing begins without one
    work = review_work(state.store, state.heard, checked.transcript, checked.plan)
    job = state.jobs.start(sending, work, length_ms=talk_length_ms(checked.transcript))
    return RedirectResponse(f"/working/{job.id}", HTTPStatus.SEE_OTHER)


def _sample(state: PageState) -> tuple[Sending, Checked]:
    folder = bundled_class()
    captions = SentFile("captions.vtt", (folder / "captions.vtt").read_bytes(), 0)
    sending = Sending(SAMPLE_TITLE, captions, plan_from="none")
    plan = read_plan(folder / "plan.csv")
    return sending, replace(check(sending, state.store), plan=plan)


def _picture(review: ReviewSummary) -> Markup | None:
    if not is_strip(review.picture):
        return None
    return Markup(review.picture)  # noqa: S704 - a strip holds nothing but figures
