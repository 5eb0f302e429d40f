"""The work behind the page: from what was sent to a review that is kept."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import PurePath

from reviewkit.drafting import SOURCE as DRAFTED
from reviewkit.model import Plan, Transcript
from reviewkit.report.plan_files import plan_text
from reviewkit.report.strip import strip
from reviewkit.review import conclude, hear_class
from reviewkit.store import NewReview, Store
from reviewkit.web.heard import TYPED, HeardCache, HeardReview, own_lexicon
from reviewkit.web.jobs import Job, Step, Work
from reviewkit.web.sending import Sending

CORRECTED_DRAFT = "drafted from the talk, then corrected"

Tell = Callable[[Step], None]


def review_work(store: Store, cache: HeardCache, transcript: Transcript, plan: Plan | None) -> Work:
    """Give the work that reviews a class; without a plan it ends with one drafted."""

    def work(job: Job, tell: Tell) -> Job:
        tell("listening")
        heard = HeardReview(transcript, hear_class(transcript, plan, own_lexicon(store)))
        if plan is None:
            return replace(job, step="drafted", drafted=heard)
        return _kept(store, cache, job, heard, tell)

    return work


def drafted_work(store: Store, cache: HeardCache, drafted: HeardReview, plan: Plan) -> Work:
    """Give the work that reviews a class by its drafted plan, as the coach let it stand."""

    def work(job: Job, tell: Tell) -> Job:
        tell("listening")
        heard = drafted
        if plan.rows != drafted.heard.plan.rows:
            own = replace(plan, source=CORRECTED_DRAFT)
            heard = replace(drafted, heard=hear_class(drafted.transcript, own, own_lexicon(store)))
        return _kept(store, cache, job, heard, tell)

    return work


def _kept(store: Store, cache: HeardCache, job: Job, heard: HeardReview, tell: Tell) -> Job:
    tell("judging")
    review = conclude(heard.transcript, heard.heard)
    tell("keeping")
    plan = heard.heard.plan
    sending = job.sending
    assert sending.transcript is not None  # noqa: S101 - a job begins once it is read
    review_id = store.add_review(
        NewReview(
            title=sending.title or plan.title or PurePath(sending.transcript.name).stem,
            made_at=datetime.now(UTC),
            transcript_name=sending.transcript.name,
            transcript=sending.transcript.data,
            plan_name="" if plan.source in (TYPED, DRAFTED) else plan.source,
            plan_text=plan_text(plan),
            is_drafted=plan.is_drafted,
            scores={name: score.value for name, score in review.findings.scores},
            picture=strip(review),
            tolerance_ms=None,
            program=version("reviewkit"),
        )
    )
    cache.put(review_id, heard)
    _keep_plan(store, sending, plan)
    return replace(job, sending=Sending(), step="done", review_id=review_id)


def _keep_plan(store: Store, sending: Sending, plan: Plan) -> None:
    """Keep a plan that was given anew, to be picked again; as typed where it was typed."""
    if sending.plan_from == "earlier" or plan.is_drafted:
        return
    text = sending.plan_text if plan.source == TYPED else plan_text(plan)
    store.save_plan(plan.title or sending.title or plan.source, text)
