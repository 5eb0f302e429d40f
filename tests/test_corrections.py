from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.corrections import (
    correct_class,
    correct_points,
    key_of,
    key_of_point,
    put_aside,
    standing,
    standing_class,
    standing_points,
)
from reviewkit.model import (
    Correction,
    DoneInterval,
    Evidence,
    HeardClass,
    Interval,
    MarkedPoint,
    MovedEdge,
    MoveFinding,
    NamedMove,
    PointFinding,
    PromptFinding,
    SetAside,
    TimeCall,
)
from tests.findings.classes import Row, circuit, heard_class

SQUAT = MoveFinding(
    "Squat",
    (
        PointFinding("knees out", "safety", "plan", "missing"),
        PointFinding("heels down", "form", "plan", "said", (Evidence(5000, "heels down"),)),
    ),
    PromptFinding("missing"),
    PromptFinding("missing"),
)


def three() -> HeardClass:
    return heard_class([Row("Squat", 20), Row("Row", 80), Row("Plank", 140)])


def corrected(*corrections: Correction) -> tuple[Interval, ...]:
    return correct_class(three(), corrections).intervals


def test_without_corrections_the_class_stays_as_it_is() -> None:
    heard = three()
    assert correct_class(heard, ()) is heard


# --- intervals -----------------------------------------------------------------------------


def test_a_moved_end_is_exact_and_judged_anew() -> None:
    first = corrected(MovedEdge("i1", "end", 69_000))[0]
    assert first.end is not None
    assert (first.end.low_ms, first.end.at_ms, first.end.high_ms) == (69_000,) * 3
    assert (first.length_ms, first.timing) == (49_000, "long")
    assert first.by_coach
    assert first.rest_after_ms == 11_000


def test_a_moved_start_changes_the_rest_before_it() -> None:
    intervals = corrected(MovedEdge("i2", "start", 90_000))
    assert intervals[0].rest_after_ms == 30_000
    assert not intervals[0].by_coach


def test_the_later_of_two_corrections_counts() -> None:
    first = corrected(MovedEdge("i1", "end", 69_000), MovedEdge("i1", "end", 60_000))[0]
    assert (first.length_ms, first.timing) == (40_000, "on time")


def test_an_edge_never_crosses_the_other() -> None:
    assert corrected(MovedEdge("i1", "end", 10_000)) == three().intervals


def test_an_interval_that_is_not_there_is_left_out() -> None:
    assert corrected(MovedEdge("i9", "end", 10_000), NamedMove("i9", "Lunge")) == three().intervals


def test_another_move_makes_it_swapped_and_its_own_makes_it_done() -> None:
    swapped = corrected(NamedMove("i1", "Lunge"))[0]
    assert (swapped.status, swapped.move_done, swapped.move) == ("swapped", "Lunge", "Squat")
    done = corrected(NamedMove("i1", "Lunge"), NamedMove("i1", "Squat"))[0]
    assert (done.status, done.move_done) == ("done", "Squat")


def test_no_move_at_all_makes_a_planned_interval_skipped() -> None:
    first = corrected(NamedMove("i1", ""))[0]
    assert (first.status, first.start, first.end, first.timing) == ("skipped", None, None, None)


def test_a_skipped_interval_is_done_from_when_to_when_the_coach_says() -> None:
    first = corrected(NamedMove("i1", ""), DoneInterval("i1", 21_000, 70_000))[0]
    assert (first.status, first.timing, first.by_coach) == ("done", "long", True)
    assert first.start is not None
    assert (first.start.low_ms, first.start.high_ms) == (21_000, 21_000)
    assert (first.length_low_ms, first.length_ms, first.length_high_ms) == (49_000,) * 3
    assert first.rest_after_ms == 10_000
    swapped = corrected(DoneInterval("i1", 21_000, 70_000), NamedMove("i1", "Lunge"))[0]
    assert (swapped.status, swapped.move_done) == ("swapped", "Lunge")


def test_an_interval_that_was_heard_since_lies_where_the_coach_says_it_was_done() -> None:
    first = corrected(NamedMove("i1", "Lunge"), DoneInterval("i1", 21_000, 61_000))[0]
    assert (first.status, first.done_instead, first.timing) == ("swapped", "Lunge", "on time")
    assert corrected(DoneInterval("i1", 21_000, 21_000)) == three().intervals


def test_there_is_no_rest_where_intervals_overlap() -> None:
    intervals = corrected(MovedEdge("i1", "end", 81_000))
    assert intervals[0].rest_after_ms == 0


def test_an_added_interval_is_named_or_taken_away() -> None:
    heard = three()
    added = replace(heard.intervals[2], id="added-3", plan_row=None, status="added", move="")
    heard = replace(heard, intervals=(*heard.intervals[:2], added))
    named = correct_class(heard, (NamedMove("added-3", "Burpee"),)).intervals[2]
    assert (named.status, named.move) == ("added", "Burpee")
    assert len(correct_class(heard, (NamedMove("added-3", ""),)).intervals) == 2


@given(
    st.lists(
        st.one_of(
            st.builds(
                MovedEdge,
                st.sampled_from(["i1", "i2", "i3", "i9"]),
                st.sampled_from(["start", "end"]),
                st.integers(0, 300_000),
            ),
            st.builds(
                DoneInterval,
                st.sampled_from(["i1", "i2", "i9"]),
                st.integers(0, 300_000),
                st.integers(0, 300_000),
            ),
            st.builds(
                NamedMove, st.sampled_from(["i1", "i2"]), st.sampled_from(["", "Squat", "Lunge"])
            ),
        ),
        max_size=8,
    )
)
def test_whatever_is_corrected_every_interval_stays_whole(corrections: list[Correction]) -> None:
    intervals = correct_class(three(), corrections).intervals
    assert [one.id for one in intervals] == ["i1", "i2", "i3"]
    for one in intervals:
        assert (one.start is None) == (one.end is None) == (one.status == "skipped")
        if one.start is not None and one.end is not None:
            assert one.start.at_ms < one.end.at_ms
            assert one.length_low_ms is not None
            assert one.length_high_ms is not None
            assert one.length_low_ms <= (one.length_ms or 0) <= one.length_high_ms


# --- points and other findings ---------------------------------------------------------------


def test_a_point_marked_as_said_has_the_words_that_said_it() -> None:
    mark = MarkedPoint("Squat", "knees out", "said", 4000, "track those toes")
    point = correct_points((SQUAT,), (mark,))[0].points[0]
    assert (point.verdict, point.by_coach) == ("said", True)
    assert point.evidence == (Evidence(4000, "track those toes"),)


def test_a_point_marked_as_missing_loses_its_words() -> None:
    point = correct_points((SQUAT,), (MarkedPoint("Squat", "heels down", "missing"),))[0].points[1]
    assert (point.verdict, point.evidence, point.by_coach) == ("missing", (), True)


def test_a_point_of_another_move_is_not_marked() -> None:
    assert correct_points((SQUAT,), (MarkedPoint("Row", "knees out", "said"),)) == (SQUAT,)


def test_what_is_set_aside_is_seen_with_its_reason_and_does_not_stand() -> None:
    calls = (TimeCall(1000, "ten left", None, 10_000, 3000, "wrong"),)
    aside = put_aside(calls, (SetAside(key_of(calls[0]), "said to the cat"),))
    assert aside[0].set_aside == "said to the cat"
    assert standing(aside) == ()
    assert standing(put_aside(aside, ())) == calls


def test_a_point_set_aside_does_not_stand() -> None:
    aside = SetAside(key_of_point("Squat", "knees out"), "not for this group")
    moves = correct_points((SQUAT,), (aside,))
    assert moves[0].points[0].set_aside == "not for this group"
    assert [one.point for one in standing_points(moves)[0].points] == ["heels down"]


def test_a_length_set_aside_is_not_judged_and_keeps_its_verdict_to_be_seen() -> None:
    heard = heard_class([Row("Squat", 20, 55), Row("Row", 95)])
    heard = correct_class(heard, (SetAside(key_of(heard.intervals[0]), "meant to"),))
    assert heard.intervals[0].timing == "long"
    assert [one.timing for one in standing_class(heard).intervals] == [None, "on time"]


@pytest.mark.parametrize("rounds", [1, 3])
def test_every_finding_of_a_class_has_a_key_of_its_own(rounds: int) -> None:
    intervals = heard_class(circuit(rounds=rounds)).intervals
    assert len({key_of(one) for one in intervals}) == len(intervals)
