"""Counts of rounds and moves where the class has several blocks, or a round with less in it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reviewkit.findings.promises import judge_promises
from reviewkit.model import Interval, Mark
from tests.findings.classes import (
    COOL_DOWN,
    WARM_UP,
    Row,
    circuit,
    claim,
    heard_class,
    interval,
)
from tests.talking import talk


def verdicts(rows: list[Row], *marks: Mark, said: str = "") -> list[tuple[str, str]]:
    heard = heard_class(rows, marks=marks, words=talk(said).words)
    return [(one.what, one.verdict) for one in judge_promises(heard)]


def two_blocks(rounds: int = 2) -> list[Row]:
    first = circuit(rounds=rounds)
    second = circuit(("Row", "Press", "Hinge"), rounds=rounds, start_s=1000)
    return [*first, *(replace(row, block="Second") for row in second)]


def without(rows: list[Row], number: int, *moves: str) -> list[Row]:
    return [
        replace(row, start_s=None) if row.round == number and row.move in moves else row
        for row in rows
    ]


def test_blocks_that_all_go_round_as_often_break_another_count_of_rounds() -> None:
    assert verdicts(two_blocks(), claim("rounds", 3)) == [("rounds", "broken")]


def test_blocks_of_unlike_rounds_leave_a_count_open() -> None:
    rows = [*circuit(rounds=2), *(replace(row, block="Second") for row in circuit(start_s=1000))]
    assert verdicts(rows, claim("rounds", 5)) == [("rounds", "kept")]
    assert verdicts(rows, claim("rounds", 7)) == [("rounds", "unclear")]


def test_a_round_that_lacks_several_moves_breaks_a_count_of_moves() -> None:
    rows = circuit(("Squat", "Push-up", "Lunge", "Plank", "Row"), rounds=2)
    assert verdicts(without(rows, 2, "Lunge"), claim("moves", 5)) == [("moves", "kept")]
    assert verdicts(without(rows, 2, "Lunge", "Plank"), claim("moves", 5)) == [("moves", "broken")]


def test_an_oath_on_all_of_them_is_broken_by_one_left_out_or_added() -> None:
    rows = circuit(("Squat", "Push-up", "Lunge", "Plank", "Row"), rounds=2)
    five = claim("moves", 5)
    oath = replace(five, kind="sworn_all", first=five.first + 9, last=five.last + 9)
    assert verdicts(without(rows, 2, "Lunge"), five, oath) == [("moves", "broken")]
    assert verdicts(rows, five, oath) == [("moves", "kept")]
    far = replace(oath, first=five.first + 60, last=five.last + 60)
    assert verdicts(without(rows, 2, "Lunge"), five, far) == [("moves", "kept")]


def test_moves_of_the_warm_up_do_not_make_up_for_those_of_the_work() -> None:
    rows = [WARM_UP, *circuit(), COOL_DOWN]
    assert verdicts(rows, claim("moves", 4)) == [("moves", "kept")]
    assert verdicts(rows, claim("moves", 6)) == [("moves", "broken")]


def test_blocks_with_as_many_moves_leave_one_way_to_count_them() -> None:
    first = [replace(row, block="First") for row in circuit(("Squat", "Row", "Press"))]
    second = [replace(row, block="Second") for row in circuit(("Jab", "Hook", "Cross"))]
    assert verdicts([*first, *second], claim("moves", 4)) == [("moves", "broken")]
    assert verdicts([*first, *second], claim("moves", 6)) == [("moves", "kept")]
    longer = [replace(row, block="Second") for row in circuit(("Jab", "Hook", "Cross", "Duck"))]
    assert verdicts([*first, *longer], claim("moves", 5)) == [("moves", "unclear")]


def test_three_rounds_of_each_are_no_three_blocks() -> None:
    rows = [
        replace(row, block=f"Block {row.move}")
        for row in circuit(("Squat", "Row", "Press"), rounds=3)
    ]
    short = without(rows, 3, "Press")
    assert verdicts(short, claim("rounds", 3), said="three rounds") == [("rounds", "broken")]
    assert verdicts(rows, claim("rounds", 3), said="three rounds") == [("rounds", "kept")]
    assert verdicts(short, claim("rounds", 3), said="three blocks") == [("rounds", "kept")]


def test_numbers_of_the_coachs_own_things_count_when_the_plan_has_as_many() -> None:
    rows = circuit(rounds=3)
    assert verdicts(rows, claim("maybe_rounds", 3)) == [("rounds", "kept")]
    assert verdicts(rows, claim("maybe_rounds", 5)) == []
    assert verdicts(rows, claim("maybe_moves", 4)) == [("moves", "kept")]
    assert verdicts(rows, claim("maybe_moves", 4, at_s=300)) == []


FIFTEEN = circuit(("Squat", "Push-up", "Lunge", "Plank", "Row"))


def test_a_number_of_all_intervals_is_broken_by_one_left_out() -> None:
    assert verdicts(FIFTEEN, claim("maybe_moves", 15)) == [("moves", "kept")]
    rows = without(FIFTEEN, 2, "Lunge")
    assert verdicts(rows, claim("maybe_moves", 15)) == [("moves", "broken")]


@pytest.mark.parametrize(("sure", "verdict"), [(False, "kept"), (True, "broken")])
def test_a_number_of_all_intervals_is_broken_by_one_more_where_it_was_sworn(
    sure: bool, verdict: str
) -> None:
    heard = heard_class(FIFTEEN, marks=(claim("maybe_moves", 15, sure=sure),))
    more = replace(heard.intervals[0], id="more", plan_row=None, status="added")
    heard = replace(heard, intervals=(*heard.intervals, more))
    assert [one.verdict for one in judge_promises(heard)] == [verdict]


def extra(*moves: str) -> list[Interval]:
    at_s = 700.0
    return [
        replace(interval(Row(move, at_s + 60 * nth), 90 + nth), plan_row=None, status="added")
        for nth, move in enumerate(moves)
    ]


def test_half_a_round_on_top_is_one_more_round_and_one_move_is_not() -> None:
    rows = circuit(("Squat", "Push-up", "Lunge", "Plank"), rounds=2)
    for moves, verdict in ((("Squat",), "kept"), (("Squat", "Push-up", "Lunge"), "broken")):
        heard = heard_class(rows, marks=(claim("rounds", 2),))
        longer = replace(heard, intervals=(*heard.intervals, *extra(*moves)))
        assert [one.verdict for one in judge_promises(longer)] == [verdict]


def test_another_count_is_open_where_one_fits_the_plan() -> None:
    rows = circuit(rounds=2)
    marks = (claim("rounds", 3, 5), claim("rounds", 2, 8))
    assert verdicts(rows, *marks) == [("rounds", "unclear"), ("rounds", "kept")]
