"""A part that was promised with so much in it, and had less."""

from __future__ import annotations

import pytest

from reviewkit.findings.promises import judge_promises
from reviewkit.model import Mark
from tests.findings.classes import Row, circuit, heard_class
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
