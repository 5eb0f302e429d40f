from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.timing import LEFT_OUT, Spread, add, gather, judge_timing, length_range


def lengths(*shares: tuple[float, float]) -> Spread:
    """Make a spread of lengths in seconds, each with its share."""
    return gather([1000 * at_s for at_s, _ in shares], [share for _, share in shares])


def spreads() -> st.SearchStrategy[Spread]:
    some = st.tuples(st.floats(0, 90), st.floats(0.01, 1))
    return st.lists(some, min_size=1, max_size=8).map(lambda shares: lengths(*shares))


# --- verdicts --------------------------------------------------------------------------


def judged(found: Spread, tolerance_ms: int | None = 3000) -> str:
    """Judge 40 planned seconds by the range of all lengths they may have had."""
    best_ms = round(found.quantile(0.5))
    return judge_timing(40_000, *length_range(found, best_ms, 0, "words"), tolerance_ms)


@pytest.mark.parametrize(
    ("shares", "timing"),
    [
        (((40, 1.0),), "on time"),
        (((37, 0.5), (43, 0.5)), "on time"),
        (((40, 0.30), (48, 0.70)), "long"),
        (((30, 0.70), (40, 0.30)), "short"),
        (((40, 0.45), (48, 0.55)), "long"),
        (((40, 0.49), (48, 0.51)), "unclear"),
        (((30, 0.50), (48, 0.50)), "unclear"),
    ],
)
def test_a_verdict_needs_most_of_the_weight(
    shares: tuple[tuple[float, float], ...], timing: str
) -> None:
    assert judged(lengths(*shares)) == timing


@pytest.mark.parametrize(
    ("low_s", "high_s", "timing"),
    [
        (44, 60, "long"),
        (43, 60, "unclear"),
        (20, 36, "short"),
        (20, 37, "unclear"),
        (37, 43, "on time"),
        (36, 40, "unclear"),
        (36, 44, "unclear"),
    ],
)
def test_a_verdict_needs_the_whole_range(low_s: int, high_s: int, timing: str) -> None:
    assert judge_timing(40_000, 1000 * low_s, 1000 * high_s, 3000) == timing


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
    planned_ms, length_ms = round(1000 * planned_s), round(1000 * length_s)
    assert judge_timing(planned_ms, length_ms, length_ms, tolerance_ms) == timing


@given(spreads())
def test_a_wider_tolerance_never_finds_more_drift(found: Spread) -> None:
    drifts = [judged(found, ms) in ("long", "short") for ms in range(0, 30_000, 3000)]
    assert drifts == sorted(drifts, reverse=True)


@given(st.floats(0, 80_000), st.floats(0, 80_000))
def test_long_and_short_are_mirror_images(one_ms: float, other_ms: float) -> None:
    low_ms, high_ms = sorted((round(one_ms), round(other_ms)))
    turned = {"long": "short", "short": "long"}
    timing = judge_timing(40_000, low_ms, high_ms, 3000)
    assert judge_timing(40_000, 80_000 - high_ms, 80_000 - low_ms, 3000) == turned.get(
        timing, timing
    )


def test_doubt_never_makes_a_verdict() -> None:
    """Weight taken from the best answer can only turn it unclear."""
    for doubt in np.linspace(0.01, 0.51, 11):
        timing = judged(lengths((50, 1 - doubt), (40, doubt)))
        assert timing == ("long" if doubt < LEFT_OUT["words"] else "unclear")


@given(spreads(), st.floats(0, 5000))
def test_a_range_holds_most_of_the_weight_and_reaches_far_enough(
    found: Spread, reach_ms: float
) -> None:
    best_ms = round(found.quantile(0.5))
    low_ms, high_ms = length_range(found, best_ms, reach_ms, "words")
    inside = (found.at_ms >= low_ms) & (found.at_ms <= high_ms)
    assert found.weights[inside].sum() >= 1 - 2 * LEFT_OUT["words"] - 1e-6
    assert low_ms <= max(0, best_ms - reach_ms) + 1
    assert high_ms >= best_ms + reach_ms - 1


# --- spreads ---------------------------------------------------------------------------


@given(spreads(), spreads())
def test_means_add_up(one: Spread, other: Spread) -> None:
    total = add(one, other)
    assert total.weights.sum() == pytest.approx(1)
    mean = float(total.at_ms @ total.weights)
    parts = float(one.at_ms @ one.weights) + float(other.at_ms @ other.weights)
    assert mean == pytest.approx(parts, abs=120)


@given(spreads(), st.floats(0, 1))
def test_a_quantile_has_its_share_of_the_weight_up_to_it(found: Spread, share: float) -> None:
    limit_ms = found.quantile(share)
    assert float(found.weights[found.at_ms <= limit_ms].sum()) >= share - 1e-6
    assert float(found.weights[found.at_ms < limit_ms].sum()) <= share + 1e-6
