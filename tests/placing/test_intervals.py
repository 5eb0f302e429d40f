from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reviewkit.marks.edges import weigh_edges
from reviewkit.marks.move_evidence import weigh_moves
from reviewkit.marks.moves import find_moves
from reviewkit.model import EdgeEvidence, Interval, Lexicon, Moment, MoveEvidence, Plan, Talk, Word
from reviewkit.placing.intervals import build_intervals
from reviewkit.read import read_lexicon
from tests.coach import Stint, class_talk, even, plan_of


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def heard(talk: Talk, plan: Plan) -> tuple[Interval, ...]:
    """Find the intervals of a talk, by all that a review knows of edges and moves."""
    moves = weigh_moves(talk, plan, lexicon(), find_moves(talk, plan, lexicon()))
    return build_intervals(talk, weigh_edges(talk, plan, lexicon()), moves, plan)


def edges_s(intervals: Sequence[Interval]) -> list[float]:
    """List starts and ends in turn."""
    edges = (edge for one in intervals for edge in (one.start, one.end))
    return [edge.at_ms / 1000 for edge in edges if edge is not None]


def true_edges_s(stints: Sequence[Stint]) -> list[float]:
    return [edge for one in stints for edge in (one.start_s, one.end_s)]


def test_a_plan_without_rows_has_no_intervals() -> None:
    talk = class_talk(even(2, work_s=40, rest_s=20))
    assert heard(talk, Plan("plan.csv", ())) == ()


def test_where_nothing_is_said_every_row_is_skipped() -> None:
    silence = Talk((), "words", 0, 60_000)
    plan = plan_of(2, work_s=40, rest_s=20)
    found = build_intervals(silence, EdgeEvidence((), ()), silent(plan, 0), plan)
    assert [one.status for one in found] == ["skipped", "skipped"]


def test_a_counted_class_is_found_to_the_word() -> None:
    stints = even(3, work_s=40, rest_s=20)
    found = heard(class_talk(stints), plan_of(3, work_s=40, rest_s=20))
    assert edges_s(found) == pytest.approx(true_edges_s(stints), abs=0.4)
    assert [one.timing for one in found] == ["on time"] * 3
    assert [one.plan_row for one in found] == [1, 2, 3]


def test_rests_are_measured_between_intervals() -> None:
    found = heard(class_talk(even(3, work_s=40, rest_s=20)), plan_of(3, work_s=40, rest_s=20))
    rests = [one.rest_after_ms for one in found]
    assert rests[:2] == pytest.approx([20_000, 20_000], abs=500)
    assert rests[2] is None


# --- the plan never talks drift away ---------------------------------------------------


def test_a_class_played_short_throughout_comes_out_short() -> None:
    stints = even(10, work_s=34, rest_s=17)
    found = heard(class_talk(stints), plan_of(10, work_s=40, rest_s=20))
    assert [one.timing for one in found] == ["short"] * 10
    assert edges_s(found) == pytest.approx(true_edges_s(stints), abs=0.5)


def test_a_coach_who_stops_six_seconds_early_every_time_comes_out_so() -> None:
    """Starts keep to the clock of the plan, so only the ends tell."""
    stints = even(10, work_s=34, rest_s=26)
    found = heard(class_talk(stints), plan_of(10, work_s=40, rest_s=20))
    assert [one.timing for one in found] == ["short"] * 10
    assert [one.length_ms for one in found] == pytest.approx([34_000] * 10, abs=500)


@pytest.mark.parametrize("announced_s", [4, 5, 6, 7, 8])
def test_a_move_named_as_early_as_its_end_comes_is_not_begun_there(announced_s: float) -> None:
    """The plan would fit if every interval began when it was named, and it did not."""
    stints = even(10, work_s=34, rest_s=26)
    talk = class_talk(stints, announced_s=announced_s)
    found = heard(talk, plan_of(10, work_s=40, rest_s=20))
    assert [one.timing for one in found] == ["short"] * 10
    assert edges_s(found) == pytest.approx(true_edges_s(stints), abs=0.5)


def test_one_long_interval_among_others_comes_out_long() -> None:
    stints = even(6, work_s=40, rest_s=20)
    stints = [
        replace(one, start_s=one.start_s + 9 * (at > 2), end_s=one.end_s + 9 * (at >= 2))
        for at, one in enumerate(stints)
    ]
    found = heard(class_talk(stints), plan_of(6, work_s=40, rest_s=20))
    assert [one.timing for one in found] == ["on time"] * 2 + ["long"] + ["on time"] * 3
    assert edges_s(found) == pytest.approx(true_edges_s(stints), abs=0.5)


def test_drift_is_found_whatever_it_is() -> None:
    for drift_s in (-10, -5, 5, 10):
        stints = even(8, work_s=40 + drift_s, rest_s=20)
        found = heard(class_talk(stints), plan_of(8, work_s=40, rest_s=20))
        lengths = [(one.length_ms or 0) / 1000 for one in found]
        assert lengths == pytest.approx([40 + drift_s] * 8, abs=0.5)


def test_half_of_a_drift_is_found_where_times_are_known_to_eight_seconds_only() -> None:
    stints = even(6, work_s=40, rest_s=20)
    stints = [
        replace(one, start_s=one.start_s + 7 * (at > 2), end_s=one.end_s + 7 * (at >= 2))
        for at, one in enumerate(stints)
    ]
    talk = class_talk(stints, clock="blocks", spread_ms=8000)
    lengths = [(one.length_ms or 0) / 1000 for one in heard(talk, plan_of(6, work_s=40, rest_s=20))]
    assert lengths[2] > 40 + 7 / 2
    assert [lengths[at] for at in (0, 1, 3, 4, 5)] == pytest.approx([40] * 5, abs=2)


# --- rows that were not done, and intervals that nobody planned ------------------------


def test_a_skipped_row_stands_where_it_was_planned() -> None:
    stints = even(6, work_s=40, rest_s=20)
    del stints[3]
    found = heard(class_talk(stints), plan_of(6, work_s=40, rest_s=20))
    assert [one.plan_row for one in found] == [1, 2, 3, 4, 5, 6]
    assert [one.plan_row for one in found if one.status == "skipped"] == [4]
    skipped = found[3]
    assert (skipped.start, skipped.end, skipped.timing, skipped.length_ms) == (None,) * 4


def test_a_class_that_closes_the_gap_still_skips_the_right_row() -> None:
    """What is named tells which one was left out."""
    stints = even(6, work_s=40, rest_s=20)
    moved = [replace(one, start_s=one.start_s - 60, end_s=one.end_s - 60) for one in stints[4:]]
    found = heard(class_talk([*stints[:3], *moved]), plan_of(6, work_s=40, rest_s=20))
    assert [one.plan_row for one in found if one.status == "skipped"] == [4]


def test_edges_that_are_very_plain_do_not_hide_which_row_was_skipped() -> None:
    """A placement a round late meets as many plain edges, and sooner."""
    stints = even(12, work_s=40, rest_s=20)
    moved = [replace(one, start_s=one.start_s - 60, end_s=one.end_s - 60) for one in stints[4:]]
    talk, plan = class_talk([*stints[:3], *moved]), plan_of(12, work_s=40, rest_s=20)
    edges = weigh_edges(talk, None, lexicon())
    plain = tuple(one.weighed(2 * one.start, 2 * one.end) for one in edges.moments)
    moves = weigh_moves(talk, plan, lexicon(), find_moves(talk, plan, lexicon()))
    found = build_intervals(talk, replace(edges, moments=plain), moves, plan)
    assert [one.plan_row for one in found if one.status != "done"] == [4]


def test_an_interval_nobody_planned_is_added() -> None:
    stints = even(5, work_s=40, rest_s=20)
    later = [replace(one, start_s=one.start_s + 60, end_s=one.end_s + 60) for one in stints[3:]]
    found = heard(
        class_talk([*stints[:3], Stint(200, 230, "Bear crawl"), *later]),
        plan_of(5, work_s=40, rest_s=20),
    )
    assert [one.status for one in found] == ["done"] * 3 + ["added"] + ["done"] * 2
    added = found[3]
    assert added.plan_row is None
    assert added.planned_ms is None
    assert added.timing is None
    assert edges_s([added]) == pytest.approx([200, 230], abs=0.5)


def test_moves_that_traded_places_come_in_the_order_they_happened() -> None:
    stints = even(4, work_s=40, rest_s=20)
    one, other = stints[1], stints[2]
    stints[1:3] = [replace(one, move=other.move), replace(other, move=one.move)]
    stints = [replace(one, is_named_twice=True) for one in stints]
    found = heard(class_talk(stints), plan_of(4, work_s=40, rest_s=20))
    assert sorted(row for row in (one.plan_row for one in found) if row) == [1, 2, 3, 4]
    assert [one.plan_row for one in found] == [1, 3, 2, 4]


# --- laws, on evidence by hand ---------------------------------------------------------


def silent(plan: Plan, words: int) -> MoveEvidence:
    """Give evidence of moves that says nothing of any word."""
    moves = tuple(dict.fromkeys(row.move for row in plan.rows))
    nothing = tuple((0.0,) * words for _ in moves)
    return MoveEvidence(moves, nothing, nothing, sides=(0,) * words, unplanned=(0.0,) * words)


_STEP_MS = 500


@st.composite
def _evidence(draw: st.DrawFn) -> tuple[Talk, EdgeEvidence, MoveEvidence, Plan]:
    """Draw words every half second and whatever evidence, mostly none."""
    plan = plan_of(draw(st.integers(1, 4)), work_s=20, rest_s=10)
    count = draw(st.integers(1, 240))
    spread_ms = draw(st.sampled_from((0, 100, 4000)))
    words = tuple(
        Word("so", "so", at * _STEP_MS, at * _STEP_MS + 300, spread_ms) for at in range(count)
    )
    odds = draw(st.dictionaries(st.integers(0, count - 1), st.tuples(_odds, _odds), max_size=12))
    moments = tuple(
        Moment(word.start_ms, at, spread_ms, *odds.get(at, (-6.0, -6.0)))
        for at, word in enumerate(words)
    )
    return (
        Talk(words, "words", spread_ms, count * _STEP_MS),
        EdgeEvidence(moments, (0.0,) * count),
        silent(plan, count),
        plan,
    )


_odds = st.sampled_from((-9.0, -4.0, 0.0, 3.0, 6.0))


@settings(max_examples=60, deadline=None)
@given(_evidence())
def test_whatever_is_heard_the_answer_is_whole(
    case: tuple[Talk, EdgeEvidence, MoveEvidence, Plan],
) -> None:
    talk, edges, moves, plan = case
    found = build_intervals(talk, edges, moves, plan)
    rows = sorted(one.plan_row for one in found if one.plan_row is not None)
    assert rows == list(range(1, len(plan.rows) + 1))
    assert len({one.id for one in found}) == len(found)
    # None starts before the one before it has ended.
    edges_ms = [1000 * edge for edge in edges_s(found)]
    assert edges_ms == sorted(edges_ms)
    for one in found:
        assert 0 <= one.certainty <= 1
        assert (one.start is None) == (one.end is None) == (one.status == "skipped")
        if one.start is not None and one.end is not None:
            assert one.start.at_ms < one.end.at_ms
            assert one.length_low_ms is not None
            assert one.length_high_ms is not None
            assert one.length_low_ms <= (one.length_ms or 0) <= one.length_high_ms


def test_ranges_are_as_wide_as_the_clock_is_coarse() -> None:
    stints = even(5, work_s=40, rest_s=20)
    widths = []
    for spread_ms in (0, 800, 4000):
        found = heard(class_talk(stints, spread_ms=spread_ms), plan_of(5, work_s=40, rest_s=20))
        edges = [edge for one in found for edge in (one.start, one.end) if edge is not None]
        widths.append(sum(edge.high_ms - edge.low_ms for edge in edges) / len(edges))
    assert widths == sorted(widths)
    assert widths[0] < widths[2]
