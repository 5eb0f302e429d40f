from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import pytest

from reviewkit.errors import InputError
from reviewkit.explain import CLOSE_MS, OWN_HABITS, explain_interval
from reviewkit.marks.edges import weigh_edges
from reviewkit.model import Cue, Lexicon, Piece, Plan, Transcript
from reviewkit.model.explained import EdgeExplanation, Explanation
from reviewkit.read import read_lexicon, read_plan, read_transcript
from reviewkit.words import PAUSE_WEIGHTS, split_words
from tests.coach import Stint, class_talk, even, plan_of
from tests.corpus import FIXTURES

STINTS = even(4, work_s=40, rest_s=20)
PLAN = plan_of(4, work_s=40, rest_s=20)


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def transcript(stints: Sequence[Stint]) -> Transcript:
    """Write a class with a time for every word."""
    cues = tuple(
        Cue(word.start_ms, word.end_ms, (Piece(word.text, word.start_ms, word.end_ms),))
        for word in class_talk(stints).words
    )
    return Transcript("class.json", "words", cues)


def explained(number: int, stints: Sequence[Stint] = STINTS, plan: Plan = PLAN) -> Explanation:
    return explain_interval(transcript(stints), plan, lexicon(), number)


def candidates(edge: EdgeExplanation) -> list[float]:
    return [one.chance for one in (edge.taken, *edge.others) if one is not None]


@pytest.mark.parametrize("number", [-1, 0, 5])
def test_a_row_that_the_plan_does_not_have(number: int) -> None:
    with pytest.raises(InputError, match=f"has no interval {number}; it has rows 1 to 4"):
        explained(number)


def test_the_interval_is_the_one_that_a_review_finds() -> None:
    one = explained(2)
    assert one.interval.plan_row == 2
    assert one.start.edge == one.interval.start
    assert one.end.edge == one.interval.end


def test_a_start_rests_on_the_count_before_the_go() -> None:
    taken = explained(2).start.taken
    assert taken is not None
    assert taken.at_ms == 80_000
    assert taken.chance > 0.9
    assert taken.before.endswith("three two one")
    assert taken.after.startswith("go")
    told = [reason.text for reason in taken.reasons if reason.weight > 0]
    assert told[0].startswith("a count came down to one")


def test_odds_are_the_sum_of_the_reasons() -> None:
    for edge in (explained(1).start, explained(1).end):
        for one in (edge.taken, *edge.others):
            assert one is not None
            assert one.odds == pytest.approx(sum(reason.weight for reason in one.reasons))


def test_runners_up_are_other_moments_and_less_likely() -> None:
    one = explained(3)
    for edge in (one.start, one.end):
        chances = candidates(edge)
        assert len(chances) <= 3
        assert chances == sorted(chances, reverse=True)
        assert sum(chances) <= 1.001


def test_a_length_counts_most_when_it_is_the_usual_one() -> None:
    usual = explained(2).length
    assert usual is not None
    assert usual.weight == pytest.approx(usual.expected_weight, abs=0.5)
    late = [*STINTS[:3], Stint(200, 252, "Glute bridge")]
    odd = explained(4, late).length
    assert odd is not None
    assert odd.length_ms == pytest.approx(52_000, abs=500)
    assert odd.weight < odd.expected_weight - 2


def test_the_rest_before_is_measured_and_planned() -> None:
    second = explained(2)
    assert second.rest_before_ms == pytest.approx(20_000, abs=500)
    assert second.planned_rest_before_ms == 20_000
    assert explained(1).rest_before_ms is None


def test_names_heard_for_the_move_are_told() -> None:
    names = explained(2).names
    assert any("press-up" in name.text and name.weight > 0 for name in names)


def test_a_skipped_row_has_no_edges() -> None:
    skipped = explained(3, [*STINTS[:2], STINTS[3]])
    assert skipped.interval.status == "skipped"
    assert (skipped.start.edge, skipped.start.taken) == (None, None)
    assert skipped.length is None
    assert skipped.names == skipped.cues == ()


def test_in_blocks_the_reasons_are_those_by_which_the_edge_was_heard() -> None:
    """Silences are drawn to edges afterwards, and must not count as heard."""
    folder = FIXTURES / "harbour-evening"
    given = read_transcript(folder / "blocks.txt")
    one = explain_interval(given, read_plan(folder / "plan.csv"), lexicon(), 4)
    talk = split_words(given, lexicon().weights[PAUSE_WEIGHTS])
    moments = weigh_edges(talk, read_plan(folder / "plan.csv"), lexicon()).moments
    for edge, output in ((one.start, "start"), (one.end, "end")):
        heard = [getattr(moment, output) for moment in moments]
        assert edge.taken is not None
        for candidate in (edge.taken, *edge.others):
            told = [why.weight for why in candidate.reasons if why.text != OWN_HABITS[output]]
            assert min(abs(sum(told) - odds) for odds in heard) < 2e-3


@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_what_was_taken_is_where_the_edge_is(number: int) -> None:
    one = explained(number)
    for edge in (one.start, one.end):
        assert edge.edge is not None
        assert edge.taken is not None
        assert abs(edge.taken.at_ms - edge.edge.at_ms) <= CLOSE_MS
