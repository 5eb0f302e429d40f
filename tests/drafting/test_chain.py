"""The chain against brute force: every way to lay segments on a few moments."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.drafting.chain import Edges, Modes, make_modes, pair_chances

Path = tuple[tuple[int, int], ...]
scores = st.floats(-4, 4, allow_nan=False)


def modes(centres_s: tuple[int, ...], low_ms: int) -> Modes:
    return make_modes(
        [1000.0 * one for one in centres_s], np.ones(len(centres_s)), stay=0.7, spike_ms=900,
        spike_share=0.6, tails=((0.2, 2000.0), (0.2, 6000.0)), low_ms=low_ms, high_ms=15_000,
    )  # fmt: skip


LENGTHS, GAPS = modes((5, 9), 2000), modes((0, 4), 0)


def paths(starts: Edges, ends: Edges, free_ms: float = -math.inf) -> Iterator[Path]:
    """Give every chain of one or more segments in time order."""
    for i, start_ms in enumerate(starts.at_ms.tolist()):
        if start_ms < free_ms:
            continue
        for j, end_ms in enumerate(ends.at_ms.tolist()):
            if LENGTHS.longest_ms < end_ms - start_ms or end_ms <= start_ms:
                continue
            yield ((i, j),)
            for onward in paths(starts, ends, end_ms):
                if starts.at_ms[onward[0][0]] - end_ms <= GAPS.longest_ms:
                    yield ((i, j), *onward)


def weight(path: Path, starts: Edges, ends: Edges) -> float:
    """Give a chain's chance, summed over its modes, but for a constant."""
    state = LENGTHS.first[:, None] * GAPS.first[None, :]
    score = 0.0
    last_ms: float | None = None
    for i, j in path:
        start_ms, end_ms = starts.at_ms[i], ends.at_ms[j]
        if last_ms is not None:
            gap = GAPS.at(np.array([start_ms - last_ms]))[0]
            state = LENGTHS.follow.T @ ((state @ GAPS.follow) * gap[None, :])
        state = state * LENGTHS.at(np.array([end_ms - start_ms]))[0][:, None]
        score += starts.score[i] + ends.score[j]
        last_ms = end_ms
    return float(state.sum()) * math.exp(score)


@given(
    st.lists(st.tuples(st.integers(0, 250), scores), min_size=1, max_size=4),
    st.lists(st.tuples(st.integers(0, 250), scores), min_size=1, max_size=4),
)
def test_chances_are_those_of_all_chains(
    start: list[tuple[int, float]], end: list[tuple[int, float]]
) -> None:
    starts, ends = edges(start), edges(end)
    found = pair_chances(starts, ends, LENGTHS, GAPS)
    weighed = [(path, weight(path, starts, ends)) for path in paths(starts, ends)]
    total = sum(one for _, one in weighed)
    for i, j, chance in zip(found.starts, found.ends, found.chance, strict=True):
        wanted = sum(one for path, one in weighed if (i, j) in path) / total
        assert chance == pytest.approx(wanted, rel=1e-6)
    assert not total or len(found.chance)


def edges(moments: list[tuple[int, float]]) -> Edges:
    ordered = sorted(dict(moments).items())
    return Edges(
        np.array([100.0 * at for at, _ in ordered]), np.array([score for _, score in ordered])
    )


def test_no_moments_no_segments() -> None:
    none = Edges(np.zeros(0), np.zeros(0))
    some = Edges(np.array([1000.0]), np.zeros(1))
    assert not len(pair_chances(none, some, LENGTHS, GAPS).chance)
    assert not len(pair_chances(some, none, LENGTHS, GAPS).chance)
