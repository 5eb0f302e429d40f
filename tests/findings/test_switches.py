from dataclasses import replace

import pytest

from reviewkit.findings.switches import find_one_sided_intervals
from reviewkit.model import Clock, Mark
from tests.findings.classes import Row, heard_class
from tests.talking import talk

EACH = Row("Side plank", 100, side="each")


def call(at_s: float, kind: str = "side_switch") -> Mark:
    at_ms = round(1000 * at_s)
    return Mark(kind, 0, 1, at_ms, at_ms + 500, "swap sides")


@pytest.mark.parametrize(
    "marks",
    [
        pytest.param((), id="no call heard"),
        pytest.param((call(120),), id="at half time"),
        pytest.param((call(117),), id="a little early"),
        pytest.param((call(110), call(130)), id="several changes"),
        pytest.param((call(139.5),), id="as it ends"),
        pytest.param((call(110, "side_same"), call(120)), id="stays and then changes"),
    ],
)
def test_left_alone(marks: tuple[Mark, ...]) -> None:
    assert find_one_sided_intervals(heard_class([EACH], marks=marks)) == ()


def test_other_intervals_are_left_alone() -> None:
    assert find_one_sided_intervals(heard_class([Row("Squat", 100)], marks=(call(133),))) == ()


def test_a_late_change_is_uneven() -> None:
    (flag,) = find_one_sided_intervals(heard_class([EACH], marks=(call(130),)))
    assert flag.text == "30 s and 10 s"
    assert (flag.move, flag.at_ms) == ("Side plank", 130_000)


def test_a_side_said_to_stay_and_never_changed_is_one_sided() -> None:
    (flag,) = find_one_sided_intervals(heard_class([EACH], marks=(call(120, "side_same"),)))
    assert flag.why == "The other side was never called."


def test_a_coarse_clock_says_nothing() -> None:
    words = talk("swap sides", spread_ms=9_000).words
    heard = heard_class([EACH], words=words, marks=(call(130),), clock="blocks")
    assert find_one_sided_intervals(heard) == ()


@pytest.mark.parametrize("clock", ["words", "blocks"])
def test_a_change_said_to_come_late_is_uneven_by_any_clock(clock: Clock) -> None:
    words = talk("oh we never changed", spread_ms=9_000).words
    for at_s, flags in ((110, 0), (130, 1)):
        marks = (call(at_s, "side_late"),)
        heard = heard_class([EACH], words=words, marks=marks, clock=clock)
        assert len(find_one_sided_intervals(heard)) == flags


def test_the_second_side_of_an_interval_cut_short_has_less() -> None:
    row = Row("Side plank", 100, length_s=32)
    for planned_s, flags in ((40, 1), (32, 0)):
        heard = heard_class([replace(row, side="each", work_s=planned_s)], marks=(call(118.5),))
        assert len(find_one_sided_intervals(heard)) == flags


def test_a_line_that_begins_like_a_change_counts_where_no_change_was_called() -> None:
    turn = call(130, "side_turn")
    (flag,) = find_one_sided_intervals(heard_class([EACH], marks=(turn,)))
    assert flag.text == "30 s and 10 s"
    assert find_one_sided_intervals(heard_class([EACH], marks=(call(120), turn))) == ()


def test_a_side_named_at_the_start_of_an_interval_is_no_change() -> None:
    assert find_one_sided_intervals(heard_class([EACH], marks=(call(104, "side_turn"),))) == ()


def test_sides_of_nearly_the_same_length_are_even() -> None:
    short = replace(EACH, length_s=20, work_s=20)
    assert find_one_sided_intervals(heard_class([short], marks=(call(112),))) == ()


@pytest.mark.parametrize(("length_s", "calls", "flags"), [(28, 2, 1), (28, 1, 0), (38, 2, 0)])
def test_an_early_end_without_the_usual_call_is_one_sided(
    length_s: float, calls: int, flags: int
) -> None:
    rows = [
        EACH,
        replace(EACH, move="Clam", start_s=200),
        replace(EACH, move="Bird dog", start_s=300, length_s=length_s),
    ]
    marks = (call(120), call(220))[:calls]
    found = find_one_sided_intervals(heard_class(rows, marks=marks))
    assert [flag.move for flag in found] == ["Bird dog"] * flags


def test_the_other_side_named_late_is_a_change() -> None:
    marks = (call(98, "side_left"), call(130, "side_right"))
    (flag,) = find_one_sided_intervals(heard_class([EACH], marks=marks))
    assert flag.text == "30 s and 10 s"


def wordy(mark: Mark) -> Mark:
    return replace(mark, last=7)


def test_one_side_named_late_and_nothing_else_is_a_change() -> None:
    (flag,) = find_one_sided_intervals(heard_class([EACH], marks=(call(130, "side_right"),)))
    assert flag.text == "30 s and 10 s"


def test_a_late_change_may_be_owned_up_to_after_the_interval() -> None:
    for at_s, flags in ((145, 1), (155, 0)):
        heard = heard_class([EACH], marks=(call(119), call(at_s, "side_late")))
        assert len(find_one_sided_intervals(heard)) == flags


@pytest.mark.parametrize(
    "marks",
    [
        pytest.param((call(98, "side_left"), call(121, "side_right")), id="at half time"),
        pytest.param((call(98, "side_left"), call(130, "side_left")), id="the same side"),
        pytest.param((wordy(call(130, "side_right")),), id="one side named in a long line"),
        pytest.param((call(118, "side_left"), call(130, "side_right")), id="none at the start"),
        pytest.param((call(98, "side_left"), call(120), call(130, "side_right")), id="called"),
    ],
)
def test_a_side_named_is_no_change_by_itself(marks: tuple[Mark, ...]) -> None:
    assert find_one_sided_intervals(heard_class([EACH], marks=marks)) == ()
