from __future__ import annotations

from functools import cache

import pytest

from reviewkit.edits.records import Renamed
from reviewkit.edits.renaming import find_renamed, put_right
from reviewkit.marks.moves import find_moves
from reviewkit.model import HeardClass, Lexicon, Plan, PlanRow
from reviewkit.read import read_lexicon
from tests.findings.classes import Row, interval
from tests.talking import talk

MOVES = ("Plank", "Goblet squat", "Thruster", "Reverse lunge", "Glute bridge", "Bent-over row")


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def renamed(text: str, *, done: str = "", at_s: float = 10) -> tuple[HeardClass, list[Renamed]]:
    """Hear a class of six moves in which one is done from a moment on, and put names right."""
    plan = Plan("plan.csv", tuple(PlanRow(one, 40_000) for one in MOVES))
    spoken = talk(text)
    rows = [Row(one, at_s if one == done else None) for one in MOVES]
    intervals = tuple(interval(row, at) for at, row in enumerate(rows, 1))
    heard = HeardClass(plan, spoken, find_moves(spoken, plan, lexicon()), intervals, lexicon())
    return heard, list(find_renamed(heard))


def changes(text: str, done: str = "") -> list[tuple[str, str]]:
    return [(one.heard, one.meant) for one in renamed(text, done=done)[1]]


# --- what must be left alone --------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        "next is a plank on your elbows",
        "planking now and the planks are long",
        "goblet squats or squatties as I call them",
        "squat with the goblet",
        "a row that is bent over",
        "thank you and have a think",
        "we go back to our rows and to our rows",
        "this is the plan of the day",
        "the reverse lunges again",
    ],
)
def test_words_that_were_heard_right_stay(text: str) -> None:
    assert changes(text, "Plank") == []


def test_a_word_is_not_put_right_far_from_any_such_interval_when_it_is_not_sure() -> None:
    assert changes("glute brish next please") != []
    assert changes("lift the brish") == []


# --- what is put right --------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "done", "heard", "meant"),
    [
        ("and hold that blank for me", "Plank", "blank", "plank"),
        ("Blanks, everyone", "Plank", "Blanks,", "Planks,"),
        ("a cobblet squat for you", "Goblet squat", "cobblet", "goblet"),
        ("and now the goblet swat.", "Goblet squat", "swat.", "squat."),
        ("next the thrust her again", "Thruster", "thrust her", "thruster"),
        ("the gloot bridge with me", "Glute bridge", "gloot", "glute"),
    ],
)
def test_a_mis_heard_name_is_put_right(text: str, done: str, heard: str, meant: str) -> None:
    assert changes(text, done) == [(heard, meant)]


def test_a_change_says_when_and_why() -> None:
    heard, (change,) = renamed("and hold that blank for me", done="Plank", at_s=20)
    assert change.at_ms == heard.talk.words[3].start_ms
    assert change.why == "sounds like “plank”, and “Plank” began at 0:20"


def test_the_rest_of_the_talk_stays_word_for_word() -> None:
    heard, found = renamed("and the thrust her is next", done="Thruster")
    assert put_right(heard.talk.words, found) == ["and", "the", "thruster", "", "is", "next"]
