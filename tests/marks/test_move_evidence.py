from __future__ import annotations

from functools import cache

import pytest

from reviewkit.marks.move_evidence import weigh_moves
from reviewkit.marks.moves import find_moves
from reviewkit.model import Lexicon, Mark, MoveEvidence, Plan, PlanRow, Talk
from reviewkit.read import read_lexicon
from tests.talking import talk

PLAN = Plan(
    "plan.csv",
    (
        PlanRow("Goblet squat", 40_000, must_say=("knees track over the toes",)),
        PlanRow("Push-up", 40_000, must_say=("elbows close to the ribs",)),
        PlanRow("Plank", 40_000),
        PlanRow("Goblet squat", 40_000, round=2),
    ),
)


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def weighed(said: Talk, plan: Plan = PLAN) -> MoveEvidence:
    return weigh_moves(said, plan, lexicon(), find_moves(said, plan, lexicon()))


def totals(rows: tuple[tuple[float, ...], ...], evidence: MoveEvidence) -> dict[str, float]:
    return {move: sum(row) for move, row in zip(evidence.moves, rows, strict=True)}


def test_every_move_has_one_row_however_often_it_is_planned() -> None:
    evidence = weighed(talk("hello and welcome"))
    assert evidence.moves == ("Goblet squat", "Push-up", "Plank")
    for rows in (evidence.named, evidence.cued):
        assert [len(row) for row in rows] == [3, 3, 3]
    assert len(evidence.sides) == len(evidence.unplanned) == 3


def test_talk_of_anything_else_speaks_for_no_move() -> None:
    evidence = weighed(talk("hello my name is ada and the weather was grey"))
    assert all(value == 0 for row in evidence.named for value in row)
    assert max(map(abs, totals(evidence.cued, evidence).values())) < 0.5


def test_a_name_speaks_for_its_move_and_against_the_others() -> None:
    evidence = weighed(talk("next we have plank everyone"))
    named = totals(evidence.named, evidence)
    assert named["Plank"] > 0.5
    assert named["Push-up"] < 0
    assert named["Goblet squat"] < 0


def test_a_name_counts_once_at_its_first_word() -> None:
    said = talk("the goblet squat now")
    squat = weighed(said).named[0]
    assert [at for at, value in enumerate(squat) if value > 0] == [1]


@pytest.mark.parametrize(
    ("text", "move"),
    [
        ("keep your knees tracking over your toes", "Goblet squat"),
        ("elbows close to those ribs", "Push-up"),
        ("tuck the elbows in by the ribs on the way down", "Push-up"),
    ],
)
def test_points_speak_for_the_move_that_has_them(text: str, move: str) -> None:
    cued = totals(weighed(talk(text)).cued, weighed(talk(text)))
    assert max(cued, key=lambda name: cued[name]) == move
    assert cued[move] > 0


def test_a_point_that_every_move_has_speaks_for_none() -> None:
    rows = tuple(PlanRow(move, 40_000, must_say=("breathe out",)) for move in ("Alpha", "Beta"))
    evidence = weighed(talk("and breathe out"), Plan("plan.csv", rows))
    assert all(value == pytest.approx(0) for row in evidence.cued for value in row)


def test_sides_are_heard() -> None:
    assert weighed(talk("left side then right")).sides == (1, 0, 0, -1)


def test_an_announced_extra_is_kept_at_its_first_word() -> None:
    said = talk("here is a bonus one")
    call = Mark("extra_call", 2, 4, 800, 1950, "a bonus one", weight=0.7)
    evidence = weigh_moves(said, PLAN, lexicon(), (), (call,))
    assert evidence.unplanned == (0.0, 0.0, 0.7, 0.0, 0.0)


def test_nothing_said_speaks_for_nothing() -> None:
    evidence = weighed(Talk((), "words", 0, 0))
    assert evidence.named == evidence.cued == ((), (), ())
    assert evidence.sides == ()


def test_a_plan_without_rows_has_no_moves() -> None:
    evidence = weighed(talk("three two one go"), Plan("plan.csv", ()))
    assert (evidence.moves, evidence.named, evidence.cued) == ((), (), ())
