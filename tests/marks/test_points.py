from __future__ import annotations

import pytest

from reviewkit.marks.points import find_points
from reviewkit.model import Plan, PlanRow
from reviewkit.read import read_lexicon
from tests.talking import talk

PLAN = Plan("plan.csv", (PlanRow("Squat", 40_000, must_say=("purple flag above the hat",)),))


def refs(text: str) -> list[str]:
    return [mark.ref for mark in find_points(talk(text), PLAN, read_lexicon())]


@pytest.mark.parametrize(
    "text",
    ["", "lovely morning isn't it", "my knees were sore on monday", "three two one"],
)
def test_what_gives_no_point(text: str) -> None:
    assert refs(text) == []


@pytest.mark.parametrize(
    ("text", "ref"),
    [
        ("push your knees out over your toes", "knees-track-toes"),
        ("close the drawer with your bottom", "hips-back-hinge"),
        ("don't wear your shoulders as earrings", "shoulders-down"),
        ("land like a cat", "land-softly"),
    ],
)
def test_wordings_and_images_give_their_point(text: str, ref: str) -> None:
    assert refs(text) == [ref]


def test_a_turned_cue_is_not_the_cue() -> None:
    assert "knees-track-toes" not in refs("don't push your knees out over your toes")


def test_the_plans_own_words_are_heard() -> None:
    assert refs("purple flag above the hat please") == ["purple flag above the hat"]
