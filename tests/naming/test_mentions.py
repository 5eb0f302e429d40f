from __future__ import annotations

import pytest

from reviewkit.model import Mark
from reviewkit.naming.mentions import How, how_named
from tests.talking import talk


def named(text: str, *, given: str = "") -> How:
    """Say how the move between angle brackets is named; ``given`` is what gives one away."""
    said = talk(text.replace("<", "").replace(">", ""))
    first = next(at for at, word in enumerate(text.split()) if word.startswith("<"))
    last = next(at for at, word in enumerate(text.split()) if word.endswith(">"))
    calls = []
    if given:
        at = [word.norm for word in said.words].index(given.split()[0])
        calls.append(Mark("swap_call", at, at + len(given.split()) - 1, 0, 0, given, "swap", None))
    return how_named(Mark("move", first, last, 0, 0, "", "", 1.0), calls, said)


@pytest.mark.parametrize(
    "text",
    [
        "so it's a <lunge>",
        "we're doing <dead bugs>",
        "it's called a <wall slide>",
        "let's have <penguins> then",
    ],
)
def test_a_move_is_announced(text: str) -> None:
    assert named(text).is_announced
    assert named(text).is_to_do


@pytest.mark.parametrize(
    "text",
    [
        "no <burpees> tonight",
        "instead of <burpees> we walk",
        "it should be <burpees> but my knee says no",
        "i was going to do <burpees>",
        "you were expecting <burpees>",
        "you've <pressed> enough",
        "<burpees> can wait",
        "<burpees> nope",
    ],
)
def test_a_move_is_refused(text: str) -> None:
    assert named(text).is_refused
    assert not named(text).is_to_do


@pytest.mark.parametrize(
    ("text", "given"),
    [
        ("scrap the <burpees>", "scrap the"),
        ("<skaters> on a wet roof not happening", "not happening"),
    ],
)
def test_a_giving_away_reaches_the_name(text: str, given: str) -> None:
    assert named(text, given=given).is_refused


@pytest.mark.parametrize(
    "text",
    [
        "if that hurts do a <squat>",
        "a jump or <step>",
        "it's like a <lunge>",
        "an easier option is the <bridge>",
    ],
)
def test_a_choice_and_a_likeness_are_not_announced(text: str) -> None:
    assert not named(text).is_announced
    assert not named(text).is_to_do


def test_a_name_that_is_just_said_is_none_of_these() -> None:
    how = named("and now the <squat> with your feet wide")
    assert how == How(
        is_announced=False, is_refused=False, is_offered=False, is_instead=False, is_past=False
    )


def test_what_is_done_in_anothers_place() -> None:
    assert named("<star jumps> instead").is_instead
    assert not named("<star jumps> instead of burpees").is_instead
