"""The work behind the page: from what was sent to a review that is kept."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime

from reviewkit.kept.keeping import TYPED, HeardReview, own_lexicon, to_keep
from reviewkit.model import Plan, Transcript
from reviewkit.report.plan_files import plan_text
from reviewkit.review import Stage, conclude, hear_class
from reviewkit.store import Store
from reviewkit.web.heard import HeardCache
from reviewkit.web.jobs import Job, Step, Work
from reviewkit.web.sending import Sending

CORRECTED_DRAFT = "drafted from the talk, then corrected"

Tell = Callable[[Step], None]
SHOWN_AS: dict[Stage, Step] = {
    "words": "listening",
    "edges": "listening",
    "marks": "listening",
    "intervals": "placing",
    "moves": "placing",
}


def review_work(store: Store, cache: HeardCache, transcript: Transcript, plan: Plan | None) -> Work:
    """Give the work that reviews a class; without a plan it ends with one drafted."""

    def work(job: Job, tell: Tell) -> Job:
        tell("listening")
        heard = _heard(store, transcript, plan, tell)
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
            heard = _heard(store, drafted.transcript, own, tell)
        return _kept(store, cache, job, heard, tell)

    return work


def _heard(store: Store, transcript: Transcript, plan: Plan | None, tell: Tell) -> HeardReview:
    def watch(stage: Stage) -> None:
        tell(SHOWN_AS[stage])

    return HeardReview(transcript, hear_class(transcript, plan, own_lexicon(store), watch=watch))


def _kept(store: Store, cache: HeardCache, job: Job, heard: HeardReview, tell: Tell) -> Job:
    tell("judging")
    review = conclude(heard.transcript, heard.heard)
    tell("keeping")
    sending = job.sending
    assert sending.transcript is not None  # noqa: S101 - a job begins once it is read
    kept = to_keep(review, sending.transcript.data, datetime.now(UTC), title=sending.title)
    review_id = store.add_review(kept)
    cache.put(review_id, heard)
    _keep_plan(store, sending, heard.heard.plan)
    return replace(job, sending=Sending(), step="done", review_id=review_id)


def _keep_plan(store: Store, sending: Sending, plan: Plan) -> None:
    """Keep a plan that was given anew, to be picked again; as typed where it was typed."""
    if sending.plan_from == "earlier" or plan.is_drafted:
        return
    text = sending.plan_text if plan.source == TYPED else plan_text(plan)
    store.save_plan(plan.title or sending.title or plan.source, text)
