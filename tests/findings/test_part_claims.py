"""Which lengths that were promised the plan takes for those of a warm-up or a cool-down."""

import pytest

from reviewkit.findings.part_claims import part_as_planned
from tests.findings.classes import Row, circuit, claim, heard_class

ROWS = [
    Row("Circles", 10, 60, 60, 0, kind="warm-up", block="Start"),
    Row("March", 70, 60, 60, 0, kind="warm-up", block="Start"),
    *circuit(),
    Row("Fold", 900, 200, 200, 0, kind="cool-down", block="End"),
]


@pytest.mark.parametrize(
    ("ref", "value"),
    [
        ("length", 90),
        ("length", 40),
        ("maybe_cool_length", 120),
        ("maybe_warm_length", 700),
        ("warm_length", 90),
        ("minutes", 20),
    ],
)
def test_what_stays_as_it_is(ref: str, value: float) -> None:
    mark = claim(ref, value)
    assert part_as_planned(heard_class(ROWS), mark) == mark


@pytest.mark.parametrize(
    ("ref", "value", "becomes", "amount"),
    [
        ("length", 120, "warm_length", 120),
        ("minutes", 2, "warm_length", 120),
        ("length", 200, "cool_length", 200),
        ("maybe_warm_length", 130, "warm_length", 130),
        ("maybe_warm_length", 300, "warm_length", 300),
        ("maybe_cool_length", 270, "cool_length", 270),
        ("warm_length", 900, "minutes", 15),
    ],
)
def test_what_the_plan_tells(ref: str, value: float, becomes: str, amount: float) -> None:
    mark = part_as_planned(heard_class(ROWS), claim(ref, value))
    assert (mark.ref, mark.value) == (becomes, amount)
