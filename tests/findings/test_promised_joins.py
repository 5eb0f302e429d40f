"""No rest between two sides or two moves: held against the rests there were."""

from __future__ import annotations

import pytest

from reviewkit.findings.promised_joins import judge_joins
from reviewkit.model import Mark
from tests.findings.classes import Row, circuit, claim, heard_class
from tests.talking import talk

SAID = talk("the row and the lunge are together no pause between them").words


def sided(gap_s: float, move: str = "Lunge") -> list[Row]:
    left = Row(move, 100, rest_s=0, side="left")
    right = Row(move, 140 + gap_s, rest_s=20, side="right")
    return [left, right, Row("Plank", 220 + gap_s, round=1)]


def named(move: str, at: int) -> Mark:
    return Mark("move", at, at, 400 * at, 400 * at + 350, move, move, None, 0.9)


def verdicts(rows: list[Row], *marks: Mark) -> list[tuple[str, object]]:
    heard = heard_class(rows, words=SAID, marks=marks)
    return [(one.verdict, one.found) for one in judge_joins(heard)]


@pytest.mark.parametrize(("gap_s", "verdict"), [(0, "kept"), (8, "kept"), (18, "broken")])
def test_between_sides(gap_s: float, verdict: str) -> None:
    assert verdicts(sided(gap_s), claim("no_rest_sides")) == [(verdict, gap_s)]


def test_where_a_move_is_named_it_is_about_its_sides_alone() -> None:
    lunge, row = sided(2), sided(25, "Row")
    later = [Row(one.move, (one.start_s or 0) + 300, side=one.side) for one in row]
    rows = [*lunge, *later]
    assert verdicts(rows, claim("no_rest_sides"), named("Lunge", 4)) == [("kept", 2)]
    assert verdicts(rows, claim("no_rest_sides")) == [("broken", 25)]


def test_what_has_no_sides_is_not_judged() -> None:
    assert verdicts(circuit(), claim("no_rest_sides")) == []


def test_between_two_moves_that_are_named() -> None:
    rows = circuit(("Row", "Lunge", "Plank"), rounds=2)
    pair = claim("no_rest_pair")
    assert verdicts(rows, pair, named("Row", 1), named("Lunge", 4)) == [("broken", 20)]
    close = circuit(("Row", "Lunge", "Plank"), rounds=2, rest_s=6)
    assert verdicts(close, pair, named("Row", 1), named("Lunge", 4)) == [("kept", 6)]
    assert verdicts(rows, pair, named("Row", 1)) == []


def test_only_what_comes_after_it_is_promised() -> None:
    rows = sided(25)
    assert verdicts(rows, claim("no_rest_sides", at_s=200)) == []
