from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.edits.records import Stretch
from reviewkit.edits.running import OPENING, chapters, find_stretches, stamped_list, timer
from reviewkit.times import Span
from tests.edits.classes import review
from tests.findings.classes import COOL_DOWN, WARM_UP, Row, circuit


def titles(rows: list[Row]) -> list[tuple[int, str]]:
    made = chapters(find_stretches(review(rows)), 2_000_000)
    return [(one.span.start_ms // 1000, *one.lines) for one in made]  # type: ignore[misc]


def test_a_class_without_intervals_has_neither_chapters_nor_a_timer() -> None:
    assert find_stretches(review([])) == ()
    assert chapters((), 60_000) == ()
    assert timer(()) == ()
    assert stamped_list(()) == ""


def test_every_interval_that_happened_is_a_chapter_by_what_was_done() -> None:
    rows = [
        WARM_UP,
        Row("Squat", 120, side="left"),
        Row("Plank", None),
        Row("Lunge", 180, instead="Star jump"),
        COOL_DOWN,
    ]
    assert titles(rows) == [
        (0, OPENING),
        (30, "Warm-up: March"),
        (120, "Main: Squat, left"),
        (180, "Main: Star jump"),
        (900, "Cool-down: Calf stretch"),
    ]


def test_rounds_are_named_where_there_are_several_and_a_lone_part_is_not() -> None:
    named = [title for _, title in titles(circuit(("Squat",), rounds=2))]
    assert named[1:] == ["Main, round 1: Squat", "Main, round 2: Squat"]
    assert titles([Row("Squat", 0)]) == [(0, "Squat")]


def test_chapters_follow_each_other_to_the_end_of_the_video() -> None:
    made = chapters(find_stretches(review([WARM_UP, Row("Squat", 120)])), 500_000)
    assert all(before.span.end_ms == after.span.start_ms for before, after in pairwise(made))
    assert (made[0].span.start_ms, made[-1].span.end_ms) == (0, 500_000)


def test_the_list_begins_at_nought_and_has_a_line_a_chapter() -> None:
    made = chapters(find_stretches(review([WARM_UP, Row("Squat", 120.9)])), 500_000)
    assert stamped_list(made) == "0:00 Introduction\n0:30 Warm-up: March\n2:00 Main: Squat\n"


def test_an_interval_ends_where_the_next_begins_and_leaves_no_rest() -> None:
    first, second = find_stretches(review([Row("Squat", 10, 50), Row("Lunge", 55, 40)]))
    assert (first.span, second.span) == (Span(10_000, 55_000), Span(55_000, 95_000))


def test_the_timer_counts_work_and_rest_down_to_their_ends() -> None:
    rows = [Row("Squat", 10, 2.4), Row("Lunge", 13.4, 1)]
    shown = [
        (one.span.start_ms, one.span.end_ms, *one.lines)
        for one in timer(find_stretches(review(rows)))
    ]
    assert shown == [
        (10_000, 10_400, "0:03", "Squat"),
        (10_400, 11_400, "0:02", "Squat"),
        (11_400, 12_400, "0:01", "Squat"),
        (12_400, 13_400, "Rest 0:01", "Next: Lunge"),
        (13_400, 14_400, "0:01", "Lunge"),
    ]


@given(start_ms=st.integers(0, 10**7), length_ms=st.integers(1, 300_000))
def test_the_timer_is_true_at_every_moment(start_ms: int, length_ms: int) -> None:
    whole = Span(start_ms, start_ms + length_ms)
    ticks = timer((Stretch(whole, "Main", "Squat"),))
    assert (ticks[0].span.start_ms, ticks[-1].span.end_ms) == (whole.start_ms, whole.end_ms)
    assert all(before.span.end_ms == after.span.start_ms for before, after in pairwise(ticks))
    for tick in ticks:
        minutes, seconds = tick.lines[0].split(":")
        left_ms = 1000 * (60 * int(minutes) + int(seconds))
        assert left_ms == pytest.approx(whole.end_ms - tick.span.end_ms + 1000, abs=0)
