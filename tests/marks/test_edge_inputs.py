from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.marks.edge_features import Place, gather_facts, list_places
from reviewkit.marks.edge_inputs import PLACE_FACTS, WORD_FACTS, place_facts, word_facts
from reviewkit.model import Clock, Plan, PlanRow, Talk
from tests.talking import talk

CLOCKS: tuple[Clock, ...] = ("words", "captions", "blocks")


def of_word(said: Talk, word: int) -> dict[str, float]:
    """Give one word's facts by name."""
    return dict(zip(WORD_FACTS, word_facts(gather_facts(said, ()))[word].tolist(), strict=True))


def of_place(said: Talk, place: Place) -> dict[str, float]:
    """Give one place's facts by name."""
    row = place_facts(gather_facts(said, ()), [place])[0]
    return dict(zip(PLACE_FACTS, row.tolist(), strict=True))


def before(said: Talk, word: int) -> dict[str, float]:
    """Give the facts of the moment at which a word starts."""
    return of_place(said, Place(said.words[word].start_ms, "W", word))


# --- words -----------------------------------------------------------------------------


def test_a_longer_silence_is_more_on_both_sides_of_it() -> None:
    short, long = talk("that is it [1] next one"), talk("that is it [9] next one")
    assert of_word(short, 2)["silence after"] < of_word(long, 2)["silence after"]
    assert of_word(short, 3)["silence before"] < of_word(long, 3)["silence before"]
    assert of_word(long, 2)["silence after"] == of_word(long, 3)["silence before"]


def test_a_number_is_told_from_a_word_and_a_count_down_from_one_up() -> None:
    down, up = talk("five four three two one go"), talk("one two three four five go")
    assert [of_word(down, at)["number"] for at in (0, 5)] == [1, 0]
    assert of_word(down, 3)["counted down"] > of_word(up, 3)["counted down"]
    assert of_word(up, 3)["counted up"] > of_word(down, 3)["counted up"]
    assert [of_word(down, at)["counted to one"] for at in (3, 4)] == [0, 1]
    assert of_word(up, 0)["counted to one"] == 0


def test_the_clock_of_the_talk_is_told() -> None:
    told = [of_word(talk("off we go", clock=clock), 0) for clock in CLOCKS]
    assert [(one["in captions"], one["in blocks"]) for one in told] == [(0, 0), (1, 0), (0, 1)]


# --- places ----------------------------------------------------------------------------


def test_a_claim_is_nearest_when_it_falls_due() -> None:
    said = talk("ten seconds [9.4] and rest shake it out [30] next")
    due, later = before(said, 2), before(said, 7)
    assert due["claim near"] == 1
    assert abs(due["claim due"]) < 0.4
    assert (later["claim near"], later["claim due"]) == (0, 0)


def test_what_was_counted_to_one_fades() -> None:
    said = talk("three two one [1] go now [8] lower")
    fading = [before(said, word)["since a count to one"] for word in (3, 4, 5)]
    assert fading == sorted(fading, reverse=True)
    assert before(said, 3)["right after a count to one"] == 1
    assert before(said, 5)["right after a count to one"] == 0


def test_it_is_told_how_much_is_said_and_counted_before_and_after() -> None:
    said = talk("one two three four five [12] rest")
    told = before(said, 5)
    assert told["words 4 s before"] == 0
    assert told["words 25 s before"] > 0
    assert told["numbers 25 s before"] == told["words 25 s before"]
    assert told["words 4 s after"] > told["numbers 4 s after"] == 0


def test_words_of_planned_names_and_points_are_told_apart_from_others() -> None:
    row = PlanRow("Reverse lunge", 40_000, must_say=("push through the heel",))
    said = talk("lunges now and keep your heels down")
    told = word_facts(gather_facts(said, (), Plan("plan.csv", (row,))))
    named = told[:, WORD_FACTS.index("in a planned name")].tolist()
    asked = told[:, WORD_FACTS.index("in a planned point")].tolist()
    assert named == [1, 0, 0, 0, 0, 0, 0]
    assert asked == [0, 0, 0, 0, 0, 1, 0]
    draft = Plan("talk", (row,), is_drafted=True)
    for plan in (None, draft):
        assert not word_facts(gather_facts(said, (), plan))[:, -2:].any()


def test_the_kind_of_a_place_and_the_silence_around_it_are_told() -> None:
    said = talk("that is it [10] next up")
    silent = next(place for place in list_places(said) if place.kind == "S")
    told = of_place(said, silent)
    assert (told["at a word"], told["at a word's end"], told["in silence"]) == (0, 0, 1)
    assert 0 < told["silence before"] < told["silence after"]


WORDS = st.lists(st.sampled_from(["go", "three", "two", "one", "ten seconds", "[4]", "rest."]))


@given(WORDS, st.sampled_from(CLOCKS))
def test_every_word_and_place_has_all_facts_and_none_is_far_from_zero(
    text: list[str], clock: Clock
) -> None:
    said = talk(" ".join(text), clock=clock)
    facts, places = gather_facts(said, ()), list_places(said)
    words, at = word_facts(facts), place_facts(facts, places)
    assert words.shape == (len(said.words), len(WORD_FACTS))
    assert at.shape == (len(places), len(PLACE_FACTS))
    for found in (words, at):
        assert np.isfinite(found).all()
        assert float(np.abs(found).max(initial=0)) == pytest.approx(0, abs=6)
