import pytest

from reviewkit.marks.sides import find_side_calls
from tests.lexicon import flat_lexicon
from tests.talking import talk

NAMED = ("side_left", "side_right")


def kinds(text: str) -> list[str]:
    """Give what a line calls for, whichever side it names."""
    marks = find_side_calls(talk(text), flat_lexicon())
    return [mark.kind for mark in marks if mark.kind not in NAMED]


def named(text: str) -> list[str]:
    marks = find_side_calls(talk(text), flat_lexicon())
    return [mark.kind for mark in marks if mark.kind in NAMED]


@pytest.mark.parametrize(
    "text",
    [
        "one hip on top of the other",
        "swap that for the lighter one",
        "change the music somebody",
        "right you are keep pushing",
        "left foot right foot march",
        "and stir it back the other way so it doesn't curdle",
        "one way then the other",
        "one hand behind you other hand on the knee",
        "the other people in here are watching",
    ],
)
def test_left_alone(text: str) -> None:
    assert kinds(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "and swap legs",
        "other side please",
        "turn about i've kept you on that one",
        "righty ho on to the right leg",
        "and over to the window leg",
        "put it down and try it off the right",
        "roll over to the other hip",
        "time to switch",
        "and change",
        "put it down and let the left one have her turn",
        "right now change",
        "and we change right arm",
        "over you go it's the left leg now",
        "swap shoulders",
        "okay come back the other way i got distracted",
    ],
)
def test_the_side_changes(text: str) -> None:
    assert kinds(text) == ["side_switch"]


@pytest.mark.parametrize(
    "text",
    [
        "oh i never changed you",
        "lord i've left ye on the one leg",
        "we're meant to have changed legs by now",
        "you've all been going left for half the night",
        "i stayed too long there",
    ],
)
def test_a_coach_owns_up_to_a_late_change(text: str) -> None:
    assert "side_late" in kinds(text)


def test_one_leg_is_no_late_change() -> None:
    assert kinds("a heron stood there on one leg since february") == []


def test_the_side_stays() -> None:
    assert kinds("still right don't change yet") == ["side_same"]


@pytest.mark.parametrize(
    "text",
    [
        "and the left",
        "change",
        "righto the other peg",
        "trade feet",
        "other wing now",
        "to the right another scandal",
        "we exchange and breathe",
        "oh and turn over",
        "now other direction",
        "och the other one",
        "and the other paw",
        "about turn",
    ],
)
def test_a_short_line_that_begins_with_a_side_may_be_a_change(text: str) -> None:
    assert kinds(text) == ["side_turn"]


def test_a_long_line_about_a_side_is_none() -> None:
    assert kinds("the left one is the foot that should carry nearly all of your weight now") == []


@pytest.mark.parametrize(
    ("text", "side"),
    [
        ("and right", "side_right"),
        ("right side", "side_right"),
        ("walk it round to the left", "side_left"),
        ("right you are left leg", "side_left"),
        ("lead hand is the left hand", "side_left"),
        ("left oh i'm late", "side_left"),
        ("and step right", "side_right"),
    ],
)
def test_a_short_line_names_one_side(text: str, side: str) -> None:
    assert named(text) == [side]


@pytest.mark.parametrize(
    "text",
    [
        "right",
        "right then",
        "left over from christmas",
        "ten seconds left",
        "that's all that's left",
        "left leg right leg",
        "put the weight by your left foot and think about what you had for your tea",
    ],
)
def test_fillers_time_and_both_sides_name_none(text: str) -> None:
    assert named(text) == []
