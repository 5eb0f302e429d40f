from dataclasses import replace
from typing import Literal

import pytest

from reviewkit.findings.coarse_calls import is_taken_back, likely_off_ms, two_views, wrong_from_ms
from reviewkit.findings.time_calls import judge_time_calls
from reviewkit.model import Edge, HeardClass, Interval, Lexicon, Mark, Plan, Talk, Word
from tests.lexicon import flat_lexicon
from tests.talking import talk

INTERVAL = Interval(
    id="i1", plan_row=1, block="Main", kind="work", round=1, move="Squat", side="",
    planned_ms=40_000, status="done", start=Edge(100_000, 95_000, 105_000),
    end=Edge(140_000, 135_000, 145_000), length_low_ms=30_000, length_high_ms=50_000,
    timing="unclear", planned_rest_ms=None, rest_after_ms=None,
)  # fmt: skip


def words(before: int, after: int, call_ms: int) -> tuple[Word, ...]:
    """Give so many words in the interval until a call's end and from there on."""
    starts = [100_000 + at * (call_ms - 100_000) // before for at in range(before)]
    starts += [call_ms + at * (140_000 - call_ms) // max(1, after) for at in range(after)]
    return tuple(Word("go", "go", at, at + 100, 6000) for at in starts)


def call(at_ms: int) -> Mark:
    """Give the call "ten left", over at a moment."""
    return Mark("time_call", 0, 0, at_ms - 700, at_ms, "ten left", "left", 10)


def test_words_spread_evenly_tell_what_the_clock_tells() -> None:
    assert two_views(call(120_000), INTERVAL, 10_000, words(20, 20, 120_000)) == (10_000, 10_000)


def test_an_interval_without_words_is_told_by_the_clock_alone() -> None:
    assert two_views(call(120_000), INTERVAL, 10_000, ()) == (10_000, -10_000)


def test_most_calls_are_right_so_both_views_count_for_less_than_they_say() -> None:
    assert 0 < likely_off_ms(10_000, 10_000) < 10_000
    assert -10_000 < likely_off_ms(-10_000, -10_000) < 0
    assert likely_off_ms(10_000, -10_000) < likely_off_ms(10_000, 10_000)


@pytest.mark.parametrize(
    ("at_ms", "before", "after", "verdict"),
    [
        (130_000, 30, 10, "right"),
        (118_000, 36, 4, "unclear"),
        (114_000, 14, 26, "wrong"),
        (120_000, 10, 40, "wrong"),
    ],
)
def test_a_call_in_a_block_is_wrong_where_clock_and_words_agree(
    at_ms: int, before: int, after: int, verdict: Literal["right", "unclear", "wrong"]
) -> None:
    assert judged(at_ms, before, after, INTERVAL) == verdict


@pytest.mark.parametrize(
    ("text", "owned"),
    [
        ("ten left no it isn't i was reading the wrong hand", True),
        ("ten left sorry carry on", True),
        ("ten left and keep that chest proud", False),
        ("sorry i was late ten left lovely", False),
    ],
)
def test_a_coach_owns_up_after_a_call(text: str, owned: bool) -> None:
    said = talk(text)
    last = text.split().index("left")
    mark = Mark("time_call", last - 1, last, 0, 0, "ten left", "left", 10)
    assert is_taken_back(mark, said.words, flat_lexicon()) is owned


def test_less_is_asked_of_a_call_that_is_owned_up_to() -> None:
    assert 0 < wrong_from_ms(9000, is_owned_up=True) < wrong_from_ms(9000, is_owned_up=False)


@pytest.mark.parametrize(("kind", "verdict"), [("time_call", "wrong"), ("maybe_call", "unclear")])
def test_words_that_only_may_be_a_call_are_never_wrong(kind: str, verdict: str) -> None:
    vague = replace(INTERVAL, end=Edge(140_000, 120_000, 160_000))
    said = Talk(words(10, 30, 119_000), "blocks", 6000, 200_000)
    mark = replace(call(119_000), kind=kind)
    heard = HeardClass(Plan("plan", ()), said, (mark,), (vague,), Lexicon((), (), {}))
    assert [one.verdict for one in judge_time_calls(heard)] == [verdict]


def judged(at_ms: int, before: int, after: int, interval: Interval) -> str:
    """Judge the call "ten left" in an interval with so many words before and after it."""
    talk = Talk(words(before, after, at_ms), "blocks", 6000, 200_000)
    heard = HeardClass(Plan("plan", ()), talk, (call(at_ms),), (interval,), Lexicon((), (), {}))
    (found,) = judge_time_calls(heard)
    return found.verdict


def test_where_the_end_may_be_anywhere_the_same_call_is_unclear() -> None:
    vague = replace(INTERVAL, end=Edge(140_000, 110_000, 160_000))
    assert judged(120_000, 20, 20, INTERVAL) == "wrong"
    assert judged(120_000, 20, 20, vague) == "unclear"
