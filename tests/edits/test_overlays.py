from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from reviewkit.edits.lines_to_record import find_lines
from reviewkit.edits.overlays import LEAST_SHOWN_MS, LINE_CHARS, find_overlays, wrap_text
from reviewkit.edits.records import Overlay
from reviewkit.model import PointFinding, TimeCall
from reviewkit.rehearse.speaking import USUAL_RATE
from reviewkit.times import Span
from tests.edits.classes import move, review
from tests.findings.classes import Row


def overlays(
    *points: str, calls: tuple[TimeCall, ...] = (), length_s: float = 40
) -> tuple[Overlay, ...]:
    found = tuple(PointFinding(point, "form", "plan", "missing") for point in points)
    made = review([Row("Squat", 10, length_s)], moves=(move("Squat", *found),), calls=calls)
    return find_overlays(made, find_lines(made, USUAL_RATE, {}))


def wrong(at_ms: int, interval: str | None = "i1") -> TimeCall:
    return TimeCall(at_ms, "ten left", interval, 10_000, 50_000 - at_ms, "wrong")


def test_a_wrong_call_is_answered_by_the_true_time_at_the_next_whole_second() -> None:
    (shown,) = overlays(calls=(wrong(21_400),))
    assert shown.shown.span.start_ms == 22_000
    assert shown.shown.lines == ("28 seconds left",)


def test_other_calls_need_none() -> None:
    right = TimeCall(40_000, "ten left", "i1", 10_000, 10_000, "right")
    aside = TimeCall(21_400, "ten left", "i1", 10_000, 28_600, "wrong", set_aside="no")
    assert overlays(calls=(right, aside, wrong(49_500), wrong(20_000, None))) == ()


def test_points_come_from_the_start_of_the_interval_one_after_the_other() -> None:
    first, second = overlays("chest tall", "flat back")
    assert first.shown.span == Span(10_000, 10_000 + LEAST_SHOWN_MS)
    assert second.shown.span.start_ms == first.shown.span.end_ms
    assert first.why == "Squat: “chest tall” was missing"


@given(
    points=st.lists(st.text("abc ", min_size=3, max_size=90).filter(str.strip), max_size=9),
    moments=st.lists(st.integers(10_000, 31_000), max_size=4),
    length_s=st.integers(1, 40),
)
def test_no_two_captions_are_shown_at_once_and_no_point_is_lost(
    points: list[str], moments: list[int], length_s: int
) -> None:
    calls = tuple(wrong(at_ms) for at_ms in sorted(moments))
    shown = overlays(*points, calls=calls, length_s=length_s)
    for before, after in pairwise(shown):
        assert before.shown.span.end_ms <= after.shown.span.start_ms
    assert all(
        10_000 <= one.shown.span.start_ms < one.shown.span.end_ms <= 10_000 + 1000 * length_s
        for one in shown
    )
    said = " ".join(one.why for one in shown)
    assert all(f"“{' '.join(point.split())}”" in said for point in points)


def test_long_text_is_broken_between_words() -> None:
    text = "keep your front knee right above your ankle all the way down"
    assert all(len(line) <= LINE_CHARS for line in wrap_text(text))
    assert " ".join(wrap_text(text)) == text
