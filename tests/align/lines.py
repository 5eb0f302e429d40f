"""Time lines by hand: moments in seconds, slots that ask for a length."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from reviewkit.align import (
    Arc,
    Density,
    Lattice,
    Moments,
    Placement,
    Slot,
    best_path,
    build_lattice,
    flat,
    place_slots,
    weigh_ways,
)
from reviewkit.align import spike_and_tail as mix
from reviewkit.align.posterior import Step

WIDE_BEAM = 1e6


def moments(scores: Mapping[float, float]) -> Moments:
    """Give moments at seconds with their scores."""
    at_s = sorted(scores)
    return Moments(
        np.array([1000.0 * at for at in at_s]),
        np.array([scores[at] for at in at_s]),
        np.zeros(len(at_s)),
    )


def about(seconds: float) -> Density:
    """Expect a duration, in the way of a coach who runs a timer."""
    return mix(
        ((1000 * seconds, 1.0),), ((0.8, 0.0), (0.2, 8000.0)), spike_ms=600.0, low_ms=0,
        high_ms=120_000,
    )  # fmt: skip


def slot(
    starts: Moments, ends: Moments, length: Density, *arcs: Arc, inside: Sequence[float] = ()
) -> Slot:
    """Give a slot; ``inside`` sums what speaks for it, by start and end alike."""
    sums = np.array(inside) if len(inside) else None
    return Slot(
        arcs or (Arc(-1, 0.0, flat()),),
        length,
        np.zeros(len(starts.at_ms)),
        np.zeros(len(starts.at_ms)) if sums is None else sums[: len(starts.at_ms)],
        np.zeros(len(ends.at_ms)) if sums is None else sums[-len(ends.at_ms) :],
    )


def chain(starts: Moments, ends: Moments, *lengths: Density, gap: Density | None = None) -> Lattice:
    """Give a lattice of slots that follow one another."""
    slots = [
        slot(starts, ends, length, Arc(at - 1, 0.0, flat() if at == 0 or gap is None else gap))
        for at, length in enumerate(lengths)
    ]
    return build_lattice(slots, starts, ends, beam=WIDE_BEAM)


def best(lattice: Lattice, final: Sequence[int]) -> tuple[float, tuple[Step, ...]]:
    """Give the best path that ends in one of the final slots."""
    return best_path(weigh_ways(lattice, final))


def place(lattice: Lattice, final: Sequence[int]) -> tuple[float, tuple[Placement, ...]]:
    """Give the log of all ways together, and where each slot lies over all of them."""
    ways = weigh_ways(lattice, final)
    return ways.total, place_slots(ways)
