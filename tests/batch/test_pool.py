"""Real processes, each of which takes seconds to begin: as few as will do."""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Iterator

from reviewkit.batch.jobs import Failed, Job, Reviewed
from reviewkit.batch.pool import WAITING_PER_CORE, review_on_cores, usable_cores
from tests.batch.classes import job


def test_there_is_a_core() -> None:
    assert usable_cores() >= 1


def test_a_lost_process_loses_no_class_and_few_are_in_memory() -> None:
    taken = 0

    def jobs() -> Iterator[Job]:
        nonlocal taken
        for number in range(8):
            taken += 1
            yield job(str(number), b"nothing" if number == 3 else None)

    before = {one.pid for one in multiprocessing.active_children()}
    outcomes = []
    for outcome in review_on_cores(jobs(), 1):
        outcomes.append(outcome)
        assert taken <= len(outcomes) + WAITING_PER_CORE
        if len(outcomes) == 2:
            (lost,) = {one.pid for one in multiprocessing.active_children()} - before
            assert lost is not None
            os.kill(lost, signal.SIGKILL)
    assert sorted(one.name for one in outcomes) == [str(number) for number in range(8)]
    assert [one.name for one in outcomes if isinstance(one, Failed)] == ["3"]
    assert all(isinstance(one, Reviewed) for one in outcomes if one.name != "3")
    assert {one.pid for one in multiprocessing.active_children()} == before


def test_closing_ends_the_processes() -> None:
    outcomes = review_on_cores([job(str(number)) for number in range(4)], 1)
    before = {one.pid for one in multiprocessing.active_children()}
    next(outcomes)
    assert {one.pid for one in multiprocessing.active_children()} != before
    outcomes.close()
    assert {one.pid for one in multiprocessing.active_children()} == before
