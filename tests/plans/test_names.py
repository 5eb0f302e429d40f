from __future__ import annotations

from functools import cache

import pytest

from reviewkit.model import Lexicon
from reviewkit.plans.names import plan_names
from reviewkit.read import read_lexicon


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def owners(words: str, *moves: str) -> dict[str, float]:
    names = plan_names(moves, lexicon())
    return {name.move: name.weight for name in names if " ".join(name.words) == words}


@pytest.mark.parametrize("words", ["arm", "single", "the", "left", "up"])
def test_words_that_name_nothing_are_no_names(words: str) -> None:
    assert owners(words, "Single-arm row", "Side plank left", "Push-up") == {}


def test_a_whole_name_is_surest() -> None:
    assert owners("goblet squat", "Goblet squat") == {"Goblet squat": 1.0}


def test_aliases_and_short_forms_are_names() -> None:
    assert 0.8 < owners("rdl", "Romanian deadlift")["Romanian deadlift"] < 1.0
    assert 0.5 < owners("goblet", "Goblet squat")["Goblet squat"] < 0.8
    assert 0.1 < owners("row", "Single-arm row")["Single-arm row"] < 0.5


def test_words_of_two_moves_belong_to_the_one_called_just_that() -> None:
    assert set(owners("plank", "Plank", "Plank jack")) == {"Plank"}


def test_words_that_fit_two_moves_count_half_for_each() -> None:
    alone = owners("lunge", "Reverse lunge")["Reverse lunge"]
    shared = owners("lunge", "Reverse lunge", "Curtsy lunge")
    assert shared == {"Reverse lunge": alone / 2, "Curtsy lunge": alone / 2}


def test_words_that_fit_many_moves_name_none() -> None:
    assert owners("squat", "Jump squat", "Sumo squat", "Goblet squat", "Front squat") == {}


def test_a_plan_may_be_empty_or_hold_empty_names() -> None:
    assert plan_names([], lexicon()) == ()
    assert plan_names(["", "-"], lexicon()) == ()
