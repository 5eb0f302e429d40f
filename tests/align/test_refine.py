from __future__ import annotations

import numpy as np
import pytest

from reviewkit.align import flat
from reviewkit.align.refine import Refined, refine
from tests.align.lines import about


def mean_s(edge: Refined) -> float:
    return float((edge.at_ms * edge.weights).sum()) / 1000


def width_s(edge: Refined) -> float:
    middle = (edge.at_ms * edge.weights).sum()
    return float(np.sqrt(((edge.at_ms - middle) ** 2 * edge.weights).sum())) / 1000


def test_edges_that_are_known_stay_where_they_are() -> None:
    chain = refine([10_000, 45_000], [0, 0], [about(40)])
    assert [mean_s(edge) for edge in chain.edges] == pytest.approx([10, 45])
    assert [width_s(edge) for edge in chain.edges] == pytest.approx([0, 0])


def test_a_length_that_says_nothing_moves_nothing() -> None:
    chain = refine([10_000, 45_000], [4000, 4000], [flat()])
    assert [mean_s(edge) for edge in chain.edges] == pytest.approx([10, 45], abs=0.01)


def test_edges_that_are_guesses_move_towards_the_usual_length() -> None:
    chain = refine([10_000, 45_000], [6000, 6000], [about(40)])
    start, end = (mean_s(edge) for edge in chain.edges)
    assert start < 9
    assert end > 46
    assert end - start == pytest.approx(40, abs=1)


def test_the_surer_edge_moves_less() -> None:
    chain = refine([10_000, 45_000], [500, 6000], [about(40)])
    start, end = (mean_s(edge) for edge in chain.edges)
    assert abs(start - 10) < abs(end - 45)


def test_a_length_far_out_of_reach_moves_little() -> None:
    chain = refine([10_000, 45_000], [500, 500], [about(80)])
    assert [mean_s(edge) for edge in chain.edges] == pytest.approx([10, 45], abs=0.5)


def test_neighbours_make_an_edge_surer() -> None:
    alone = refine([45_000], [6000], [])
    held = refine([10_000, 45_000, 70_000], [100, 6000, 100], [about(38), about(22)])
    assert width_s(held.edges[1]) < width_s(alone.edges[0])
    assert mean_s(held.edges[1]) == pytest.approx(48, abs=0.6)


def test_weights_add_up_and_agree() -> None:
    chain = refine([10_000, 45_000, 70_000], [2000, 3000, 500], [about(40), about(20)])
    for edge in chain.edges:
        assert edge.weights.sum() == pytest.approx(1)
    for before, after, joint in zip(chain.edges, chain.edges[1:], chain.between, strict=False):
        assert joint.sum(axis=1) == pytest.approx(before.weights, abs=1e-6)
        assert joint.sum(axis=0) == pytest.approx(after.weights, abs=1e-6)


def test_a_chain_equals_the_sum_over_all_its_shifts() -> None:
    chain = refine([1000, 2200, 2900], [300, 200, 250], [about(1), about(1)])
    grids = [edge.at_ms for edge in chain.edges]
    own = [
        -0.5 * ((grid - at) / (spread / 1.645)) ** 2
        for grid, at, spread in zip(grids, (1000, 2200, 2900), (300, 200, 250), strict=True)
    ]
    first, second = about(1).at(_gaps(grids[0], grids[1])), about(1).at(_gaps(grids[1], grids[2]))
    total = own[0][:, None, None] + own[1][None, :, None] + own[2][None, None, :]
    total = np.exp(total + first[:, :, None] + second[None, :, :])
    total /= total.sum()
    for axis, edge in enumerate(chain.edges):
        others = tuple(other for other in range(3) if other != axis)
        assert edge.weights == pytest.approx(total.sum(axis=others), abs=1e-6)


def _gaps(before: np.ndarray, after: np.ndarray) -> np.ndarray:
    return np.asarray(after[None, :] - before[:, None])
