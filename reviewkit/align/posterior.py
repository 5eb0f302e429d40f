"""What the lattice says: how sure each placement is, and the best path."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from reviewkit.align.density import Density, Floats
from reviewkit.align.lattice import (
    Carrier,
    Lattice,
    end_gain,
    left_at,
    since,
    start_gain,
)
from reviewkit.align.steps import (
    NOWHERE,
    Block,
    Indexes,
    Scores,
    add_up,
    best_onward,
    best_source,
    join_scores,
    keep,
    keep_where,
    sum_back,
    take_best,
)

# Pairs of a start and an end with less chance than this are left out.
LEAST_CHANCE = 1e-6
# The best path is first looked for among moments with this log chance, then where it must be.
FIRST_LOOK = -5.0
# Sums in another order differ by less than this.
ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Step:
    """A slot on a path, with the indexes of its start and end moments."""

    slot: int
    start: int
    end: int


@dataclass(frozen=True, slots=True, eq=False)
class Placement:
    """Where a slot lies, over all paths.

    ``chance`` is the probability that the slot is used at all. ``pairs`` are indexes of
    (start, end) moments, shape (P, 2), and ``weights`` their probabilities given that
    the slot is used, shape (P,), adding up to 1; both empty when it never is.
    """

    chance: float
    pairs: Indexes
    weights: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Ways:
    """All ways through a lattice that end in one of the ``final`` slots.

    ``total`` is the log of the sum of their scores. ``from_start`` and ``from_left`` are the
    scores of all ways onward from each slot's starts, and from where it is left, without
    what the moment itself has scored by then.
    """

    lattice: Lattice
    final: tuple[int, ...]
    total: float
    from_start: tuple[Scores, ...]
    from_left: tuple[Scores, ...]


def weigh_ways(lattice: Lattice, final: Sequence[int]) -> Ways:
    """Add up all ways that end in one of the ``final`` slots (forward-backward)."""
    slots, left, starts = range(len(lattice.slots)), lattice.left, lattice.network.starts
    ended = [left[slot].values for slot in final]
    total = float(np.logaddexp.reduce(np.concatenate([*ended, [-np.inf]])))
    from_start, from_left = [NOWHERE for _ in slots], [NOWHERE for _ in slots]
    # What may follow each slot: at once, or after a gap.
    at_once: list[list[Scores]] = [[] for _ in slots]
    later: list[dict[Density, list[Scores]]] = [{} for _ in slots]
    with np.errstate(divide="ignore"):
        for slot in reversed(slots):
            if slot in final:
                at_once[slot].append(Scores(left[slot].first, np.zeros(len(left[slot].values))))
            from_left[slot] = _onward_from(lattice, slot, at_once[slot], later[slot])
            if lattice.slots[slot].length is not None:
                from_start[slot] = _onward_within(lattice, slot, from_left[slot])
            for arc in lattice.slots[slot].arcs:
                if arc.source < 0:
                    continue
                if arc.gap is None or lattice.slots[slot].length is None:
                    at_once[arc.source].append(from_left[slot].plus(arc.log_prior))
                else:
                    followers = later[arc.source].setdefault(arc.gap, [])
                    begun = start_gain(from_start[slot], lattice.slots[slot], starts)
                    followers.append(begun.plus(arc.log_prior))
    return Ways(lattice, tuple(final), total, tuple(from_start), tuple(from_left))


def _onward_from(
    lattice: Lattice,
    slot: int,
    at_once: Sequence[Scores],
    later: dict[Density, list[Scores]],
) -> Scores:
    """Score all ways onward from where a slot is left."""
    left = lattice.left[slot]
    parts = [
        sum_back(lattice.network.gaps(gap), join_scores(followers, add_up), left.first, left.stop)
        for gap, followers in later.items()
    ]
    joined = add_up([*at_once, *parts], left.first, left.stop)
    return keep_where(joined, left)


def _onward_within(lattice: Lattice, slot: int, from_left: Scores) -> Scores:
    """Score all ways onward from the starts of a slot."""
    here, begun = lattice.slots[slot], lattice.begun[slot]
    if here.length is None:
        return NOWHERE
    ended = end_gain(from_left, here, lattice.network.ends)
    onward = sum_back(lattice.network.lengths(here.length), ended, begun.first, begun.stop)
    return keep_where(since(onward, here), begun)


def place_slots(ways: Ways) -> tuple[Placement, ...]:
    """Give every slot's posterior over its edges."""
    return tuple(_placement(ways, slot) for slot in range(len(ways.lattice.slots)))


_UNUSED = Placement(0.0, np.zeros((0, 2), np.int64), np.zeros(0))


def _placement(ways: Ways, slot: int) -> Placement:
    """Join the ways to a slot's starts with those onward from its ends."""
    lattice, here = ways.lattice, ways.lattice.slots[slot]
    begun = lattice.begun[slot]
    if here.length is None or not len(begun.values) or not np.isfinite(ways.total):
        return _UNUSED
    starting = _log_chances(begun, ways.from_start[slot], ways.total)
    leaving = _log_chances(lattice.left[slot], ways.from_left[slot], ways.total)
    chance = min(1.0, float(np.exp(starting).sum()))
    # A pair has no more chance than its start, or its end.
    least = math.log(LEAST_CHANCE) - ROUNDING
    before = since(keep(begun, starting > least), here)
    after = end_gain(keep(ways.from_left[slot], leaving > least), here, lattice.network.ends)
    steps = lattice.network.lengths(here.length)
    parts = [
        _joint(block, before, after.plus(-ways.total))
        for block in steps.blocks(before.first, before.stop)
    ]
    pairs = np.concatenate([_UNUSED.pairs, *(part[0] for part in parts)])
    kept = np.concatenate([_UNUSED.weights, *(part[1] for part in parts)])
    return Placement(chance, pairs, kept / max(kept.sum(), 1e-300))


def _log_chances(so_far: Scores, onward: Scores, total: float) -> Floats:
    """Give the log of the chance of each moment that was reached so far."""
    return so_far.values + take_best([onward], so_far.first, so_far.stop).values - total


def _joint(block: Block, before: Scores, after: Scores) -> tuple[Indexes, Floats]:
    """Give the likely ones of the steps, and the chance that each is taken."""
    rows, cols = block.rows(before.first, before.stop), block.cols(after.first, after.stop)
    if cols[0] >= cols[1]:
        return _UNUSED.pairs, _UNUSED.weights
    own = before.within(*rows)
    best = max(float(own.max()), -1e300)
    weights = np.exp(own - best)[:, None] * block.chance[block.part(rows, cols)]
    weights *= np.exp(after.within(*cols) + best)
    at_row, at_col = np.nonzero(weights > LEAST_CHANCE)
    # Places to leave from are one ahead of the ends, with the beginning in front.
    pairs = np.stack([rows[0] + at_row, cols[0] - 1 + at_col], axis=1)
    return pairs, weights[at_row, at_col]


def best_path(ways: Ways) -> tuple[float, tuple[Step, ...]]:
    """Find the most likely way (Viterbi).

    Every moment of a path has at least the chance of the path. So a path found among the
    likeliest moments tells where a better one would have to be looked for.

    Returns:
        Its log score and its steps in order; ``-inf`` and no steps when there is none.
    """
    with np.errstate(divide="ignore"):
        score, steps = _best_among(ways, FIRST_LOOK)
        if not score - ways.total >= FIRST_LOOK:
            score, steps = _best_among(ways, score - ways.total - ROUNDING)
    return score, steps


def _best_among(ways: Ways, least: float) -> tuple[float, tuple[Step, ...]]:
    """Find the best path over moments with at least such a log chance."""
    lattice = _likely(ways, least)
    begun, left = _best_forward(lattice)
    scores = [float(left[slot].values.max(initial=-np.inf)) for slot in ways.final]
    if not scores or not np.isfinite(max(scores)):
        return float("-inf"), ()
    slot = ways.final[int(np.argmax(scores))]
    place = left[slot].first + int(np.argmax(left[slot].values))
    steps: list[Step] = []
    while slot >= 0:
        here = lattice.slots[slot]
        if here.length is None:
            slot = _best_passed(lattice, left, slot, place)
            continue
        lengths = lattice.network.lengths(here.length)
        _, start = best_source(lengths, since(begun[slot], here), place)
        steps.append(Step(slot, start, place - 1))
        slot, place = _best_link(lattice, left, slot, start)
    return max(scores), tuple(reversed(steps))


def _likely(ways: Ways, least: float) -> Lattice:
    """Leave only moments with at least such a log chance."""
    if not np.isfinite(ways.total):
        return ways.lattice
    begun = [
        keep(scores, _log_chances(scores, onward, ways.total) >= least)
        for scores, onward in zip(ways.lattice.begun, ways.from_start, strict=True)
    ]
    left = [
        keep(scores, _log_chances(scores, onward, ways.total) >= least)
        for scores, onward in zip(ways.lattice.left, ways.from_left, strict=True)
    ]
    return replace(ways.lattice, begun=tuple(begun), left=tuple(left))


def _best_forward(lattice: Lattice) -> tuple[list[Scores], list[Scores]]:
    """Give the best score of every slot's starts, and of leaving it, where it is kept."""
    carrier = Carrier(lattice.network, best_onward, take_best)
    begun: list[Scores] = []
    left: list[Scores] = []
    for slot, may_begin, may_leave in zip(lattice.slots, lattice.begun, lattice.left, strict=True):
        if slot.length is None:
            begun.append(NOWHERE)
            reached = carrier.pass_on(slot, left)
        else:
            begun.append(keep_where(carrier.starts_reached(slot, left), may_begin))
            reached = carrier.ends_reached(slot, begun[-1])
        left.append(keep_where(reached, may_leave))
    return begun, left


def _best_passed(lattice: Lattice, left: Sequence[Scores], slot: int, place: int) -> int:
    """Give the source from which a pass has a place."""
    arcs = lattice.slots[slot].arcs
    values = [left_at(left, arc.source).at(place) + arc.log_prior for arc in arcs]
    return arcs[int(np.argmax(values))].source


def _best_link(lattice: Lattice, left: Sequence[Scores], slot: int, start: int) -> tuple[int, int]:
    """Give the source of a start, and the place where it was left."""
    best, found = -np.inf, (-1, -1)
    for arc in lattice.slots[slot].arcs:
        if arc.gap is None:
            continue
        gaps = lattice.network.gaps(arc.gap)
        score, place = best_source(gaps, left_at(left, arc.source), start)
        if score + arc.log_prior > best:
            best, found = score + arc.log_prior, (arc.source, place)
    return found
