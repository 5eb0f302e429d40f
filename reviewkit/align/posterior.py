"""What the lattice says: the best path, and how sure each placement is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from operator import itemgetter

import numpy as np

from reviewkit.align.density import Floats
from reviewkit.align.lattice import (
    Hop,
    Indexes,
    Join,
    Lattice,
    Onward,
    beginning,
    best_onward,
    ends_reached,
    pass_on,
    starts_reached,
    sum_back,
    sum_onward,
)


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


def _forward(lattice: Lattice, onward: Onward, join: Join) -> tuple[list[Floats], list[Floats]]:
    end_count = len(lattice.ends.at_ms)
    at_start: list[Floats] = []
    reached: list[Floats] = []
    for slot, links, body in zip(lattice.slots, lattice.links, lattice.bodies, strict=True):
        if slot.length is None:
            at_start.append(np.zeros(0))
            reached.append(pass_on(reached, slot, join, end_count))
            continue
        begun = starts_reached(slot, links, reached, lattice.starts, onward, join, end_count)
        at_start.append(begun)
        reached.append(ends_reached(body, begun, onward, join, end_count))
    return at_start, reached


def best_path(lattice: Lattice, final: Sequence[int]) -> tuple[float, tuple[Step, ...]]:
    """Find the most likely path that ends in one of the ``final`` slots (Viterbi).

    Returns:
        Its log score and its steps in order; ``-inf`` and no steps when there is none.
    """
    at_start, reached = _forward(lattice, best_onward, np.maximum)
    scores = [float(np.max(reached[slot])) for slot in final]
    if not scores or not np.isfinite(max(scores)):
        return float("-inf"), ()
    slot = final[int(np.argmax(scores))]
    end = int(np.argmax(reached[slot]))
    steps: list[Step] = []
    while slot >= 0:
        if lattice.slots[slot].length is None:
            slot = _best_source(lattice, reached, slot, end)
            continue
        start = _best_start(lattice.bodies[slot], at_start[slot], end)
        steps.append(Step(slot, start, end))
        slot, end = _best_link(lattice, reached, slot, start)
    return max(scores), tuple(reversed(steps))


def _best_source(lattice: Lattice, reached: Sequence[Floats], slot: int, end: int) -> int:
    first = beginning(len(lattice.ends.at_ms))
    arcs = lattice.slots[slot].arcs
    values = [
        (first if arc.source < 0 else reached[arc.source])[end] + arc.log_prior for arc in arcs
    ]
    return arcs[int(np.argmax(values))].source


def _best_start(body: Sequence[Hop], at_start: Floats, end: int) -> int:
    return max((_best_row(hop, at_start, end) for hop in body), key=itemgetter(0))[1]


def _best_link(
    lattice: Lattice, reached: Sequence[Floats], slot: int, start: int
) -> tuple[int, int]:
    first = beginning(len(lattice.ends.at_ms))
    best, found = -np.inf, (-1, -1)
    for link in lattice.links[slot]:
        score, row = _best_row(link, first if link.source < 0 else reached[link.source], start)
        if score > best:
            best, found = score, (link.source, row)
    return found


def _best_row(hop: Hop, scores: Floats, to: int) -> tuple[float, int]:
    """Give the best way to a column, the score and the row; ``-inf`` when there is none."""
    place = int(np.searchsorted(hop.cols, to))
    if place == len(hop.cols) or hop.cols[place] != to:
        return -np.inf, -1
    column = scores[hop.rows] + hop.score[:, place]
    row = int(np.argmax(column))
    return float(column[row]), int(hop.rows[row])


def place_slots(lattice: Lattice, final: Sequence[int]) -> tuple[float, tuple[Placement, ...]]:
    """Give every slot's posterior over its edges (forward-backward).

    Returns:
        The log of the total score of all paths, and one placement per slot.
    """
    at_start, reached = _forward(lattice, sum_onward, np.logaddexp)
    total = float(np.logaddexp.reduce(np.concatenate([reached[slot] for slot in final])))
    to_go = _backward(lattice, final)
    placements = []
    for slot, body in enumerate(lattice.bodies):
        if not body or not np.isfinite(total):
            placements.append(Placement(0.0, np.zeros((0, 2), np.int64), np.zeros(0)))
            continue
        parts = [_joint(hop, at_start[slot], to_go[slot] - total) for hop in body]
        chance = sum(part[0] for part in parts)
        kept = np.concatenate([part[2] for part in parts])
        pairs = np.concatenate([part[1] for part in parts])
        placements.append(Placement(min(1.0, chance), pairs, kept / max(kept.sum(), 1e-300)))
    return total, tuple(placements)


def _joint(hop: Hop, at_start: Floats, to_go: Floats) -> tuple[float, Indexes, Floats]:
    """Give the chance that one of the steps is taken, and the likely ones with theirs."""
    weights = np.exp(at_start[hop.rows][:, None] + hop.score + to_go[hop.cols][None, :])
    rows, cols = np.nonzero(weights > 1e-6)
    pairs = np.stack([hop.rows[rows], hop.cols[cols]], axis=1)
    return float(weights.sum()), pairs, weights[rows, cols]


def _backward(lattice: Lattice, final: Sequence[int]) -> list[Floats]:
    """Score, for every end of every slot, all ways to finish from there."""
    size = len(lattice.ends.at_ms) + 1
    to_go = [np.full(size, -np.inf) for _ in lattice.slots]
    for slot in final:
        to_go[slot] = np.zeros(size)
    for index in range(len(lattice.slots) - 1, -1, -1):
        here, body = lattice.slots[index], lattice.bodies[index]
        if here.length is None:
            for arc in here.arcs:
                if arc.source >= 0:
                    to_go[arc.source] = np.logaddexp(
                        to_go[arc.source], to_go[index] + arc.log_prior
                    )
            continue
        onward = np.full(len(lattice.starts.at_ms), -np.inf)
        for hop in body:
            onward[hop.rows] = sum_back(hop, to_go[index])
        onward = onward + lattice.starts.score + here.start_score
        for link in lattice.links[index]:
            if link.source >= 0:
                step = sum_back(link, onward)
                place = to_go[link.source]
                place[link.rows] = np.logaddexp(place[link.rows], step)
    return to_go
