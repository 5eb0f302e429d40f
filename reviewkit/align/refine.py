"""Move the edges of one path within what their clock allows, all together.

Words of a long block have times that are guesses. Once it is known which words are
edges, the lengths and gaps between them say more of when they were than each word does
alone. The path is a chain, so forward-backward over a small grid of shifts per edge
gives every posterior exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from reviewkit.align.density import Density, Floats

# Nine tenths of a normal distribution lie within this many standard deviations.
NINE_TENTHS = 1.645
REACH = 1.6
MOST_STEPS = 40
LEAST_STEP_MS = 100.0


@dataclass(frozen=True, slots=True, eq=False)
class Refined:
    """Posterior of one edge: places in milliseconds and their weights, adding up to 1."""

    at_ms: Floats
    weights: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Chain:
    """Posteriors of all edges of a path, and of what lies between neighbours.

    ``between[i]`` has the joint weights of edges i and i + 1, shape (places of i, of i + 1).
    """

    edges: tuple[Refined, ...]
    between: tuple[Floats, ...]


def refine(at_ms: Sequence[float], spread_ms: Sequence[float], between: Sequence[Density]) -> Chain:
    """Give the posteriors of a chain of edges.

    Args:
        at_ms: N edges in time order, as the words have them.
        spread_ms: Half-widths of the ranges that hold them nine times in ten.
        between: N - 1 densities of the durations from each edge to the next.
    """
    grids = [_grid(at, spread) for at, spread in zip(at_ms, spread_ms, strict=True)]
    own = [
        _own_log(grid, at, spread) for grid, at, spread in zip(grids, at_ms, spread_ms, strict=True)
    ]
    steps = [
        np.maximum(density.at(after[None, :] - before[:, None]), -30.0)
        for density, before, after in zip(between, grids, grids[1:], strict=False)
    ]
    onward = [own[0]]
    for step, mine in zip(steps, own[1:], strict=True):
        onward.append(np.logaddexp.reduce(onward[-1][:, None] + step, axis=0) + mine)
    back = [np.zeros(len(own[-1]))]
    for step, mine in zip(reversed(steps), reversed(own[1:]), strict=True):
        back.append(np.logaddexp.reduce(step + (mine + back[-1])[None, :], axis=1))
    back.reverse()
    edges = [Refined(grid, _normal(a + b)) for grid, a, b in zip(grids, onward, back, strict=True)]
    joints = [
        _normal(onward[i][:, None] + steps[i] + (own[i + 1] + back[i + 1])[None, :])
        for i in range(len(steps))
    ]
    return Chain(tuple(edges), tuple(joints))


def _grid(at_ms: float, spread_ms: float) -> Floats:
    reach = REACH * spread_ms
    count = int(min(MOST_STEPS, max(1, reach // LEAST_STEP_MS)))
    return at_ms + np.linspace(-reach, reach, 2 * count + 1)


def _own_log(grid: Floats, at_ms: float, spread_ms: float) -> Floats:
    log: Floats = -0.5 * ((grid - at_ms) / max(1.0, spread_ms / NINE_TENTHS)) ** 2
    return log


def _normal(log: Floats) -> Floats:
    weights = np.exp(log - np.max(log))
    shares: Floats = weights / weights.sum()
    return shares
