from dataclasses import replace

import pytest

from reviewkit.findings.sides import find_side_imbalance
from tests.findings.classes import Row, heard_class

LEFT = Row("Clam", 100, side="left")
RIGHT = Row("Clam", 160, side="right")


@pytest.mark.parametrize(
    "rows",
    [
        pytest.param([LEFT, RIGHT], id="even"),
        pytest.param([LEFT, replace(RIGHT, length_s=43)], id="a little longer"),
        pytest.param([replace(LEFT, start_s=None), replace(RIGHT, start_s=None)], id="neither"),
        pytest.param([LEFT, replace(RIGHT, instead="Squat")], id="one side swapped"),
        pytest.param([LEFT, replace(RIGHT, work_s=20, length_s=20)], id="planned unevenly"),
        pytest.param([LEFT], id="planned on one side only"),
        pytest.param([LEFT, replace(RIGHT, round=2)], id="the sides in different rounds"),
    ],
)
def test_left_alone(rows: list[Row]) -> None:
    assert find_side_imbalance(heard_class(rows)) == ()


@pytest.mark.parametrize(
    ("right", "why"),
    [
        pytest.param(replace(RIGHT, length_s=28), "12 s less", id="cut short"),
        pytest.param(replace(RIGHT, start_s=None), "left out", id="never done"),
        pytest.param(replace(RIGHT, round=2, length_s=20), "20 s less", id="across rounds"),
    ],
)
def test_flagged(right: Row, why: str) -> None:
    (flag,) = find_side_imbalance(heard_class([LEFT, right]))
    assert flag.move == "Clam"
    assert why in flag.why
    assert "right side" in flag.why
    assert flag.instead.endswith("on the right.")


def test_a_coarse_clock_says_nothing_of_small_differences() -> None:
    rows = [LEFT, replace(RIGHT, length_s=32)]
    assert find_side_imbalance(heard_class(rows, unsure_s=5)) == ()


def test_each_uneven_round_is_flagged() -> None:
    rows = [
        LEFT,
        replace(RIGHT, length_s=33),
        replace(LEFT, start_s=300, round=2),
        replace(RIGHT, start_s=360, round=2, length_s=20),
    ]
    flags = find_side_imbalance(heard_class(rows))
    assert [(flag.round, flag.why.split(" got ")[1]) for flag in flags] == [
        (1, "7 s less."),
        (2, "20 s less."),
    ]


@pytest.mark.parametrize(("unsure_s", "flags"), [(1, 1), (2, 1), (6, 0)])
def test_a_difference_must_stand_out_from_what_is_unsure(unsure_s: float, flags: int) -> None:
    rows = [LEFT, replace(RIGHT, length_s=31)]
    assert len(find_side_imbalance(heard_class(rows, unsure_s=unsure_s))) == flags


def test_a_side_that_may_have_been_done_after_all_is_left_alone() -> None:
    heard = heard_class([LEFT, replace(RIGHT, start_s=None)])
    done, skipped = heard.intervals
    unsure = replace(heard, intervals=(done, replace(skipped, certainty=0.6)))
    assert find_side_imbalance(unsure) == ()


def test_beside_a_skipped_side_it_matters_little_which_one_was_done() -> None:
    heard = heard_class([LEFT, replace(RIGHT, start_s=None)])
    done, skipped = heard.intervals
    unsure = replace(heard, intervals=(replace(done, certainty=0.6), skipped))
    assert len(find_side_imbalance(unsure)) == 1
