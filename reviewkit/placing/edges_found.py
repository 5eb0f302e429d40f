"""Read edges, lengths and their ranges off the aligner's answer.

Two kinds of doubt add up. Which words are the edges is one: the aligner's posterior over
pairs of moments. When those words were said is the other: the posterior of the refined
chain. A range holds nine tenths of both.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from reviewkit.align import Density, Placement, flat
from reviewkit.align.posterior import Step
from reviewkit.align.refine import Chain, Refined, refine
from reviewkit.model import Clock, Edge
from reviewkit.placing.scoring import Floats, Ground
from reviewkit.placing.slots import Layout
from reviewkit.timing import Spread, add, gather

# An edge's range leaves out this much of the weight on either side. Under few stamps the
# weights are too sure of themselves: on classes that nothing was fitted on, a twentieth
# left out one true edge in five.
LEFT_OUT: dict[Clock, float] = {"words": 0.05, "captions": 0.05, "blocks": 0.025}
# How an expected length counts in finding the placement is more than it may count in saying
# how long an interval was: a drift that the talk speaks for would be talked away by its plan.
# This power of the density is taken back where lengths are read. On 223 classes kept back, .5
# calls 96 drifts of five seconds in 100 where 0 calls 94 or 95, and of 1,000 on-time
# intervals 12 are called wrongly for 6. Under few stamps the plan says next to nothing as it is.
TAKEN_BACK: dict[Clock, float] = {"words": 0.5, "captions": 0.5, "blocks": 0.0}
# No length is made likelier by more than this (a log).
_MOST_MADE_UP_FOR = 4.0
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


def read_edges(
    steps: Sequence[Step],
    placements: Sequence[Placement],
    ground: Ground,
    layout: Layout,
    clock: Clock = "words",
    *,
    taken_back: float = 0.0,
) -> list[Found]:
    """Measure every slot of a path.

    Args:
        steps: The path.
        placements: Posterior of each slot, over all paths.
        ground: The moments that steps and placements index.
        layout: The slots, with densities that know nothing of the clock's blur.
        clock: How exact the transcript's times are.
        taken_back: The power of the density of a row's length that is taken back.
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
        chance = min(1.0, chance)
        placement = placements[step.slot]
        length = layout.slots[step.slot].length
        if row is not None and length is not None and taken_back:
            placement = take_back(placement, ground, length, taken_back)
        found.append(_measure(place, step, placement, ground, chain, row, chance, LEFT_OUT[clock]))
    return keep_apart(found, steps, ground)


def take_back(placement: Placement, ground: Ground, length: Density, power: float) -> Placement:
    """Let a length as expected count for less than it did in finding the placement.

    Args:
        placement: Posterior of a row's slot.
        ground: The moments that it indexes.
        length: How long the row was expected to last.
        power: The power of that density which is taken back.
    """
    starts, ends = placement.pairs.T
    expected = length.at(ground.ends.at_ms[ends] - ground.starts.at_ms[starts])
    behind = expected.max(initial=-np.inf) - expected
    weights = placement.weights * np.exp(np.minimum(power * behind, _MOST_MADE_UP_FOR))
    return replace(placement, weights=weights / max(weights.sum(), 1e-300))


def keep_apart(found: list[Found], steps: Sequence[Step], ground: Ground) -> list[Found]:
    """Put neighbours that overlap where the path has them, which never do.

    Each is measured by all paths, and what is a row on one is its neighbour on another.
    """
    apart, moved = [*found], set[int]()
    while (place := _overlap(apart, moved)) is not None:
        for at in {place, place + 1} - moved:
            start_ms = ground.starts.at_ms[steps[at].start]
            end_ms = ground.ends.at_ms[steps[at].end]
            start, end = _moved(found[at].start, start_ms), _moved(found[at].end, end_ms)
            apart[at] = replace(found[at], start=start, end=end)
        moved |= {place, place + 1}
    return apart


def _overlap(found: Sequence[Found], moved: set[int]) -> int | None:
    """Give the first of two neighbours that overlap and are not both where the path has them."""
    return next(
        (
            place
            for place, (one, other) in enumerate(pairwise(found))
            if other.start.at_ms < one.end.at_ms and not {place, place + 1} <= moved
        ),
        None,
    )


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
    left_out: float,
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
    start = _edge(first, start_off, weights, start_reach, left_out)
    end = _edge(last, end_off, weights, end_reach, left_out)
    if end.at_ms <= start.at_ms:
        # Each edge is the middle of its own doubt, and under wide doubt the two may cross;
        # the path's never do.
        start, end = _moved(start, path_start), _moved(end, path_end)
    return Found(row, start, end, lengths, min(start_reach, end_reach), certainty)


def _moved(edge: Edge, to_ms: float) -> Edge:
    """Put an edge elsewhere, in a range that holds it."""
    at_ms = round(to_ms)
    return Edge(at_ms, min(edge.low_ms, at_ms), max(edge.high_ms, at_ms))


def _least_reach(spread_ms: float) -> float:
    return min(MOST_LEAST_REACH_MS, max(LEAST_REACH_MS, 0.5 * spread_ms))


def _edge(refined: Refined, off: Floats, weights: Floats, least_ms: float, left_out: float) -> Edge:
    """Add up the doubt about when a word was said and about which word is the edge."""

    def by_clock(share: float) -> float:
        return _quantile(refined.at_ms, refined.weights, share)

    def by_words(share: float) -> float:
        return _quantile(off, weights, share)

    middle = by_clock(0.5)
    best = max(0, round(middle + by_words(0.5)))
    low = round(min(middle - least_ms, by_clock(left_out)) + by_words(left_out))
    high = round(max(middle + least_ms, by_clock(1 - left_out)) + by_words(1 - left_out))
    return Edge(best, max(0, min(low, best)), max(high, best))


def _quantile(values: Floats, weights: Floats, share: float) -> float:
    order = np.argsort(values, kind="stable")
    at = int(np.searchsorted(np.cumsum(weights[order]), share * weights.sum()))
    return float(values[order][min(at, len(values) - 1)])
