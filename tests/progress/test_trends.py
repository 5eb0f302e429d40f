from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence
from itertools import combinations, permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import kendalltau, theilslopes

from reviewkit.progress.trends import (
    MAX_EXACT,
    chance_of,
    correct_for_many,
    find_trends,
    slope_of,
)


def rises(values: Sequence[float]) -> int:
    return sum((b > a) - (b < a) for a, b in combinations(values, 2))


@given(st.lists(st.integers(0, 3), min_size=2, max_size=6))
def test_chance_is_that_of_all_orders_counted_one_by_one(values: list[int]) -> None:
    orders = [abs(rises(order)) for order in permutations(values)]
    as_much = sum(one >= abs(rises(values)) for one in orders) / len(orders)
    assert chance_of(values) == pytest.approx(as_much)


@pytest.mark.parametrize("size", [5, 8, 20, 50])
def test_chance_agrees_with_another_program_where_none_are_equal(size: int) -> None:
    values = random.Random(size).sample(range(1000), size)  # noqa: S311 - no secret
    assert chance_of(values) == pytest.approx(
        kendalltau(range(size), values, method="exact").pvalue
    )


def test_the_approximation_takes_over_without_a_step() -> None:
    values = [float(at % 7 + at / 20) for at in range(MAX_EXACT + 1)]
    assert chance_of(values) == pytest.approx(chance_of(values[:-1]), rel=0.5)
    assert chance_of([1.0] * (MAX_EXACT + 1)) == 1


def test_values_that_never_change_are_no_trend() -> None:
    assert chance_of([3, 3, 3, 3, 3]) == 1


@given(st.lists(st.integers(-50, 50), min_size=2, max_size=12))
def test_the_slope_agrees_with_another_program(values: list[int]) -> None:
    expected = theilslopes(values, range(len(values))).slope
    assert slope_of([*enumerate(values)]) == pytest.approx(expected)


def test_a_trend_of_few_whole_numbers_has_a_way_and_no_step() -> None:
    trend = find_trends({"one": [0] * 4 + [1] * 8})["one"]
    assert (trend.is_claimed, trend.slope, trend.direction) == (True, 0, 1)


def test_many_that_were_looked_at_are_allowed_for_by_holm() -> None:
    assert correct_for_many([0.01, 0.04, 0.03]) == pytest.approx([0.03, 0.06, 0.06])
    assert correct_for_many([0.9, 0.8]) == [1, 1]
    assert correct_for_many([]) == []


def test_under_five_classes_nothing_is_claimed() -> None:
    trend = find_trends({"timing": [1, 2, 3, 4]})["timing"]
    assert (trend.classes, trend.chance, trend.slope, trend.is_claimed) == (4, None, None, False)


def test_classes_without_the_figure_do_not_count() -> None:
    trend = find_trends({"timing": [1, None, 2, 3, None, 4]})["timing"]
    assert (trend.classes, trend.is_claimed) == (4, False)


def test_a_steady_rise_is_claimed_with_its_slope() -> None:
    trend = find_trends({"timing": [2 * at for at in range(8)]})["timing"]
    assert trend.is_claimed
    assert trend.slope == 2


def test_more_figures_need_more_of_a_trend() -> None:
    rising = [1, 2, 3, 4, 5]
    assert find_trends({"one": rising})["one"].is_claimed
    still = {f"other {at}": [7] * 5 for at in range(3)}
    assert not find_trends({"one": rising, **still})["one"].is_claimed


@pytest.mark.parametrize("classes", [5, 8, 15])
def test_classes_without_a_trend_seldom_show_one(classes: int) -> None:
    """Of years without any trend, fewer than one in twenty claims one, of thirteen figures."""
    chance = random.Random(classes)  # noqa: S311 - no secret
    years = 300
    claims = Counter(
        any(
            one.is_claimed
            for one in find_trends(
                {str(key): [chance.gauss(0, 1) for _ in range(classes)] for key in range(13)}
            ).values()
        )
        for _ in range(years)
    )
    assert claims[True] / years <= 0.05 + 0.025
