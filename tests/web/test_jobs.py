from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from threading import Event

from reviewkit.web.jobs import KEPT_JOBS, Job, Jobs, Step
from reviewkit.web.sending import Sending


def test_what_was_sent_is_kept_under_a_name_nobody_guesses() -> None:
    jobs = Jobs()
    first, second = jobs.keep(Sending(title="A")), jobs.keep(Sending(title="A"))
    assert first.id != second.id
    assert len(first.id) >= 16
    assert jobs.find(first.id) == first
    assert jobs.find("") is None


def test_old_jobs_are_forgotten() -> None:
    jobs = Jobs()
    kept = [jobs.keep(Sending()) for _ in range(KEPT_JOBS + 1)]
    assert jobs.find(kept[0].id) is None
    assert jobs.find(kept[1].id) == kept[1]


def test_jobs_are_done_one_after_the_other() -> None:
    jobs, order, is_over = Jobs(), list[str](), Event()

    def work(job: Job, tell: Callable[[Step], None]) -> Job:
        tell("listening")
        found = jobs.find(job.id)
        order.append(f"{job.sending.title} {found.step if found else ''}")
        if job.sending.title == "B":
            is_over.set()
        return replace(job, step="done", review_id=1)

    jobs.start(Sending(title="A"), work)
    jobs.start(Sending(title="B"), work)
    assert is_over.wait(10)
    jobs.close()
    assert order == ["A listening", "B listening"]
