"""A part that was promised with so much in it, and had less."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reviewkit.findings.promises import judge_promises
from reviewkit.model import Mark
from tests.findings.classes import Row, circuit, claim, heard_class
from tests.talking import talk

END_S = 900
HIP = Row("Hip stretch", END_S, 30, 30, kind="cool-down", block="End")
CALF = Row("Calf stretch", END_S + 40, 30, 30, kind="cool-down", block="End")
CALF_LEFT_OUT = Row("Calf stretch", None, 30, 30, kind="cool-down", block="End")


def verdict(said: str, *end: Row) -> str:
    words = talk(said).words
    at = next(place for place, word in enumerate(words) if word.norm.startswith("stretch"))
    mark = Mark("promise", at, at, 5_000, 6_000, said, "cool_down", None, 0.8)
    found = judge_promises(heard_class([*circuit(), *end], words=words, marks=(mark,)))
    return found[0].verdict


@pytest.mark.parametrize(
    "said",
    [
        "there is a stretch at the end",
        "and a nice long stretch to finish",
        "we finish with a hip stretch",
    ],
)
def test_one_stretch_is_kept_by_one(said: str) -> None:
    assert verdict(said, HIP, CALF_LEFT_OUT) == "kept"


@pytest.mark.parametrize(
    "said",
    [
        "two lovely stretches at the end",
        "a couple of stretches and home",
        "we finish with a hip stretch and a stretch for the legs",
        "and at the end we stretch those calf muscles",
    ],
)
def test_what_was_promised_and_left_out_breaks_it(said: str) -> None:
    assert verdict(said, HIP, CALF_LEFT_OUT) == "broken"
    assert verdict(said, HIP, CALF) == "kept"


def test_what_comes_at_the_end_is_the_cool_down_that_was_planned() -> None:
    said = "and at the end we sleep"
    mark = Mark("promise", 1, 3, 5_000, 6_000, said, "maybe_cool_down", None, 0.8)
    hip_left_out = Row("Hip stretch", None, 30, 30, kind="cool-down", block="End")
    for end, expected in (
        ((HIP, CALF), ["kept"]),
        ((hip_left_out, CALF_LEFT_OUT), ["broken"]),
        ((), []),
    ):
        heard = heard_class([*circuit(), *end], words=talk(said).words, marks=(mark,))
        assert [one.verdict for one in judge_promises(heard)] == expected


def test_a_warm_up_that_was_denied_is_promised_by_no_other_word() -> None:
    march = Row("March", None, 60, 60, kind="warm-up", block="Warm-up")
    rows = [march, *circuit(), HIP]
    denied = Mark("promise", 0, 1, 5_000, 6_000, "no warm-up", "no_warm_up", None, 0.8)
    called = Mark("promise", 4, 5, 8_000, 9_000, "call it a warm-up", "warm_up", None, 0.8)
    assert [one.verdict for one in judge_promises(heard_class(rows, marks=(called,)))] == ["broken"]
    both = judge_promises(heard_class(rows, marks=(denied, called)))
    assert [one.verdict for one in both] == ["kept"]


@pytest.mark.parametrize(
    ("rest_s", "expected"), [pytest.param(120, "kept"), pytest.param(60, "broken")]
)
def test_a_length_that_one_row_has_alone_is_of_that_row(rest_s: float, expected: str) -> None:
    rows = [
        *circuit(),
        Row("Child's pose", END_S, 50, 50, kind="cool-down", block="End"),
        Row("Lying rest", END_S + 60, rest_s, 120, kind="cool-down", block="End"),
    ]
    said = Mark("promise", 0, 1, 5_000, 6_000, "two minutes lying", "cool_length", 120, 0.8)
    assert judge_promises(heard_class(rows, marks=(said,)))[0].verdict == expected


def test_what_sounds_slow_in_the_warm_up_promises_no_cool_down() -> None:
    warm_up = Row("March", 30, 60, 60, 20, kind="warm-up", block="Warm-up")
    skipped = Row("Calf stretch", None, 30, 30, kind="cool-down", block="End")
    for at_ms, expected in ((5_000, ["broken"]), (50_000, [])):
        said = Mark("promise", 0, 1, at_ms, at_ms + 900, "breathe over", "cool_down", None, 0.8)
        heard = heard_class([warm_up, *circuit(), skipped], marks=(said,))
        assert [one.verdict for one in judge_promises(heard)] == expected


@pytest.mark.parametrize(
    ("said", "expected"),
    [("two full minutes of lying down", "broken"), ("two full minutes of easing off", "kept")],
)
def test_minutes_of_lying_down_are_not_filled_by_a_stretch(said: str, expected: str) -> None:
    mark = Mark("promise", 0, 2, 5_000, 6_000, said, "cool_length", 120.0, 0.8)
    lying = Row("Side-lying rest", END_S + 60, 60, 60, kind="cool-down", block="End")
    end = (replace(HIP, length_s=50, work_s=50), lying)
    heard = heard_class([*circuit(), *end], words=talk(said).words, marks=(mark,))
    assert judge_promises(heard)[0].verdict == expected


@pytest.mark.parametrize(("seconds", "found"), [(70, "kept"), (300, "broken")])
def test_a_length_of_the_cool_down_may_be_promised_as_it_comes(seconds: int, found: str) -> None:
    rows = [*circuit(), HIP, CALF]
    late = claim("cool_length", seconds, at_s=END_S - 30)
    assert [one.verdict for one in judge_promises(heard_class(rows, marks=(late,)))] == [found]


def test_ten_minutes_of_a_part_are_not_the_class() -> None:
    rows = [Row("March", 20, 60, 60, 30, kind="warm-up", block="Start"), *circuit(), HIP]
    told = judge_promises(heard_class(rows, marks=(claim("warm_length", 600),)))
    assert [(one.what, one.verdict) for one in told] == [("warm_up", "broken")]
