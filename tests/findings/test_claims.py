"""Lengths that the plan has for another thing than the talk seems to say."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reviewkit.findings.promises import judge_promises
from tests.findings.classes import Row, circuit, claim, heard_class


def verdicts(rows: list[Row], ref: str, seconds: float, *, sure: bool = False) -> list[str]:
    heard = heard_class(rows, marks=(claim(ref, seconds, sure=sure),))
    return [f"{one.what} {one.verdict}" for one in judge_promises(heard)]


@pytest.mark.parametrize(("ref", "seconds"), [("work", 60), ("rest", 60), ("rest", 40)])
def test_the_length_of_work_and_rest_together_or_of_the_other_promises_nothing(
    ref: str, seconds: float
) -> None:
    assert verdicts(circuit(), ref, seconds) == []


def test_what_sounds_like_work_of_the_length_of_rests_is_of_the_rests() -> None:
    """ "Forty on the fire and twenty on the side." """
    assert verdicts(circuit(), "work", 20) == ["rest kept"]


def test_a_length_that_nothing_in_the_plan_has_is_judged() -> None:
    assert verdicts(circuit(), "work", 30) == ["work broken"]


def test_a_length_that_only_rests_between_rounds_have_is_theirs() -> None:
    rows = circuit(rounds=2)
    rows = [replace(row, rest_s=75) if at == 3 else row for at, row in enumerate(rows)]
    later = [
        replace(row, start_s=(row.start_s or 0) + 55) if row.round == 2 else row for row in rows
    ]
    assert verdicts(later, "length", 75) == ["rest kept"]
    assert verdicts(rows, "length", 75) == ["rest broken"]
