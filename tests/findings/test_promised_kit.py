"""Kit that comes into a class that was to do without it, and pictures of kit."""

from __future__ import annotations

import pytest

from reviewkit.findings.promises import judge_promises
from reviewkit.marks.breaches import find_breaches
from reviewkit.marks.kit import find_kit
from reviewkit.marks.promises import find_promises
from reviewkit.model import Talk
from reviewkit.read import read_lexicon
from tests.findings.classes import circuit, heard_class
from tests.talking import talk


def verdicts(promised: str, later: str) -> set[str]:
    lexicon = read_lexicon()
    words = (*talk(promised, start_ms=4_000).words, *talk(later, start_ms=300_000).words)
    spoken = Talk(words, "words", 100, words[-1].end_ms)
    marks = (
        *find_promises(spoken, lexicon),
        *find_kit(spoken, lexicon),
        *find_breaches(spoken, lexicon),
    )
    judged = judge_promises(heard_class(circuit(), words=words, marks=marks))
    return {one.verdict for one in judged if one.what == "equipment"}


ONE_BAND = "you need one long band nothing else at all"


@pytest.mark.parametrize(
    "later",
    [
        "get the broom the right way up",
        "arms like a chair",
        "push up",
        "grab your cushion and give it a belt",
        "slide a rolled up jumper under your head",
        "keep it in your hand or hook it on a chair",
        "if your knees are tender put the fold of a blanket under them",
    ],
)
def test_pictures_of_kit_break_nothing(later: str) -> None:
    assert verdicts(ONE_BAND, later) == {"kept"}


@pytest.mark.parametrize(
    "later",
    [
        "pull yourself a chair over for the dips",
        "now tie it to a door handle behind you",
        "go and fetch one towel from the kitchen",
    ],
)
def test_kit_that_comes_as_something_new_breaks_it(later: str) -> None:
    assert verdicts(ONE_BAND, later) == {"broken"}
    assert verdicts("you need no kit nothing at all", later) == {"broken"}


@pytest.mark.parametrize(
    "later",
    [
        "yes I said nothing else and I was wrong you do want that pillow",
        "grab that chair from the side [2] I said no chairs I'm a liar",
    ],
)
def test_kit_beside_which_the_coach_owns_up_breaks_it(later: str) -> None:
    assert verdicts(ONE_BAND, later) == {"broken"}


def test_kit_that_is_fetched_and_used_breaks_it_whatever_it_is_called() -> None:
    fetched = "get the towel I put under there"
    assert verdicts(ONE_BAND, fetched) == {"kept"}
    assert verdicts(ONE_BAND, f"{fetched} [5] now pull that towel tight") == {"broken"}


def test_something_heavier_is_more_than_one_pair() -> None:
    promised = "one pair of dumbbells that's the whole list"
    assert verdicts(promised, "hop over and get something heavier for these") == {"broken"}


@pytest.mark.parametrize(
    ("later", "found"),
    [
        ("keep the band under the foot", set()),
        ("grab the back of a chair if you sway", set()),
        ("go and get a chair or a band whichever is near", set()),
        ("now go and fetch a chair from the kitchen", {"broken"}),
        ("you need a second band i should have said", {"broken"}),
    ],
)
def test_who_names_kit_promises_that_it_will_do(later: str, found: set[str]) -> None:
    assert verdicts("today we use a long band", later) == found


@pytest.mark.parametrize(
    ("later", "found"),
    [
        ("lean into the back of the chair", set()),
        ("put the chair back we never found a use for it", {"broken"}),
    ],
)
def test_kit_that_is_put_back_unused_breaks_what_asked_for_it(later: str, found: set[str]) -> None:
    lexicon = read_lexicon()
    words = (
        *talk("go and get a chair", start_ms=4_000).words,
        *talk(later, start_ms=900_000).words,
    )
    spoken = Talk(words, "words", 100, words[-1].end_ms)
    marks = (*find_promises(spoken, lexicon), *find_kit(spoken, lexicon))
    judged = judge_promises(heard_class(circuit(), words=words, marks=marks))
    assert {one.verdict for one in judged if one.what == "equipment"} == found
