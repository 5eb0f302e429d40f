from __future__ import annotations

import pytest

from reviewkit.evaluate import Match, Outcome, figures, tally
from reviewkit.evaluate.outcome import EdgeOutcome, PointOutcome, RowOutcome


def outcome(
    rows: tuple[RowOutcome, ...] = (),
    points: tuple[PointOutcome, ...] = (),
    flags: tuple[Match, ...] = (),
) -> Outcome:
    return Outcome(rows, points, (), (), (), (), (), flags)


def row(true_s: float, found_s: float, timing: str = "on time") -> RowOutcome:
    """A planned 40 s from 0 s on, that really ends at ``true_s``."""
    edges = (EdgeOutcome(0.0, 0.0, -1.0, 1.0), EdgeOutcome(true_s, found_s, None, None))
    return RowOutcome("row", "done", "done", 40.0, edges, timing)


def test_nothing_gives_no_ratios() -> None:
    of_nothing = figures([])
    assert of_nothing.reviews == 0
    assert of_nothing.rows_right is None
    assert of_nothing.edge_error_p90_s is None
    assert of_nothing.drift_slope is None
    assert of_nothing.time_calls.precision is None


def test_a_tally_counts_hits_false_alarms_and_misses() -> None:
    truths = [(True, True), (True, False), (False, True), (False, False), (True, True)]
    counted = tally(Match("call", "", *pair) for pair in truths)
    assert (counted.hits, counted.extra, counted.missed) == (2, 1, 1)
    assert counted.precision == counted.recall == pytest.approx(2 / 3)


def test_rows_pool_over_reviews() -> None:
    skipped = RowOutcome("row", "skipped", "done", 40.0)
    pooled = figures([outcome((row(40, 40), skipped)), outcome((row(50, 50, "long"),))])
    assert pooled.rows_right == pytest.approx(2 / 3)
    assert pooled.intervals_found == 1.0
    assert (pooled.drift_called, pooled.on_time_kept) == (1.0, 1.0)
    assert pooled.range_holds_truth == 1.0
    assert pooled.range_width_median_s == 2.0


def test_half_the_drift_heard_is_a_slope_of_a_half() -> None:
    rows = tuple(row(40 + drift, 40 + drift / 2) for drift in (-10, 0, 4, 10))
    assert figures([outcome(rows)]).drift_slope == pytest.approx(0.5)


def test_late_points_are_given_points() -> None:
    points = (
        PointOutcome("squat", "a", "late", "late"),
        PointOutcome("squat", "b", "said", "late"),
        PointOutcome("squat", "c", "missing", "said"),
        PointOutcome("squat", "d", "said", None),
    )
    pooled = figures([outcome(points=points)])
    assert pooled.points_right == 0.5
    assert (pooled.late_points.hits, pooled.late_points.extra) == (1, 1)
    assert pooled.missing_points.missed == 1


def test_flags_are_told_apart_by_kind() -> None:
    pooled = figures([outcome(flags=(Match("order", "", True, True),))])
    assert pooled.flags["order"].hits == 1
    assert pooled.flags["dead_air"].hits == 0
