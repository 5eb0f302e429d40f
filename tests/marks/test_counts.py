import pytest

from reviewkit.marks.counts import find_counts
from tests.talking import talk


@pytest.mark.parametrize(
    "text",
    [
        "last one two more",
        "ten seconds",
        "that one was good two of you know it",
        "twenty thirty forty",
        "three [6] two [6] one",
        "seven keep the chest nice and proud all the way eight",
    ],
)
def test_no_count(text: str) -> None:
    assert find_counts(talk(text)) == ()


@pytest.mark.parametrize(
    ("text", "ref"),
    [
        ("five four three two one", "down 5 1"),
        ("three two one", "down 3 1"),
        ("3 2 1", "down 3 1"),
        ("and two and one", "down 2 1"),
        ("in three [1] in two [1] in one", "down 3 1"),
        ("three to one", "down 3 1"),
        ("four nice three soften it two", "down 4 2"),
        ("one two three four", "up 1 4"),
        ("twenty two twenty one twenty nineteen", "down 22 19"),
    ],
)
def test_count(text: str, ref: str) -> None:
    assert [mark.ref for mark in find_counts(talk(text))] == [ref]


def test_count_covers_its_words() -> None:
    (mark,) = find_counts(talk("here we go three and two and one rest"))
    assert (mark.first, mark.last, mark.value) == (3, 7, 1)
    assert mark.text == "three and two and one"


def test_count_may_turn() -> None:
    said = talk("one two three four three two one")
    assert [mark.ref for mark in find_counts(said)] == ["up 1 4", "down 3 1"]


def test_loose_counts_weigh_less() -> None:
    (tight,) = find_counts(talk("four three two one"))
    (loose,) = find_counts(talk("four keep it going three stay with me two nearly one"))
    assert loose.weight < tight.weight
