"""A coach owns up to numbers in many words, and tells many stories that only sound so."""

import pytest

from reviewkit.marks.taken_back import find_taken_back
from tests.talking import talk


def heard(said: str) -> list[tuple[float | None, str]]:
    return [(mark.value, mark.ref) for mark in find_taken_back(talk(said))]


@pytest.mark.parametrize(
    ("said", "owned"),
    [
        ("i know i said four but it looks like rain and three is enough", (4.0, "count 3")),
        ("legs down that's us i said four i'm giving you three", (4.0, "count 3")),
        ("i know five moves i said six i dropped the swings actually", (6.0, "count 5")),
        ("i told you four well my wife phoned", (4.0, "count")),
        ("i know i said twice for these but the tractor is early", (2.0, "count")),
        ("i did say thirty seconds and it was more like forty seconds sorry", (30.0, "length 40")),
        ("and i know i said three rounds but that is plenty", (3.0, "count")),
    ],
)
def test_a_number_that_is_owned_to_have_been_said_is_heard(
    said: str, owned: tuple[float, str]
) -> None:
    assert heard(said) == [owned]


@pytest.mark.parametrize(
    "said",
    [
        "my boss asked me how much i'd run and i said twelve lengths well he laughed",
        "as i said four rounds but slow ones",
        "keep going till i say three two one and stop but hold it",
        "i said three and i meant it so last one sorry",
        "we said two and two's plenty",
        "i said to him four is plenty but he went on",
        "he said four but three is fine",
        "i said four rounds of the yard",
    ],
)
def test_stories_and_promises_that_hold_are_not(said: str) -> None:
    assert heard(said) == []
