from __future__ import annotations

import pytest

from reviewkit.progress.figures import FIGURES, Unit
from reviewkit.progress.overview import PointHistory
from reviewkit.progress.trends import Trend
from reviewkit.progress.wording import (
    say_change,
    say_figure,
    say_history,
    say_trend,
    say_verdicts,
)
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
        ("drift_median_s", -0.5, f"falling, {MINUS}0.5 s a class"),
    ],
)
def test_a_trend_says_which_way_is_better(key: str, slope: float, said: str) -> None:
    direction = 1 if slope > 0 else -1
    assert say_trend(BY_KEY[key], Trend(key, 9, 0.01, slope, direction, True)) == said


def test_a_trend_whose_usual_step_is_none_says_its_way_alone() -> None:
    assert say_trend(BY_KEY["risky_lines"], Trend("risky_lines", 9, 0.01, 0.0, 1, True)) == "worse"
    small = Trend("timing", 9, 0.01, 0.01, 1, True)
    assert say_trend(BY_KEY["timing"], small) == "better"


def test_a_trend_that_chance_explains_is_none() -> None:
    assert say_trend(BY_KEY["timing"], Trend("timing", 9, 0.2, 5.0, 1, False)) == "no trend"
    few = Trend("timing", 3, None, None, 0, False)
    assert say_trend(BY_KEY["timing"], few) == "too few classes"


@pytest.mark.parametrize(
    ("verdicts", "now", "in_all"),
    [
        (("missing", "said"), "said", "said 1, missing 1"),
        (("said", "missing"), "missing", "said 1, missing 1"),
        (("late", "missing", "missing"), "missing in the last 2", "late 1, missing 2"),
        (("missing",) * 4, "still missing after 4 classes", "missing 4"),
    ],
)
def test_a_points_history_is_summed_up(verdicts: tuple[str, ...], now: str, in_all: str) -> None:
    one = PointHistory("Squat", "chest tall", "form", "plan", (*range(len(verdicts)),), verdicts)
    assert (say_history(one), say_verdicts(one)) == (now, in_all)
