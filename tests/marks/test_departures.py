from __future__ import annotations

import pytest

from reviewkit.marks.departures import find_departures
from reviewkit.model import Talk
from tests.lexicon import flat_lexicon
from tests.talking import talk


def kinds(text: str) -> set[str]:
    return {mark.kind for mark in find_departures(talk(text), flat_lexicon())}


@pytest.mark.parametrize(
    "text",
    [
        "",
        "next up we have squats",
        "keep your chest up and push the floor away",
        "the plan is three rounds today",
        "swap your feet over and go again",
        "and rest grab some water",
    ],
)
def test_talk_that_keeps_to_the_plan(text: str) -> None:
    assert kinds(text) == set()


@pytest.mark.parametrize(
    "text",
    [
        "right change of plan we are doing lunges",
        "i was going to do burpees but no",
        "i changed my mind let's have squats",
    ],
)
def test_a_move_is_given_away(text: str) -> None:
    assert "swap_call" in kinds(text)


@pytest.mark.parametrize(
    "text",
    [
        "here is a bonus one for you",
        "one thing that is not in my paper a push up on the desk",
        "it wasn't on the recipe but roll over",
        "one present free of charge a wall press",
        "i liked that plank i want it again",
    ],
)
def test_an_extra_is_announced(text: str) -> None:
    assert "extra_call" in kinds(text)


def test_a_list_that_is_kept_to_announces_none() -> None:
    assert "extra_call" not in kinds("that is the next one on my list")


def test_a_maybe_weighs_less_than_a_plain_wording() -> None:
    (maybe,) = find_departures(talk("squats instead"), flat_lexicon())
    plain = find_departures(talk("change of plan"), flat_lexicon())
    assert maybe.weight < max(mark.weight for mark in plain)


def test_marks_hold_their_words_and_times() -> None:
    said = talk("so [2] change of plan everyone")
    (mark,) = find_departures(said, flat_lexicon())
    assert mark.text == "change of plan"
    assert (mark.first, mark.last) == (1, 3)
    assert (mark.start_ms, mark.end_ms) == (said.words[1].start_ms, said.words[3].end_ms)


def test_nothing_said_marks_nothing() -> None:
    assert find_departures(Talk((), "words", 0, 0), flat_lexicon()) == ()
