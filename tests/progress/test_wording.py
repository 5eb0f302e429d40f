from __future__ import annotations

import pytest

from reviewkit.progress.figures import FIGURES, Unit
from reviewkit.progress.trends import Trend
from reviewkit.progress.wording import say_change, say_figure, say_trend
from reviewkit.report.wording import MINUS, NONE

BY_KEY = {one.key: one for one in FIGURES}


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [
        (None, "score", NONE),
        (83.6, "score", "84"),
        (0.0, "share", "0 %"),
        (0.024, "share", "2.4 %"),
        (0.7, "share", "70 %"),
        (-2.4, "seconds", f"{MINUS}2.4 s"),
        (3.21, "per_min", "3.2"),
        (2, "count", "2"),
    ],
)
def test_figures_are_written_in_their_unit(value: float | None, unit: Unit, said: str) -> None:
    assert say_figure(value, unit) == said


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [(0.001, "count", "±0"), (0.043, "share", "+4.3 %"), (-1, "seconds", f"{MINUS}1 s")],
)
def test_changes_have_a_sign(value: float, unit: Unit, said: str) -> None:
    assert say_change(value, unit) == said


@pytest.mark.parametrize(
    ("key", "slope", "said"),
    [
        ("timing", 2.0, "better, +2 a class"),
        ("timing", -2.0, f"worse, {MINUS}2 a class"),
        ("missing_share", -0.05, f"better, {MINUS}5 % a class"),
        ("cues_per_min", 0.3, "rising, +0.3 a class"),
    ],
)
def test_a_trend_says_which_way_is_better(key: str, slope: float, said: str) -> None:
    assert say_trend(BY_KEY[key], Trend(key, 9, 0.01, slope, True)) == said


def test_a_trend_that_chance_explains_is_none() -> None:
    assert say_trend(BY_KEY["timing"], Trend("timing", 9, 0.2, 5.0, False)) == "no trend"
    assert say_trend(BY_KEY["timing"], Trend("timing", 3, None, None, False)) == "too few classes"
