from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reviewkit.placing.relearning import STRETCHES, relearn

Floats = npt.NDArray[np.float64]
EVERY_MS = 2000
PLACES = 320


def made_up(seed: int) -> tuple[Floats, Floats, npt.NDArray[np.int64]]:
    """Give rows in which one number in three matters, odds that say nothing, and times."""
    rows = np.random.default_rng(seed).normal(0, 1, (PLACES, 3))
    return rows, np.full(PLACES, -2.0), EVERY_MS * np.arange(PLACES, dtype=np.int64)


def test_nothing_said_gives_nothing() -> None:
    assert relearn(np.zeros((0, 3)), np.zeros(0), np.zeros(0), np.zeros(0, np.int64)).size == 0


def test_a_look_that_believes_what_was_told_changes_nothing() -> None:
    rows, odds, at_ms = made_up(1)
    raised = relearn(rows, odds, 1 / (1 + np.exp(-odds)), at_ms)
    assert raised == pytest.approx(np.zeros(PLACES), abs=1e-9)


def test_places_alike_those_believed_in_are_raised_and_others_lowered() -> None:
    rows, odds, at_ms = made_up(2)
    raised = relearn(rows, odds, (rows[:, 0] > 1).astype(float), at_ms)
    assert raised[rows[:, 0] > 1].min() > raised[rows[:, 0] < -1].max()


@settings(max_examples=20, deadline=None)
@given(st.integers(0, PLACES - 1), st.floats(0, 1))
def test_no_place_is_told_anything_by_its_own_stretch(place: int, chance: float) -> None:
    rows, odds, at_ms = made_up(3)
    believed = np.full(PLACES, 0.1)
    changed = believed.copy()
    changed[place] = chance
    before, after = (relearn(rows, odds, one, at_ms) for one in (believed, changed))
    stretch = place * STRETCHES // PLACES
    own = np.arange(PLACES) * STRETCHES // PLACES == stretch
    # What the look believes moves the curve everywhere else; nothing moves here.
    assert after[own] == pytest.approx(before[own], abs=1e-9)
    assert chance == pytest.approx(0.1, abs=0.01) or (after[~own] != before[~own]).any()


@given(st.floats(-5, 5), st.integers(0, 10**7))
@settings(max_examples=20, deadline=None)
def test_neither_what_all_rows_share_nor_when_the_class_begins_matters(
    shared: float, begins_ms: int
) -> None:
    rows, odds, at_ms = made_up(4)
    chances = (rows[:, 1] > 0).astype(float)
    told = relearn(rows, odds, chances, at_ms)
    assert relearn(rows + shared, odds, chances, at_ms + begins_ms) == pytest.approx(told)
