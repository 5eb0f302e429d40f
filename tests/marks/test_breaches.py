"""What sends a class to the floor or off it, and what owns up to having promised otherwise."""

from __future__ import annotations

import pytest

from reviewkit.marks.breaches import find_breaches
from reviewkit.read import read_lexicon
from tests.talking import talk


def kinds(said: str) -> list[str]:
    return [mark.kind for mark in find_breaches(talk(said), read_lexicon())]


@pytest.mark.parametrize(
    "said",
    ["push the floor away", "sit yourself down on the chair", "i know it is hard", "feet flat", ""],
)
def test_what_is_left_alone(said: str) -> None:
    assert kinds(said) == []


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("yes i know what i said", "confession"),
        ("i said one bag but the regulation has changed", "confession"),
        ("get down on the floor", "floor_asked"),
        ("everybody lie down flat on your back", "floor_asked"),
        ("both feet off the ground", "jump_asked"),
        ("seats down on the mat for this one", "floor_asked"),
        ("and not one of them is skipped", "sworn_all"),
        ("you get every single one", "sworn_all"),
    ],
)
def test_what_is_heard(said: str, kind: str) -> None:
    assert set(kinds(said)) == {kind}
