from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.align import Moments, Placement, spike_and_tail
from reviewkit.align.posterior import Step
from reviewkit.model import Edge
from reviewkit.placing.edges_found import TAKEN_BACK, Found, keep_apart, take_back
from reviewkit.placing.scoring import Ground
from reviewkit.placing.slots import ANY_COACH
from reviewkit.timing import gather

PLANNED_MS = 40_000
EXPECTED = spike_and_tail(
    ((PLANNED_MS, 1.0),), ANY_COACH.length_parts, spike_ms=650.0, low_ms=5_000, high_ms=120_000
)
POSTERIORS = st.lists(
    st.tuples(st.integers(10_000, 90_000), st.floats(0.001, 1.0)),
    min_size=1,
    max_size=6,
    unique_by=lambda pair: pair[0],
)


def placed(posterior: Sequence[tuple[int, float]]) -> tuple[Placement, Ground]:
    """Lay a slot that starts at once and has such lengths, in milliseconds, by their weights."""
    lengths_ms = np.array(sorted(length for length, _ in posterior), dtype=np.float64)
    weights = np.array([weight for _, weight in sorted(posterior)])
    count = len(lengths_ms)
    places = np.arange(count)
    at_once, none = np.zeros(1), np.zeros(count)
    ground = Ground(
        starts=Moments(at_once, at_once, at_once),
        ends=Moments(lengths_ms, none, none),
        start_moments=places[:1],
        end_moments=places,
        start_words=places[:1],
        end_words=places,
        start_spreads=at_once,
        end_spreads=none,
    )
    pairs = np.stack([np.zeros(count, dtype=np.int64), places], axis=1)
    return Placement(1.0, pairs, weights / weights.sum()), ground


def read(posterior: Sequence[tuple[int, float]], power: float) -> tuple[Placement, Placement]:
    """Give a placement as it was found and as it is read."""
    placement, ground = placed(posterior)
    return placement, take_back(placement, ground, EXPECTED, power)


@given(POSTERIORS)
def test_nothing_taken_back_leaves_all_as_it_was(posterior: list[tuple[int, float]]) -> None:
    before, after = read(posterior, 0.0)
    assert after.weights == pytest.approx(before.weights)


@given(POSTERIORS, st.floats(0.1, 1.0))
def test_the_plan_never_gains_by_what_is_taken_back(
    posterior: list[tuple[int, float]], power: float
) -> None:
    before, after = read(posterior, power)
    assert after.weights.sum() == pytest.approx(1.0)
    lengths = np.array(sorted(length for length, _ in posterior), dtype=np.float64)
    as_planned = EXPECTED.at(lengths)
    assert after.weights @ as_planned <= before.weights @ as_planned + 1e-9


def test_a_drift_that_only_the_plan_spoke_against_is_read() -> None:
    _, after = read([(PLANNED_MS, 0.7), (PLANNED_MS + 7_000, 0.3)], TAKEN_BACK["words"])
    assert after.weights[1] > 0.5


def test_a_drift_that_the_talk_speaks_against_too_is_not() -> None:
    _, after = read([(PLANNED_MS, 0.97), (PLANNED_MS + 7_000, 0.03)], TAKEN_BACK["words"])
    assert after.weights[0] > 0.5


def test_what_is_moved_apart_moves_its_own_neighbours_too() -> None:
    path_ms = [(0, 40_000), (60_000, 100_000), (120_000, 160_000)]
    measured_ms = [(0, 64_000), (60_000, 90_000), (95_000, 160_000)]
    starts, ends = (np.array(moments, dtype=np.float64) for moments in zip(*path_ms, strict=True))
    places, none = np.arange(3), np.zeros(3)
    ground = Ground(
        Moments(starts, none, none), Moments(ends, none, none),
        places, places, places, places, none, none,
    )  # fmt: skip
    found = [
        Found(row, Edge(start, start, start), Edge(end, end, end), gather([1], [1.0]), 0.0, 1.0)
        for row, (start, end) in enumerate(measured_ms)
    ]
    apart = keep_apart(found, [Step(place, place, place) for place in range(3)], ground)
    assert [(one.start.at_ms, one.end.at_ms) for one in apart] == path_ms
