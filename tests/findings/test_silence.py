import pytest

from reviewkit.findings.silence import find_dead_air
from reviewkit.model import HeardClass, PlanKind
from tests.findings.classes import Row, heard_class
from tests.talking import talk


def heard(text: str, *, kind: PlanKind = "work", start_s: float = 100) -> HeardClass:
    words = talk(text, start_ms=100_000).words
    return heard_class([Row("Squat", start_s, kind=kind)], words=words)


@pytest.mark.parametrize(
    "one",
    [
        pytest.param(heard("sit low [15] push up [15] and rest"), id="short pauses"),
        pytest.param(heard("sit low [12] (exhales) [12] push up [10] rest"), id="a breath"),
        pytest.param(heard("breathe [35] and up", kind="cool-down"), id="a silent cool-down"),
        pytest.param(heard("go [12] up [15] [30] stop", start_s=84), id="after the end"),
    ],
)
def test_left_alone(one: HeardClass) -> None:
    assert find_dead_air(one) == ()


def test_a_long_silence_is_flagged_with_the_words_before_it() -> None:
    (flag,) = find_dead_air(heard("sit low [25] push up [9] rest"))
    assert flag.at_ms == 100_750
    assert flag.text == "silence after: sit low"
    assert flag.move == "Squat"


def test_an_interval_without_a_word_is_silent_from_its_start() -> None:
    (flag,) = find_dead_air(heard_class([Row("Squat", 100)]))
    assert (flag.at_ms, flag.text) == (100_000, "silence")
