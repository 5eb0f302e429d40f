"""Read edges, lengths and their ranges off the aligner's answer.

Two kinds of doubt add up. Which words are the edges is one: the aligner's posterior over
pairs of moments. When those words were said is the other: the posterior of the refined
chain. A range holds nine tenths of both.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from reviewkit.align import Density, Placement, flat
from reviewkit.align.posterior import Step
from reviewkit.align.refine import Chain, Refined, refine
from reviewkit.model import Edge
from reviewkit.placing.scoring import Floats, Ground
from reviewkit.placing.slots import Layout
from reviewkit.timing import Spread, add, gather

LOW, HIGH = 0.05, 0.95
# Words start a little before or after their stamps even where every word has one, so no
# edge's range reaches less far than this, or than half of its word's own range.
LEAST_REACH_MS = 150.0
MOST_LEAST_REACH_MS = 500.0


@dataclass(frozen=True, slots=True)
class Found:
    """One placed slot: its row (None when nobody planned it), edges and lengths.

    ``lengths`` are all the lengths it may have; ``length_reach_ms`` is how far their range
    reaches at least.
    """

    row: int | None
    start: Edge
    end: Edge
    lengths: Spread
    length_reach_ms: float
    certainty: float


@dataclass(frozen=True, slots=True)
class _Spot:
    """A refined quantity: its middle, and how far its range reaches down and up."""

    middle: float
    down: float
    up: float


def read_edges(
    steps: Sequence[Step],
    placements: Sequence[Placement],
    ground: Ground,
    layout: Layout,
) -> list[Found]:
    """Measure every slot of a path.

    Args:
        steps: The path.
        placements: Posterior of each slot, over all paths.
        ground: The moments that steps and placements index.
        layout: The slots, with densities that know nothing of the clock's blur.
    """
    if not steps:
        return []
    chances: dict[int, float] = {}
    for laid, placement in zip(layout.slots, placements, strict=True):
        if laid.row is not None:
            chances[laid.row] = chances.get(laid.row, 0.0) + placement.chance
    chain = _chain(steps, ground, layout)
    found = []
    for place, step in enumerate(steps):
        row = layout.slots[step.slot].row
        chance = placements[step.slot].chance if row is None else chances[row]
        found.append(
            _measure(place, step, placements[step.slot], ground, chain, row, min(1.0, chance))
        )
    return found


def _chain(steps: Sequence[Step], ground: Ground, layout: Layout) -> Chain:
    at: list[float] = []
    spread: list[float] = []
    between: list[Density] = []
    for place, step in enumerate(steps):
        if place:
            between.append(_gap(steps[place - 1].slot, step.slot, layout))
        at += [ground.starts.at_ms[step.start], ground.ends.at_ms[step.end]]
        spread += [ground.start_spreads[step.start], ground.end_spreads[step.end]]
        between.append(layout.slots[step.slot].length or flat())
    return refine(at, spread, between)


def _gap(before: int, slot: int, layout: Layout) -> Density:
    """Give the density of the gap between two slots that follow each other on a path."""
    arcs = layout.slots[slot].arcs
    direct = [arc.gap for arc in arcs if arc.source == before]
    passed = [
        arc.gap for arc in arcs if arc.source >= 0 and layout.slots[arc.source].length is None
    ]
    return next((gap for gap in (*direct, *passed) if gap is not None), flat())


def _measure(
    place: int,
    step: Step,
    placement: Placement,
    ground: Ground,
    chain: Chain,
    row: int | None,
    certainty: float,
) -> Found:
    first, last = chain.edges[2 * place], chain.edges[2 * place + 1]
    path_start, path_end = ground.starts.at_ms[step.start], ground.ends.at_ms[step.end]
    if len(placement.weights):
        starts, ends = placement.pairs[:, 0], placement.pairs[:, 1]
        start_off = ground.starts.at_ms[starts] - path_start
        end_off = ground.ends.at_ms[ends] - path_end
        weights = placement.weights
    else:
        start_off = end_off = np.zeros(1)
        weights = np.ones(1)
    by_clock = (last.at_ms[None, :] - first.at_ms[:, None]).ravel()
    clock_weights = chain.between[2 * place].ravel()
    lengths = add(gather(by_clock, clock_weights), gather(end_off - start_off, weights))
    start_reach = _least_reach(ground.start_spreads[step.start])
    end_reach = _least_reach(ground.end_spreads[step.end])
    start = _edge(_spot_of(first), start_off, weights, start_reach)
    end = _edge(_spot_of(last), end_off, weights, end_reach)
    return Found(row, start, end, lengths, min(start_reach, end_reach), certainty)


def _spot_of(refined: Refined) -> _Spot:
    return _spot(refined.at_ms, refined.weights)


def _spot(values: Floats, weights: Floats) -> _Spot:
    middle = _quantile(values, weights, 0.5)
    return _Spot(
        middle,
        middle - _quantile(values, weights, LOW),
        _quantile(values, weights, HIGH) - middle,
    )


def _least_reach(spread_ms: float) -> float:
    return min(MOST_LEAST_REACH_MS, max(LEAST_REACH_MS, 0.5 * spread_ms))


def _edge(spot: _Spot, off: Floats, weights: Floats, least_ms: float) -> Edge:
    best = max(0, round(spot.middle + _quantile(off, weights, 0.5)))
    low = round(spot.middle - max(least_ms, spot.down) + _quantile(off, weights, LOW))
    high = round(spot.middle + max(least_ms, spot.up) + _quantile(off, weights, HIGH))
    return Edge(best, max(0, min(low, best)), max(high, best))


def _quantile(values: Floats, weights: Floats, share: float) -> float:
    order = np.argsort(values, kind="stable")
    at = int(np.searchsorted(np.cumsum(weights[order]), share * weights.sum()))
    return float(values[order][min(at, len(values) - 1)])
