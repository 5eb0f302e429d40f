"""Which sides got how long where one interval holds both."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reviewkit.findings.switches import find_one_sided_intervals
from reviewkit.marks.sides import find_side_calls
from reviewkit.model import Clock, Flag, Talk
from reviewkit.read import read_lexicon
from tests.findings.classes import Row, heard_class
from tests.talking import talk

EACH = Row("Side plank", 100, side="each")


def flags(*said: tuple[float, str], rows: list[Row] | None = None) -> tuple[Flag, ...]:
    """Flag a class of one interval from 100 to 140 s in which lines are said, each at a second."""
    lexicon = read_lexicon()
    lines = [talk(text, start_ms=round(1000 * at_s)).words for at_s, text in sorted(said)]
    words = tuple(word for line in lines for word in line)
    marks = find_side_calls(Talk(words, "words", 100, 900_000), lexicon)
    return find_one_sided_intervals(
        heard_class(rows or [EACH], words=words, marks=marks, lexicon=lexicon)
    )


@pytest.mark.parametrize(
    "said",
    [
        pytest.param(((110, "keep the hips high"),), id="no call"),
        pytest.param(((119, "swap sides"),), id="at half time"),
        pytest.param(((117, "and swap sides"),), id="a little early"),
        pytest.param(((139.4, "other side"),), id="as it ends"),
        pytest.param(
            ((98, "left side first"), (103, "press the left hand down"), (119, "and the right")),
            id="the other side named at half time",
        ),
        pytest.param(
            ((119, "change over"), (131, "same height on this side")),
            id="the side spoken of once more",
        ),
    ],
)
def test_left_alone(said: tuple[tuple[float, str], ...]) -> None:
    assert flags(*said) == ()


def test_other_intervals_are_left_alone() -> None:
    assert flags((131, "swap sides"), rows=[Row("Squat", 100)]) == ()


@pytest.mark.parametrize("call", ["swap sides", "and change legs", "other side now", "switch"])
@pytest.mark.parametrize("at_s", [107, 130])
def test_a_change_far_from_the_middle_is_uneven(call: str, at_s: float) -> None:
    (flag,) = flags((102, "hips high"), (at_s, call), (134.5, "breathe out"))
    assert (flag.move, flag.at_ms) == ("Side plank", round(1000 * at_s))
    first, second = (float(part.split()[0]) for part in flag.text.split(" and "))
    assert first + second == pytest.approx(40, abs=1)
    assert (first < second) == (at_s < 120)


def test_the_other_side_named_late_is_a_change() -> None:
    (flag,) = flags((98, "left leg first"), (103, "left heel long"), (130, "and the right"))
    assert flag.at_ms == 130_000


def test_the_clearest_call_counts() -> None:
    assert flags((110, "that side of the room is cold"), (119.5, "other leg please")) == ()


def test_the_second_side_of_an_interval_cut_short_has_less() -> None:
    for planned_s, found in ((40, 1), (32, 0)):
        row = replace(EACH, length_s=32, work_s=planned_s)
        assert len(flags((118.7, "swap sides"), rows=[row])) == found


def test_a_side_said_to_stay_and_never_changed_is_one_sided() -> None:
    (flag,) = flags((120, "stay on this side"))
    assert flag.why == "The other side was never called."


@pytest.mark.parametrize("clock", ["words", "blocks"])
def test_a_change_said_to_come_late_is_uneven_by_any_clock(clock: Clock) -> None:
    lexicon = read_lexicon()
    words = talk("oh we never changed", start_ms=130_000, spread_ms=9_000).words
    marks = find_side_calls(Talk(words, clock, 100, 900_000), lexicon)
    heard = heard_class([EACH], words=words, marks=marks, clock=clock, lexicon=lexicon)
    assert len(find_one_sided_intervals(heard)) == 1


def test_a_late_change_may_be_owned_up_to_after_the_interval() -> None:
    for at_s, found in ((145, 1), (155, 0)):
        assert len(flags((119, "swap sides"), (at_s, "oh we never changed"))) == found


def test_a_coarse_clock_says_nothing() -> None:
    lexicon = read_lexicon()
    words = talk("swap sides", start_ms=130_000, spread_ms=9_000).words
    marks = find_side_calls(Talk(words, "blocks", 100, 900_000), lexicon)
    heard = heard_class([EACH], words=words, marks=marks, clock="blocks", lexicon=lexicon)
    assert find_one_sided_intervals(heard) == ()


@pytest.mark.parametrize(("length_s", "calls", "found"), [(28, 2, 1), (28, 1, 0), (38, 2, 0)])
def test_an_early_end_without_the_usual_call_is_one_sided(
    length_s: float, calls: int, found: int
) -> None:
    rows = [
        EACH,
        replace(EACH, move="Clam", start_s=200),
        replace(EACH, move="Bird dog", start_s=300, length_s=length_s),
    ]
    said = ((119, "swap sides"), (219, "swap sides"))[:calls]
    assert [flag.move for flag in flags(*said, rows=rows)] == ["Bird dog"] * found
