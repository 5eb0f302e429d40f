from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.timing import CALLED, Spread, add, exactly, gather, judge_timing


def lengths(*shares: tuple[float, float]) -> Spread:
    """Make a spread of lengths in seconds, each with its share."""
    return gather([1000 * at_s for at_s, _ in shares], [share for _, share in shares])


def spreads() -> st.SearchStrategy[Spread]:
    some = st.tuples(st.floats(0, 90), st.floats(0.01, 1))
    return st.lists(some, min_size=1, max_size=8).map(lambda shares: lengths(*shares))


# --- verdicts --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("shares", "timing"),
    [
        (((40, 1.0),), "on time"),
        (((37, 0.5), (43, 0.5)), "on time"),
        (((40, 0.10), (48, 0.90)), "long"),
        (((30, 0.90), (40, 0.10)), "short"),
        (((40, 0.25), (48, 0.75)), "unclear"),
        (((30, 0.50), (48, 0.50)), "unclear"),
    ],
)
def test_a_verdict_needs_most_of_the_weight(
    shares: tuple[tuple[float, float], ...], timing: str
) -> None:
    assert judge_timing(40_000, lengths(*shares), 3000) == timing


@pytest.mark.parametrize(
    ("planned_s", "length_s", "tolerance_s", "timing"),
    [
        (20, 22.9, None, "on time"),
        (20, 23.1, None, "long"),
        (100, 107.9, None, "on time"),
        (100, 108.1, None, "long"),
        (100, 104, 3, "long"),
        (20, 25, 6, "on time"),
    ],
)
def test_tolerance_is_three_seconds_or_eight_in_a_hundred(
    planned_s: float, length_s: float, tolerance_s: float | None, timing: str
) -> None:
    tolerance_ms = None if tolerance_s is None else round(1000 * tolerance_s)
    assert judge_timing(round(1000 * planned_s), exactly(1000 * length_s), tolerance_ms) == timing


@given(spreads())
def test_a_wider_tolerance_never_finds_more_drift(found: Spread) -> None:
    drifts = [judge_timing(40_000, found, ms) in ("long", "short") for ms in range(0, 30_000, 3000)]
    assert drifts == sorted(drifts, reverse=True)


@given(spreads())
def test_long_and_short_are_mirror_images(found: Spread) -> None:
    mirrored = Spread(80_000 - found.at_ms[::-1], found.weights[::-1])
    turned = {"long": "short", "short": "long"}
    timing = judge_timing(40_000, found, 3000)
    assert judge_timing(40_000, mirrored, 3000) == turned.get(timing, timing)


def test_doubt_never_makes_a_verdict() -> None:
    """Weight taken from the best answer can only turn it unclear."""
    for doubt in np.linspace(0.01, 0.51, 11):
        timing = judge_timing(40_000, lengths((50, 1 - doubt), (40, doubt)), 3000)
        assert timing == ("long" if 1 - doubt >= CALLED["words"] else "unclear")


# --- spreads ---------------------------------------------------------------------------


@given(spreads(), spreads())
def test_means_add_up(one: Spread, other: Spread) -> None:
    total = add(one, other)
    assert total.weights.sum() == pytest.approx(1)
    mean = float(total.at_ms @ total.weights)
    parts = float(one.at_ms @ one.weights) + float(other.at_ms @ other.weights)
    assert mean == pytest.approx(parts, abs=120)


@given(spreads(), st.floats(0, 90_000))
def test_below_and_above_share_the_weight(found: Spread, limit_ms: float) -> None:
    at_limit = float(found.weights[found.at_ms == limit_ms].sum())
    assert found.below(limit_ms) + found.above(limit_ms) + at_limit == pytest.approx(1)
