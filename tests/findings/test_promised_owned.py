"""What the coach owns to have promised otherwise is broken, whatever kind of promise it was."""

from __future__ import annotations

import pytest

from reviewkit.findings.promises import judge_promises
from reviewkit.marks.taken_back import find_taken_back
from reviewkit.model import Mark, Talk
from tests.findings.classes import circuit, claim, heard_class
from tests.talking import talk

CLASS = circuit(("Squat", "Push-up", "Lunge", "Plank"), rounds=3)
CLASS_START_MS = round(1000 * (CLASS[1].start_s or 0)) + 10_000


def after_the_work(said: str) -> Talk:
    return talk(said, start_ms=2_000_000)


def broken(said: str, *marks: Mark) -> list[tuple[str, object, object]]:
    spoken = after_the_work(said)
    heard = heard_class(CLASS, marks=(*marks, *find_taken_back(spoken)), words=spoken.words)
    found = judge_promises(heard)
    return [(one.what, one.said, one.found) for one in found if one.verdict == "broken"]


@pytest.mark.parametrize(
    ("said", "what", "promised", "was"),
    [
        ("i know i said four rounds but it is late", "rounds", 4, 3),
        ("i know i said four but three is plenty", "rounds", 4, 3),
        ("i know i said five but it's four things", "moves", 5, 4),
        ("i know i said eight moves but it's only the four", "moves", 8, 4),
    ],
)
def test_the_noun_or_what_it_became_tells_the_kind(
    said: str, what: str, promised: int, was: int
) -> None:
    assert broken(said) == [(what, promised, was)]


def test_what_was_claimed_with_the_number_tells_it_too() -> None:
    assert broken("i know i said five but that's us") == []
    assert broken("i know i said five but that's us", claim("rounds", 5)) == [("rounds", 5, 3)]


def test_a_number_that_was_kept_and_a_pair_of_kit_break_nothing() -> None:
    assert broken("i know i said three rounds but it felt like more") == []
    assert broken("i know i said one pair but two pairs is better") == []


def test_seconds_left_that_were_said_in_an_interval_are_no_promise() -> None:
    spoken = talk("i know i said ten seconds but hold it", start_ms=CLASS_START_MS)
    marks = (claim("rest", 10), *find_taken_back(spoken))
    heard = heard_class(CLASS, marks=marks, words=spoken.words)
    assert not [one for one in judge_promises(heard) if one.why == "the coach said so"]
