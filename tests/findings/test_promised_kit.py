"""Kit that comes into a class that was to do without it, and kit that never did."""

from __future__ import annotations

import pytest

from reviewkit.findings.promises import judge_promises
from reviewkit.listen import find_marks
from reviewkit.model import Plan, Promise, Talk
from reviewkit.read import read_lexicon
from tests.findings.classes import circuit, heard_class
from tests.talking import talk


def judged(*said: tuple[float, str]) -> list[Promise]:
    """Judge the kit of a circuit from 120 s to 840 s in which lines are said, each at a second."""
    lexicon = read_lexicon()
    lines = [talk(text, start_ms=round(1000 * at_s)).words for at_s, text in said]
    words = tuple(word for line in lines for word in line)
    spoken = Talk(words, "words", 100, words[-1].end_ms)
    marks = find_marks(spoken, Plan("plan.csv", ()), lexicon)
    heard = heard_class(circuit(), words=words, marks=marks, lexicon=lexicon)
    return [one for one in judge_promises(heard) if one.what == "equipment"]


def verdicts(promised: str, later: str) -> set[str]:
    return {one.verdict for one in judged((4, promised), (281, later))}


ONE_BAND = "you need one long band nothing else at all"
NOTHING = "you need no kit nothing at all"


@pytest.mark.parametrize(
    "later",
    [
        "get the broom the right way up",
        "arms like a chair",
        "push up",
        "slide a rolled up jumper under your head",
        "keep it in your hand or hook it on a chair",
        "if your knees are tender put the fold of a blanket under them",
        "my sister has a chair like that in her kitchen",
    ],
)
def test_pictures_of_kit_break_nothing(later: str) -> None:
    assert verdicts(ONE_BAND, later) == {"kept"}


@pytest.mark.parametrize(
    "later",
    [
        "now go and fetch a chair for the dips",
        "right grab a cushion you will need it for this one",
        "next fetch a towel off the rail [1] lay the towel flat in front of you",
    ],
)
def test_kit_that_is_sent_for_breaks_it(later: str) -> None:
    assert verdicts(ONE_BAND, later) == {"broken"}
    assert verdicts(NOTHING, later) == {"broken"}


def test_the_words_that_send_for_it_are_shown() -> None:
    told = judged((4, NOTHING), (281, "now go and fetch a chair for the dips"))
    assert "none" in {one.said for one in told}
    assert all("fetch a chair" in str(one.found) for one in told)


def test_kit_beside_which_the_coach_owns_up_breaks_it() -> None:
    later = "grab that chair from the side [2] i said no chairs i lied now hands on the chair"
    assert verdicts(ONE_BAND, later) == {"broken"}


def test_kit_said_not_to_be_needed_was_not_promised() -> None:
    promised = "you need a long band and leave the chair where it is"
    assert verdicts(promised, "go and get a chair and put a foot on the chair") == {"broken"}


def test_a_second_one_is_more_than_one_pair() -> None:
    promised = "one pair of dumbbells that's the whole list"
    assert verdicts(promised, "hop over and get a second pair of dumbbells now") == {"broken"}
    assert verdicts(promised, "pick the dumbbells up") == {"kept"}


@pytest.mark.parametrize(
    ("later", "found"),
    [
        ("keep the band under the foot", set()),
        ("grab the back of a chair if you sway", set()),
        ("now go and fetch a chair from the kitchen put a foot on the chair", {"broken"}),
    ],
)
def test_who_names_kit_promises_that_it_will_do(later: str, found: set[str]) -> None:
    assert verdicts("today we use a long band", later) == found


@pytest.mark.parametrize(
    ("at_s", "later", "is_broken"),
    [
        (400, "hands on the chair [4] sit on the chair [4] stand behind the chair", False),
        (850, "put the chair back we never used it", True),
    ],
)
def test_kit_that_is_never_used_breaks_what_asked_for_it(
    at_s: float, later: str, is_broken: bool
) -> None:
    asked = "you will need a band and get a chair ready you'll want it later on"
    told = judged((4, asked), (300, "hold the band tight"), (at_s, later))
    assert ("broken" in {one.verdict for one in told}) == is_broken
