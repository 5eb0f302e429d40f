"""Names that a drafted plan gives its intervals."""

from __future__ import annotations

import pytest

from reviewkit.drafting.names import name_spans
from reviewkit.drafting.spans import WorkSpan
from reviewkit.model import Mark
from tests.talking import talk


def name(text: str, *mentions: Mark) -> str:
    return name_spans(talk(text), [WorkSpan(12_000, 52_000, 1.0)], mentions)[0]


def mention(move: str, at_ms: int, weight: float) -> Mark:
    return Mark("move", 0, 0, at_ms, at_ms + 400, move, move, 0.0, weight)


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("you look great [10] and go", id="no announcement"),
        pytest.param("next up is the [2] last one [10] go", id="nothing that names a move"),
        pytest.param("[60] next up is the plank", id="said after the interval"),
    ],
)
def test_an_interval_without_a_name_is_numbered(text: str) -> None:
    assert name(text) == "Move 1"


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        pytest.param("next up is the wall slide and go", "Wall slide", id="until a closing word"),
        pytest.param("first up bear crawl [2] hands down", "Bear crawl", id="until a pause"),
        pytest.param("next up lunges [2] next up high knees. go", "High knees", id="the last one"),
    ],
)
def test_an_announcement_names_as_heard(text: str, wanted: str) -> None:
    assert name(text) == wanted


def test_a_sure_mention_wins_over_an_announcement() -> None:
    assert name("next up is the big one go", mention("Plank", 5000, 0.8)) == "Plank"


def test_a_doubtful_mention_only_stands_in() -> None:
    doubtful = mention("Plank", 5000, 0.3)
    assert name("next up is the wall slide and go", doubtful) == "Wall slide"
    assert name("and go", doubtful) == "Plank"
    assert name("and go", mention("Plank", 5000, 0.05)) == "Move 1"


def test_mentions_of_the_interval_before_do_not_count() -> None:
    two = [WorkSpan(12_000, 52_000, 1.0), WorkSpan(60_000, 90_000, 1.0)]
    assert name_spans(talk("go"), two, [mention("Plank", 45_000, 0.9)]) == ("Move 1", "Move 2")
