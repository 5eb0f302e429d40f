from __future__ import annotations

import pytest

from reviewkit.marks.edge_columns import features_at, weigh_places, weigh_words, work_features
from reviewkit.marks.edge_features import Place, gather_facts, list_places
from reviewkit.model import Phrase, Talk, Weights
from tests.talking import talk

CLASSES = (Phrase("knees", "body"), Phrase("rest", "rest"))
SILENT = Talk((), "words", 0, 10_000)
WEIGHTS = Weights(
    ("start", "end"),
    {"bias": (-1.0, -2.0), "R1go": (3.0, 0.5), "RPrest now": (0.25, 4.0), "0knees": (0.5, 0.0),
     "LBone": (0.125, 0.0), "cd3 1": (1.5, 1.0), "kEc": (0.0, 0.75), "ago": (1.0, 0.0)},
)  # fmt: skip


def around(text: str, word: int) -> set[str]:
    """Name what is seen before one word of a text."""
    said = talk(text)
    place = Place(said.words[word].start_ms, "W", word)
    (seen,) = features_at(gather_facts(said, CLASSES), [place])
    return set(seen)


# --- features --------------------------------------------------------------------------


def test_words_on_both_sides_are_seen() -> None:
    seen = around("that is it rest now", 3)
    assert {"L1it", "L2is", "R1rest", "R2now", "RPrest now"} <= seen


def test_classes_of_words_are_seen() -> None:
    assert "Rc1rest" in around("that is it rest now", 3)
    assert "Lc1body" in around("soft knees go", 2)


def test_numbers_are_one_thing_however_written() -> None:
    assert around("three two one go", 3) == around("3 2 1 go", 3)


def test_a_count_that_came_down_differs_from_one_that_went_up() -> None:
    assert around("three two one go", 3) != around("one two three go", 3)
    assert any(name.startswith("cd3") for name in around("three two one go", 3))


def test_ten_seconds_is_seen_when_it_is_due() -> None:
    due = around("ten seconds [9.5] rest", 2)
    early = around("ten seconds [4] rest", 2)
    assert any(name.startswith("cl10") for name in due)
    assert not any(name.startswith("cl") for name in early)


def test_it_is_seen_how_much_is_said_close_by() -> None:
    lonely = around("off we go [30] rest", 2)
    amid = around("off we go sit back and down and stand up tall and again", 2)
    assert {"dr4 1", "dr10 0", "dr25 0"} <= lonely
    assert "dr4 9" in amid
    assert "dl4 2" in lonely & amid


def test_it_is_seen_how_much_is_counted_close_by() -> None:
    seen = around("three two one go sit back [9] one two three four", 3)
    assert {"nl5 3", "nr5 0", "nr30 4"} <= seen


def test_pauses_are_seen_on_both_sides() -> None:
    pause, none = around("that is it [3] now", 3), around("that is it now", 3)
    assert pause != none


def test_the_beginning_and_the_end_are_places_like_others() -> None:
    said = talk("hello there")
    facts = gather_facts(said, CLASSES)
    assert all(features_at(facts, list_places(said)))
    assert "L1$" in features_at(facts, [Place(0, "W", 0)])[0]


def test_a_word_is_seen_among_its_neighbours() -> None:
    facts = gather_facts(talk("push through soft knees everyone"), CLASSES)
    seen = work_features(facts)[2]
    assert {"0soft", "-through soft", "apush", "bknees", "cbody"} <= set(seen)


def test_nothing_said_has_facts_all_the_same() -> None:
    facts = gather_facts(SILENT, CLASSES)
    assert facts.tokens == ()
    assert all(features_at(facts, list_places(SILENT)))
    assert weigh_words(facts, WEIGHTS).shape == (0, 2)


@pytest.mark.parametrize(
    "text", ["three two one go [9] soft knees and rest now", "go go go go go", ""]
)
def test_weights_of_all_that_is_seen_are_added_up(text: str) -> None:
    said = talk(text) if text else SILENT
    facts, places = gather_facts(said, CLASSES), list_places(said)
    for sums, seen in (
        (weigh_places(facts, places, WEIGHTS), features_at(facts, places)),
        (weigh_words(facts, WEIGHTS), work_features(facts)),
    ):
        rows = [[WEIGHTS.rows.get(name, (0.0, 0.0)) for name in ("bias", *own)] for own in seen]
        assert sums.tolist() == [[sum(column) for column in zip(*row, strict=True)] for row in rows]


def test_a_word_that_comes_back_is_seen_once_further_off_and_each_time_close_by() -> None:
    facts = gather_facts(talk("go go go go go go go go go"), CLASSES)
    assert features_at(facts, [Place(4000, "W", 8)])[0].count("LBgo") == 1
    assert work_features(facts)[8].count("ago") == 6
