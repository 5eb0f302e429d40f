from __future__ import annotations

import math

import numpy as np
import pytest

from reviewkit.align import Density, flat, spike_and_tail
from reviewkit.align.density import STEP_MS

PARTS = ((0.8, 0.0), (0.2, 5000.0))


def around(centre_ms: float, *, high_ms: int = 120_000) -> Density:
    return spike_and_tail(((centre_ms, 1.0),), PARTS, spike_ms=600.0, low_ms=5000, high_ms=high_ms)


def at(density: Density, *durations_ms: float) -> list[float]:
    return [float(value) for value in density.at(np.array(durations_ms))]


def test_a_flat_density_says_the_same_of_every_duration() -> None:
    assert at(flat(-2.0), 0.0, 1.0, 1e9) == [-2.0, -2.0, -2.0]
    assert flat().high_ms == math.inf


def test_time_never_runs_backwards() -> None:
    assert at(flat(), -1.0) == [-math.inf]
    assert at(Density(0, np.zeros(10)), -100.0) == [-math.inf]


def test_durations_outside_the_table_are_impossible() -> None:
    density = around(40_000, high_ms=60_000)
    assert at(density, 4900.0, 60_200.0) == [-math.inf, -math.inf]
    assert all(math.isfinite(value) for value in at(density, 5000.0, 60_000.0))
    assert density.high_ms == 60_000


def test_durations_of_any_shape_are_looked_up() -> None:
    found = around(40_000).at(np.full((2, 3), 40_000.0))
    assert found.shape == (2, 3)
    assert around(40_000).at(np.zeros((0, 4))).shape == (0, 4)


def test_the_centre_is_the_likeliest() -> None:
    centre, near, far = at(around(40_000), 40_000, 41_000, 55_000)
    assert centre > near > far


def test_both_sides_of_the_centre_are_alike() -> None:
    shorter, longer = at(around(40_000), 37_000, 43_000)
    assert shorter == pytest.approx(longer, abs=1e-6)


def test_tails_stay_heavy() -> None:
    """A drift costs something once; twice the drift does not cost four times as much."""
    none, some, twice = at(around(40_000), 40_000, 48_000, 56_000)
    assert none - twice < 2 * (none - some)


def test_a_duration_may_have_several_centres() -> None:
    density = spike_and_tail(
        ((10_000, 0.5), (30_000, 0.5)), PARTS, spike_ms=600.0, low_ms=0, high_ms=60_000
    )
    one, between, other = at(density, 10_000, 20_000, 30_000)
    assert one == pytest.approx(other, abs=0.05)
    assert between < one


def test_the_scale_is_one_event_a_minute() -> None:
    """Shares add up to all: over a minute the average chance is that of a flat density."""
    density = spike_and_tail(((30_000, 1.0),), PARTS, spike_ms=600.0, low_ms=0, high_ms=60_000)
    x = np.arange(0, 60_000, STEP_MS, dtype=np.float64)
    assert float(np.exp(density.at(x)).mean()) == pytest.approx(1, abs=0.02)


def test_a_longest_below_the_shortest_leaves_the_shortest() -> None:
    density = spike_and_tail(((1000, 1.0),), PARTS, spike_ms=600.0, low_ms=5000, high_ms=100)
    assert math.isfinite(at(density, 5000.0)[0])
