"""How long a warm-up or a cool-down will be: what is no such length first."""

import pytest

from reviewkit.marks.promises import find_promises
from reviewkit.read import read_lexicon
from tests.talking import talk


def lengths(said: str) -> list[tuple[str, float | None]]:
    marks = find_promises(talk(said), read_lexicon())
    return [(mark.ref, mark.value) for mark in marks if "_length" in mark.ref]


@pytest.mark.parametrize(
    "said",
    [
        "the bread took two minutes to burn",
        "ten seconds to stretch the fingers",
        "forty seconds of work and twenty to breathe",
        "a minute between the rounds",
        "and a minute to blow at the end of each",
        "we'll be warm in five minutes",
    ],
)
def test_no_length_of_a_part(said: str) -> None:
    assert lengths(said) == []


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("three minutes of limbering", ("warm_length", 180)),
        ("ninety seconds of gentle mobility", ("warm_length", 90)),
        ("four minutes on the grass lying down stretching", ("cool_length", 240)),
        ("i give you four minutes to stretch", ("cool_length", 240)),
        ("we start with two minutes of dancing to warm up", ("warm_length", 120)),
        ("two minutes of easy swaying before we begin", ("warm_length", 120)),
        ("two minutes with the lamp off at the end", ("maybe_cool_length", 120)),
    ],
)
def test_a_length_of_a_part(said: str, found: tuple[str, float]) -> None:
    assert found in lengths(said)
