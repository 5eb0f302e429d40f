from __future__ import annotations

from functools import cache

import pytest

from reviewkit.marks.moves import find_moves
from reviewkit.model import Lexicon, Mark, Plan, PlanRow
from reviewkit.read import read_lexicon
from tests.talking import talk

PLAN = (
    "Goblet squat",
    "Single-arm row",
    "Mountain climber",
    "Romanian deadlift",
    "Forearm plank",
    "Glute bridge march",
    "Overhead press",
)


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def marks(text: str, *moves: str) -> tuple[Mark, ...]:
    rows = tuple(PlanRow(move, 40_000) for move in moves or PLAN)
    return find_moves(talk(text), Plan("plan.csv", rows), lexicon())


def planned(text: str, *moves: str, at_least: float = 0.3) -> list[str]:
    found = marks(text, *moves)
    return [mark.ref for mark in found if mark.value == 1.0 and mark.weight >= at_least]


def others(text: str, *moves: str, at_least: float = 0.5) -> list[str]:
    found = marks(text, *moves)
    return [mark.ref for mark in found if mark.value == 0.0 and mark.weight >= at_least]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "well that was lovely take a sip of water",
        "press through your heels and stand tall",
        "i have a plan for lunch",
        "i hope you climb the stairs more often",
        "you have got this keep going",
        "ten nine eight seven six five",
        "look to the left and breathe",
    ],
)
def test_other_talk_names_no_move(text: str) -> None:
    assert planned(text, at_least=0.35) == []
    assert others(text) == []


@pytest.mark.parametrize(
    ("text", "move"),
    [
        ("next up the goblet squat", "Goblet squat"),
        ("goblet squats in three", "Goblet squat"),
        ("let's get goblet squatting", "Goblet squat"),
        ("grab a weight for the rows", "Single-arm row"),
        ("one arm row left side", "Single-arm row"),
        ("into your climbers", "Mountain climber"),
        ("rdls next", "Romanian deadlift"),
        ("some alternating tempo romanian dead-lifts", "Romanian deadlift"),
        ("planks everyone", "Forearm plank"),
        ("elbow plank now", "Forearm plank"),
        ("it's the marching bridge", "Glute bridge march"),
        ("the bridge where you march", "Glute bridge march"),
        ("shoulder presses", "Overhead press"),
    ],
)
def test_planned_moves_are_heard_by_their_names(text: str, move: str) -> None:
    assert set(planned(text)) == {move}


@pytest.mark.parametrize(
    ("text", "move"),
    [
        ("now the goblin squat", "Goblet squat"),
        ("goblet squad time", "Goblet squat"),
        ("forearm blank please", "Forearm plank"),
        ("romanian that lift", "Romanian deadlift"),
        ("mountain climb us go", "Mountain climber"),
        ("loot bridge march", "Glute bridge march"),
    ],
)
def test_planned_moves_are_heard_through_mishearings(text: str, move: str) -> None:
    assert set(planned(text)) == {move}


def test_a_word_torn_apart_is_heard() -> None:
    assert planned("and trust her again", "Thruster") == ["Thruster"]
    assert planned("here come the scatters", "Skaters") == ["Skaters"]


def test_a_mark_says_where_and_what_was_heard() -> None:
    mark = next(mark for mark in marks("okay so Goblet squats, go") if mark.ref == "Goblet squat")
    assert (mark.kind, mark.first, mark.last) == ("move", 2, 3)
    assert (mark.text, mark.start_ms, mark.end_ms) == ("Goblet squats,", 800, 1550)
    assert (mark.value, mark.weight) == (1.0, 1.0)


@pytest.mark.parametrize(
    ("text", "move"),
    [("burpees instead", "Burpee"), ("drop to a side plank", "Side plank")],
)
def test_moves_that_are_not_planned_are_marked_too(text: str, move: str) -> None:
    assert move in others(text)


def test_a_longer_other_name_halves_the_planned_word_in_it() -> None:
    alone = next(mark for mark in marks("the squat", "Goblet squat") if mark.value == 1.0)
    beside = [mark for mark in marks("the jump squat", "Goblet squat") if mark.value == 1.0]
    assert all(mark.weight < alone.weight for mark in beside)
    assert others("the jump squat", "Goblet squat") == ["Jump squat"]


def test_the_longer_planned_name_wins() -> None:
    assert planned("squat to press", "Air squat", "Squat to press") == ["Squat to press"]


def test_everyday_words_weigh_more_where_they_stand_like_a_name() -> None:
    name = max(mark.weight for mark in marks("next the presses") if mark.ref == "Overhead press")
    verb = max(
        (mark.weight for mark in marks("press it away") if mark.ref == "Overhead press"), default=0
    )
    assert 0 < verb < 0.3 < name < 0.7


def test_a_name_that_is_taken_back_weighs_little() -> None:
    heard = marks("next is the goblet squat no sorry the mountain climber")
    weights = {mark.ref: mark.weight for mark in heard if mark.value == 1.0}
    assert weights["Goblet squat"] < 0.5 < weights["Mountain climber"]


def test_a_word_said_all_the_time_weighs_less() -> None:
    once = max(mark.weight for mark in marks("and row") if mark.ref == "Single-arm row")
    often = [mark for mark in marks("and row " * 40) if mark.ref == "Single-arm row"]
    assert max(mark.weight for mark in often) < once


def test_marks_come_in_order_and_within_bounds() -> None:
    text = "rows then climbers then rows then goblet squats and burpees or planks. press. bridge"
    found = marks(text)
    assert [mark.first for mark in found] == sorted(mark.first for mark in found)
    assert all(0.0 < mark.weight <= 1.0 for mark in found)


def test_a_lexicon_may_be_empty() -> None:
    plan = Plan("plan.csv", (PlanRow("Star gazer", 40_000),))
    found = find_moves(talk("now the star gazers"), plan, Lexicon((), (), {}))
    assert "Star gazer" in [mark.ref for mark in found]
