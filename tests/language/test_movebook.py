from __future__ import annotations

from functools import cache

import pytest

from reviewkit.language.movebook import known_move, match_move, pattern_of
from reviewkit.model import Lexicon
from reviewkit.read import read_lexicon


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def matched(name: str) -> str | None:
    move = match_move(name, lexicon())
    return move.name if move else None


@pytest.mark.parametrize("name", ["", "...", "Left", "Brisk", "The gardener", "Table tennis"])
def test_names_that_say_nothing_match_nothing(name: str) -> None:
    assert matched(name) is None
    assert pattern_of(name, lexicon()) == ""


@pytest.mark.parametrize(
    ("name", "move"),
    [
        ("Split squat left", "Split squat"),
        ("Dumbbell front squat", "Front squat"),
        ("Squat, front", "Front squat"),
        ("RDLs", "Romanian deadlift"),
        ("press-ups x 10", "Push-up"),
        ("Burpies", "Burpee"),
        ("Alternating tempo reverse lunges", "Reverse lunge"),
        ("Banded glute bridge", "Glute bridge"),
        ("Kettlebell goblet squats (heavy)", "Goblet squat"),
        ("Mountain climbers / R", "Mountain climber"),
        ("Squats to a chair", "Chair squat"),
        ("Jumping jacks with a big clap", "Jumping jack"),
        ("Slow controlled dead bugs", "Dead bug"),
        ("Sumo squat to upright row", "Sumo squat"),
    ],
)
def test_a_coachs_name_finds_the_move(name: str, move: str) -> None:
    assert matched(name) == move


@pytest.mark.parametrize(
    ("name", "pattern"),
    [
        ("Moonlight squat", "squat"),
        ("Suitcase lunge", "lunge"),
        ("Bouncy castle jump", "jump"),
        ("Zigzag plank", "anti-extension-core"),
    ],
)
def test_a_strange_name_still_has_a_pattern(name: str, pattern: str) -> None:
    assert pattern_of(name, lexicon()) == pattern


def test_a_relative_is_no_other_spelling() -> None:
    assert known_move("Sumo squat to upright row", lexicon()) is None
    assert known_move("Dumbbell front squats", lexicon()) is not None


def test_an_empty_lexicon_knows_nothing() -> None:
    assert match_move("Squat", Lexicon((), (), {})) is None
    assert pattern_of("Squat", Lexicon((), (), {})) == ""
