from __future__ import annotations

from itertools import pairwise

import pytest

from reviewkit.marks.edge_features import (
    bucket,
    gather_facts,
    list_places,
    number_of,
)
from reviewkit.model import Phrase, Talk
from tests.talking import talk

CLASSES = (Phrase("knees", "body"), Phrase("rest", "rest"))
SILENT = Talk((), "words", 0, 10_000)


# --- places ----------------------------------------------------------------------------


def test_every_word_may_be_an_edge() -> None:
    said = talk("squats next three two one go")
    starts = {place.at_ms for place in list_places(said) if place.kind == "W"}
    assert starts == {word.start_ms for word in said.words}


def test_places_come_in_time_order() -> None:
    said = talk("[4] ready [3] three [1] two [1] one [2.5] go [30] rest")
    at_ms = [place.at_ms for place in list_places(said)]
    assert at_ms == sorted(at_ms)


def test_a_silence_has_places_of_its_own() -> None:
    said = talk("that is time [10] next up")
    inside = [place for place in list_places(said) if 1200 < place.at_ms < 11_000]
    assert {place.word for place in inside} == {3}
    assert len(inside) > 10
    assert max(b.at_ms - a.at_ms for a, b in pairwise(inside)) <= 500


def test_a_short_pause_has_none() -> None:
    said = talk("that is time [0.4] next up")
    assert {place.kind for place in list_places(said) if place.word < 5} == {"W"}


def test_the_last_number_of_a_count_lasts_its_second() -> None:
    said = talk("three two one [5] go")
    ends = [place for place in list_places(said) if place.kind == "E" and place.word == 3]
    (end,) = ends
    assert end.at_ms - said.words[2].start_ms == pytest.approx(1000, abs=100)


def test_silences_of_blocks_are_guesses_and_have_no_places() -> None:
    said = talk("that is time [10] next up", clock="blocks")
    assert all(place.kind == "W" for place in list_places(said) if place.word < 5)


def test_an_interval_may_end_after_the_last_word() -> None:
    said = talk("keep going")
    assert any(place.at_ms > said.words[-1].end_ms + 5000 for place in list_places(said))


# --- numbers ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("word", "value"),
    [("three", 3), ("10", 10), ("squat", None), ("couple", None), ("1000", None), ("half", None)],
)
def test_only_whole_numbers_count(word: str, value: int | None) -> None:
    assert number_of(word) == value


def test_counts_run_down_and_up() -> None:
    facts = gather_facts(talk("three two one go and one two three"), ())
    assert facts.down[:3] == (1, 2, 3)
    assert facts.up[-3:] == (1, 2, 3)
    assert facts.down[3] == facts.up[3] == 0


def test_a_number_long_after_another_begins_anew() -> None:
    facts = gather_facts(talk("three [9] two"), ())
    assert facts.down == (1, 1)


def test_a_count_laced_with_words_goes_on() -> None:
    facts = gather_facts(talk("three nice two lovely one"), ())
    assert (facts.down[0], facts.down[2], facts.down[4]) == (1, 2, 3)


def test_a_longer_pause_never_has_a_smaller_number() -> None:
    numbers = [bucket(length_ms) for length_ms in range(0, 20_000, 50)]
    assert numbers == sorted(numbers)
    assert (numbers[0], numbers[-1]) == (0, 7)
