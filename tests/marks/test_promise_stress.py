"""How firmly something is promised: plain first, then sworn to, then on oath."""

import pytest

from reviewkit.marks.promise_stress import OATH, PLAIN, SWORN, firmness
from reviewkit.read import read_lexicon


def firm(said: str) -> float:
    return firmness([], said.split(), read_lexicon().lists["promises"])


@pytest.mark.parametrize(
    "said",
    [
        "three rounds of five moves",
        "there are three jobs and the round is walked three times",
        "thirty seconds of work then not much rest",
        "ten seconds not sixty minutes",
        "",
    ],
)
def test_plain(said: str) -> None:
    assert firm(said) == PLAIN


@pytest.mark.parametrize(
    "said",
    [
        "three means three",
        "we do it twice and i mean twice",
        "half a minute that is thirty seconds not thirty five",
        "five moves no extras",
        "you'll not get a third one out of me",
    ],
)
def test_sworn(said: str) -> None:
    assert firm(said) == SWORN


@pytest.mark.parametrize("said", ["three rounds i promise", "exactly three rounds"])
def test_on_oath(said: str) -> None:
    assert firm(said) == OATH
