import pytest

from reviewkit.marks.kit import find_kit
from tests.lexicon import flat_lexicon
from tests.talking import talk


def kit(text: str) -> list[tuple[str, str, float]]:
    marks = find_kit(talk(text), flat_lexicon())
    return [(mark.kind, mark.ref, mark.weight) for mark in marks if mark.kind != "kit_named"]


def named(text: str) -> set[str]:
    marks = find_kit(talk(text), flat_lexicon())
    return {mark.ref for mark in marks if mark.kind == "kit_named"}


@pytest.mark.parametrize(
    "text",
    [
        "sit back into chair pose",
        "weight in your heels",
        "take a step to the side",
        "up on the balls of your feet",
        "block two is coming",
        "put the dumbbells down",
        "the chair stays where it is",
        "slow like you go to get the newspaper",
        "let me get a rag for this puddle",
        "so i couldn't get a cushion under it",
        "up you get behind the chair",
        "next week is balance so bring a cushion",
        "get your weight over the ball of the foot",
    ],
)
def test_nothing_asked_for(text: str) -> None:
    assert kit(text) == []


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("run and grab a cushion for this one", ("kit_fetched", "cushion", 1.0)),
        ("now fetch me a tin for each hand", ("kit_fetched", "tins", 1.0)),
        ("you need one pair of dumbbells", ("kit_fetched", "dumbbell", 1.0)),
        ("grab a chair if you feel wobbly", ("kit_fetched", "chair", 0.3)),
        ("grab a cushion for your knee. if it hurts", ("kit_fetched", "cushion", 0.3)),
        ("if the knees are sore go and fetch a cushion", ("kit_fetched", "cushion", 0.3)),
        ("slide a rolled up jumper under your head", ("kit_fetched", "clothes", 1.0)),
        ("go and find something heavy for your lap", ("kit_fetched", "something", 1.0)),
        ("for this one you'll each need a chair", ("kit_fetched", "chair", 1.0)),
        ("you're going to need the heavier pair", ("kit_second", "second", 1.0)),
    ],
)
def test_asked_for(text: str, found: tuple[str, str, float]) -> None:
    assert found in kit(text)


def test_every_mention_is_named() -> None:
    assert named("a chair a resistance band and a wall") == {"chair", "band", "always"}
