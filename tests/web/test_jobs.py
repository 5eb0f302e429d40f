from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from threading import Event

import pytest

from reviewkit.web.jobs import KEPT_JOBS, Job, Jobs, Step, Stopped
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


def wait_for(is_so: Callable[[], bool]) -> None:
    until = time.monotonic() + 10
    while not is_so():
        assert time.monotonic() < until
        time.sleep(0.005)


class Busy:
    """Work that begins a step whenever it is let on, and stands still between."""

    def __init__(self) -> None:
        self.is_begun, self.may_go_on, self.is_ended = Event(), Event(), Event()
        self.stopped_by: BaseException | None = None

    def __call__(self, job: Job, tell: Callable[[Step], None]) -> Job:
        try:
            tell("listening")
            self.is_begun.set()
            assert self.may_go_on.wait(10)
            tell("placing")
            return replace(job, step="done", review_id=7)
        except BaseException as error:
            self.stopped_by = error
            raise
        finally:
            self.is_ended.set()


def test_a_job_that_is_stopped_ends_with_its_stage_and_the_next_begins() -> None:
    jobs, first, second = Jobs(), Busy(), Busy()
    one, two = jobs.start(Sending(title="A"), first), jobs.start(Sending(title="B"), second)
    assert first.is_begun.wait(10)
    assert (jobs.count_before(one.id), jobs.count_before(two.id)) == (0, 1)
    stopped = jobs.stop(one.id)
    assert stopped is not None
    assert stopped.step == "stopped"
    assert stopped.sending.title == "A"
    assert [job.id for job in jobs.list_open()] == [two.id]
    first.may_go_on.set()
    assert second.is_begun.wait(10)
    assert isinstance(first.stopped_by, Stopped)
    second.may_go_on.set()
    wait_for(lambda: not jobs.list_open())
    assert [getattr(jobs.find(job.id), "step", "") for job in (one, two)] == ["stopped", "done"]
    jobs.close()


def test_a_job_that_waits_is_stopped_before_it_begins() -> None:
    jobs, first, second = Jobs(), Busy(), Busy()
    jobs.start(Sending(), first)
    waiting = jobs.start(Sending(), second)
    jobs.stop(waiting.id)
    first.may_go_on.set()
    assert second.is_ended.wait(10)
    assert not second.is_begun.is_set()
    jobs.close()


def test_what_is_being_kept_is_not_stopped_any_more() -> None:
    jobs, is_keeping, may_go_on = Jobs(), Event(), Event()

    def work(job: Job, tell: Callable[[Step], None]) -> Job:
        tell("keeping")
        is_keeping.set()
        assert may_go_on.wait(10)
        return replace(job, step="done", review_id=7)

    job = jobs.start(Sending(), work)
    assert is_keeping.wait(10)
    assert getattr(jobs.stop(job.id), "step", "") == "keeping"
    may_go_on.set()
    wait_for(lambda: not jobs.list_open())
    assert getattr(jobs.find(job.id), "review_id", None) == 7
    jobs.close()


def test_the_end_of_the_program_stops_what_is_worked_on() -> None:
    jobs, busy = Jobs(), Busy()
    jobs.start(Sending(), busy)
    assert busy.is_begun.wait(10)
    jobs.close()
    busy.may_go_on.set()
    assert busy.is_ended.wait(10)
    assert isinstance(busy.stopped_by, Stopped)


def test_what_is_worked_on_is_not_forgotten() -> None:
    jobs, busy = Jobs(), Busy()
    at_work = [jobs.start(Sending(), busy), *(jobs.start(Sending(), Busy()) for _ in range(20))]
    for _ in range(KEPT_JOBS + 1):
        jobs.keep(Sending())
    assert all(jobs.find(job.id) for job in at_work)
    assert len(jobs.list_open()) == len(at_work)
    jobs.close()
    busy.may_go_on.set()


@pytest.mark.parametrize(
    ("step", "is_open"), [("drafted", True), ("failed", True), ("done", False)]
)
def test_what_waits_for_the_coach_is_told_of_until_it_is_left(step: Step, is_open: bool) -> None:
    jobs = Jobs()
    job = jobs.start(Sending(), lambda job, _: replace(job, step=step))
    wait_for(lambda: getattr(jobs.find(job.id), "step", "") == step)
    assert bool(jobs.list_open()) is is_open
    jobs.leave(job.id)
    assert jobs.list_open() == ()
    jobs.close()
