from dataclasses import replace
from typing import Literal

import pytest

from reviewkit.findings.time_calls import judge_time_calls
from reviewkit.model import Edge, HeardClass, Interval, Lexicon, Mark, Plan
from tests.talking import talk


def interval(*, planned_ms: int | None = 40_000, unsure_ms: int = 0) -> Interval:
    def edge(at_ms: int) -> Edge:
        return Edge(at_ms, at_ms - unsure_ms, at_ms + unsure_ms)

    return Interval(
        id="i1", plan_row=1, block="Main", kind="work", round=1, move="Squat", side="",
        planned_ms=planned_ms, status="done", start=edge(100_000), end=edge(140_000),
        length_low_ms=40_000, length_high_ms=40_000, timing="on time", planned_rest_ms=None,
        rest_after_ms=None,
    )  # fmt: skip


def heard(
    ref: str,
    value: float | None,
    end_ms: int,
    *,
    unsure_ms: int = 0,
    planned_ms: int | None = 40_000,
    kind: str = "time_call",
) -> HeardClass:
    words = talk("ten left", start_ms=end_ms - 750)
    mark = Mark(kind, 0, 1, end_ms - 750, end_ms, "ten left", ref, value)
    only = interval(planned_ms=planned_ms, unsure_ms=unsure_ms)
    return HeardClass(Plan("plan", ()), words, (mark,), (only,), Lexicon((), (), {}))


@pytest.mark.parametrize("end_ms", [80_000, 98_000, 145_000])
def test_calls_outside_intervals_are_left_out(end_ms: int) -> None:
    assert judge_time_calls(heard("left", 10, end_ms)) == ()


@pytest.mark.parametrize(
    ("value", "kind", "is_call"),
    [(10, "time_call", True), (20, "time_call", False), (10, "maybe_call", False)],
)
def test_a_plain_call_after_an_end_that_may_be_as_late_as_it_says_is_unclear(
    value: float, kind: str, *, is_call: bool
) -> None:
    calls = judge_time_calls(heard("left", value, 145_000, unsure_ms=16_000, kind=kind))
    assert [(call.interval, call.verdict) for call in calls] == [("i1", "unclear")] * is_call


@pytest.mark.parametrize(
    ("ref", "value", "end_ms", "claimed_ms", "verdict"),
    [
        ("left", 10, 130_000, 10_000, "right"),
        ("left", 10, 134_900, 10_000, "right"),
        ("left", 10, 135_000, 10_000, "wrong"),
        ("left", 10, 120_000, 10_000, "wrong"),
        ("halfway", None, 120_000, 20_000, "right"),
        ("halfway", None, 130_000, 20_000, "wrong"),
        ("gone", 30, 130_000, 10_000, "right"),
        ("gone", 60, 130_000, None, "unclear"),
        ("left", 120, 130_000, None, "unclear"),
        ("share", 0.25, 130_000, 10_000, "right"),
        ("share", 0.25, 120_000, 10_000, "wrong"),
        ("left", 60, 120_000, 60_000, "wrong"),
        ("reps", None, 130_000, None, "unclear"),
        ("class", 600, 130_000, None, "unclear"),
    ],
)
def test_claim_against_truth(
    ref: str,
    value: float | None,
    end_ms: int,
    claimed_ms: int | None,
    verdict: Literal["right", "wrong", "unclear"],
) -> None:
    (call,) = judge_time_calls(heard(ref, value, end_ms))
    assert (call.claimed_left_ms, call.verdict) == (claimed_ms, verdict)
    assert call.actual_left_ms == 140_000 - end_ms
    assert call.interval == "i1"


def test_coarse_clock_cannot_tell() -> None:
    (call,) = judge_time_calls(heard("left", 10, 136_000, unsure_ms=6000))
    assert call.verdict == "unclear"


@pytest.mark.parametrize(
    ("unsure_ms", "verdict"), [(0, "wrong"), (2_400, "wrong"), (3_400, "unclear")]
)
def test_a_call_is_wrong_only_well_beyond_all_ends_that_are_likely(
    unsure_ms: int, verdict: str
) -> None:
    (call,) = judge_time_calls(heard("left", 10, 124_000, unsure_ms=unsure_ms))
    assert call.verdict == verdict


def test_unplanned_interval_is_held_to_its_own_length() -> None:
    (call,) = judge_time_calls(heard("halfway", None, 120_000, planned_ms=None))
    assert call.verdict == "right"


@pytest.mark.parametrize(
    ("end_ms", "is_call"), [(130_000, True), (132_900, True), (120_000, False)]
)
def test_what_may_be_a_call_counts_when_it_comes_true(end_ms: int, *, is_call: bool) -> None:
    calls = judge_time_calls(heard("left", 10, end_ms, kind="maybe_call"))
    assert [call.verdict for call in calls] == ["right"] * is_call


def test_what_may_be_a_call_is_one_where_the_end_may_lie_as_it_says() -> None:
    sure, vague = (
        heard("left", 10, 124_000, unsure_ms=one, kind="maybe_call") for one in (0, 14_000)
    )
    assert [len(judge_time_calls(one)) for one in (sure, vague)] == [0, 1]


def test_what_is_mostly_no_call_has_to_come_true_to_the_second() -> None:
    only = heard("left", 10, 132_000, unsure_ms=20_000, kind="maybe_call")
    faint = replace(only, marks=tuple(replace(mark, weight=0.2) for mark in only.marks))
    assert [len(judge_time_calls(one)) for one in (only, faint)] == [1, 0]


def two_readings(plain: Mark, maybe: Mark) -> list[tuple[int | None, str]]:
    only = heard("left", 10, 130_000)
    both = HeardClass(only.plan, only.talk, (plain, maybe), only.intervals, only.lexicon)
    return [(call.claimed_left_ms, call.verdict) for call in judge_time_calls(both)]


def test_plain_call_is_not_heard_twice() -> None:
    plain = Mark("time_call", 0, 1, 129_250, 130_000, "ten left", "left", 10)
    maybe = Mark("maybe_call", 0, 0, 129_250, 129_600, "ten", "left", 10)
    assert two_readings(plain, maybe) == [(10_000, "right")]


def test_five_or_six_more_seconds_are_one_call() -> None:
    plain = Mark("time_call", 1, 1, 132_600, 134_000, "six more seconds", "left", 6)
    maybe = Mark("maybe_call", 0, 0, 132_250, 132_500, "five", "left", 5)
    assert two_readings(plain, maybe) == [(6_000, "right")]


def test_false_call_stays_false_beside_what_may_be_one() -> None:
    plain = Mark("time_call", 0, 1, 129_250, 130_000, "twenty left", "left", 20)
    maybe = Mark("maybe_call", 0, 0, 129_250, 129_600, "ten", "left", 10)
    assert two_readings(plain, maybe) == [(20_000, "wrong")]


def test_clock_may_count_up() -> None:
    plain = Mark("time_call", 0, 1, 129_250, 130_000, "thirty on the clock", "left", 30)
    maybe = Mark("maybe_call", 0, 1, 129_250, 130_000, "thirty on the clock", "gone", 30)
    assert two_readings(plain, maybe) == [(10_000, "right")]
