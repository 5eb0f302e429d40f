"""The lattice of every possible placement, and its forward pass.

Each slot takes one start moment and one later end moment. Only moments whose forward
score lies within a beam of the best are kept, which makes the cost grow with the
length of the time line and not with its square.

A slot is left at one of its ends, or, when everything before was passed over, at the
beginning. So places to leave from are the beginning, place 0, and then the ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from reviewkit.align.density import Density, Floats
from reviewkit.align.steps import (
    NOWHERE,
    Indexes,
    Join,
    Onward,
    Remarks,
    Scores,
    Steps,
    add_up,
    join_scores,
    keep,
    sum_onward,
)

BEAM = 8.0
# A placement that is behind by some four slots' worth of very plain edges may still win.
WIDE = 16.0
STRETCH_MS = 20_000
# Steps are kept in matrices for starting moments of one such stretch of time. A wider one
# holds more steps that are too long to be taken, narrower ones are more to look after.
BLOCK_MS = 120_000


@dataclass(frozen=True, slots=True, eq=False)
class Moments:
    """Candidate moments in time order and the log-odds that each is an edge.

    ``passed`` is the log score of the time line up to each moment if no slot lay on it;
    slots' sums are relative to it. Only the beam uses it, to compare early with late.
    ``short`` and ``long`` say how much the talk around each moment speaks for a length
    that ends there having been short, or long.
    """

    at_ms: Floats
    score: Floats
    passed: Floats
    short: Floats | None = None
    long: Floats | None = None


@dataclass(frozen=True, slots=True)
class Arc:
    """Says that a slot may follow ``source`` (an earlier slot, -1 for the beginning)."""

    source: int
    log_prior: float
    gap: Density | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Slot:
    """Something to place.

    ``start_score`` is added to the starts' own scores. ``start_sum`` and ``end_sum`` are
    sums of what speaks for the slot up to each moment: lying between two moments gains
    the difference. A slot without a length is a pass: it takes no time and hands on
    where its source ended.
    """

    arcs: tuple[Arc, ...]
    length: Density | None = None
    start_score: Floats = field(default_factory=lambda: np.zeros(0))
    start_sum: Floats = field(default_factory=lambda: np.zeros(0))
    end_sum: Floats = field(default_factory=lambda: np.zeros(0))


@dataclass(frozen=True, slots=True, eq=False)
class Stretches:
    """The stretches of time that moments lie in: each moment's, and each one's first moment."""

    of_moment: Indexes
    firsts: Indexes

    @classmethod
    def of(cls, at_ms: Floats) -> Stretches:
        """Number the stretches that have moments."""
        bounds = _bounds(at_ms // STRETCH_MS)
        return cls(np.repeat(np.arange(len(bounds) - 1), np.diff(bounds)), bounds[:-1])

    def tops(self, values: Floats, first: int) -> Floats:
        """Give, for each value of the moments from ``first`` on, the highest of its stretch."""
        own = self.of_moment[first : first + len(values)]
        begins = np.maximum(self.firsts[own[0] : own[-1] + 1] - first, 0)
        tops: Floats = np.maximum.reduceat(values, begins)[own - own[0]]
        return tops


class Network:
    """The moments, and the steps between them that slots of the same density share."""

    def __init__(self, starts: Moments, ends: Moments, block_ms: float) -> None:
        """Lay out the moments; ``block_ms`` is how much time a matrix of steps covers."""
        self.starts, self.ends = starts, ends
        self.leave_ms = np.concatenate([[0.0], ends.at_ms])
        self.leave_passed = np.concatenate([[0.0], ends.passed])
        self.start_stretches = Stretches.of(starts.at_ms)
        self.leave_stretches = Stretches.of(self.leave_ms)
        self._remarks = None
        if ends.short is not None and ends.long is not None:
            begin = np.zeros(1)
            self._remarks = Remarks(
                np.concatenate([begin, ends.short]), np.concatenate([begin, ends.long])
            )
        self._from_starts = _bounds(starts.at_ms // block_ms)
        # The beginning leads everywhere, so that it has a matrix of its own.
        self._from_leaves = _bounds(np.concatenate([[-1.0], ends.at_ms // block_ms]))
        self._gaps: dict[Density, Steps] = {}
        self._lengths: dict[Density, Steps] = {}

    def gaps(self, gap: Density) -> Steps:
        """Give the steps from places to leave from to starts."""
        if gap not in self._gaps:
            self._gaps[gap] = Steps(
                gap, self.leave_ms, self.starts.at_ms, self._from_leaves, least_col=0
            )
        return self._gaps[gap]

    def lengths(self, length: Density) -> Steps:
        """Give the steps from starts to ends."""
        if length not in self._lengths:
            self._lengths[length] = Steps(
                length, self.starts.at_ms, self.leave_ms, self._from_starts, least_col=1,
                remarks=self._remarks,
            )  # fmt: skip
        return self._lengths[length]


def _bounds(stretches: Floats) -> Indexes:
    """Give the places where another stretch begins, the first one's and the end among them."""
    changes = np.flatnonzero(np.diff(stretches)) + 1
    return np.concatenate([[0], changes, [len(stretches)]]).astype(np.int64)


@dataclass(frozen=True, slots=True, eq=False)
class Lattice:
    """What a forward pass has kept: the scores of each slot's starts, and of leaving it.

    Passes have no starts. Moments that were dropped have no score, or ``-inf``.
    """

    slots: tuple[Slot, ...]
    network: Network
    begun: tuple[Scores, ...]
    left: tuple[Scores, ...]


BEGINNING = Scores(0, np.zeros(1))


class Carrier:
    """Carries scores from slot to slot, adding up all ways or going by the best."""

    def __init__(self, network: Network, onward: Onward, join: Join) -> None:
        """Follow the steps of a network with functions that belong together."""
        self.network, self.onward, self.join = network, onward, join
        self._sent: dict[tuple[int, Density], Scores] = {}

    def starts_reached(self, slot: Slot, left: Sequence[Scores]) -> Scores:
        """Score every start of a slot, given the scores of leaving the slots before it."""
        parts = [
            self._send(arc.source, arc.gap, left).plus(arc.log_prior)
            for arc in slot.arcs
            if arc.gap is not None
        ]
        return start_gain(join_scores(parts, self.join), slot, self.network.starts)

    def _send(self, source: int, gap: Density, left: Sequence[Scores]) -> Scores:
        """Carry on the scores of a source; several slots may follow it after the same gap."""
        key = (source, gap)
        if key not in self._sent:
            self._sent[key] = self.onward(self.network.gaps(gap), left_at(left, source))
        return self._sent[key]

    def ends_reached(self, slot: Slot, at_start: Scores) -> Scores:
        """Score every end of a slot, given the scores of its starts."""
        if slot.length is None:
            return NOWHERE
        found = self.onward(self.network.lengths(slot.length), since(at_start, slot))
        return end_gain(found, slot, self.network.ends)

    def pass_on(self, slot: Slot, left: Sequence[Scores]) -> Scores:
        """Score the places that a pass hands on."""
        parts = [left_at(left, arc.source).plus(arc.log_prior) for arc in slot.arcs]
        return join_scores(parts, self.join)


def left_at(left: Sequence[Scores], source: int) -> Scores:
    """Give the scores of leaving a slot, or the beginning."""
    return BEGINNING if source < 0 else left[source]


def start_gain(scores: Scores, slot: Slot, starts: Moments) -> Scores:
    """Add what speaks for starting at each moment."""
    own = slice(scores.first, scores.stop)
    return scores.plus(starts.score[own] + slot.start_score[own])


def since(scores: Scores, slot: Slot) -> Scores:
    """Take off what had spoken for the slot before each start."""
    return scores.plus(-slot.start_sum[scores.first : scores.stop])


def end_gain(scores: Scores, slot: Slot, ends: Moments) -> Scores:
    """Add what speaks for ending at each moment, and for the slot up to there."""
    own = slice(scores.first - 1, scores.stop - 1)
    return scores.plus(ends.score[own] + slot.end_sum[own]) if len(scores.values) else scores


def build_lattice(
    slots: Sequence[Slot],
    starts: Moments,
    ends: Moments,
    *,
    beam: float = BEAM,
    block_ms: float = BLOCK_MS,
) -> Lattice:
    """Keep every moment of a slot that a forward pass finds within ``beam`` of the best.

    Args:
        slots: In an order in which every arc's source comes before its slot.
        starts: S candidate starts.
        ends: E candidate ends.
        beam: Log-probability below the best of a slot at which moments are dropped.
        block_ms: Steps from moments of one such stretch of time share a matrix.
    """
    network = Network(starts, ends, block_ms)
    carrier = Carrier(network, sum_onward, add_up)
    begun: list[Scores] = []
    left: list[Scores] = []
    with np.errstate(divide="ignore"):
        for slot in slots:
            if slot.length is None:
                begun.append(NOWHERE)
                reached = carrier.pass_on(slot, left)
            else:
                found = carrier.starts_reached(slot, left)
                begun.append(_within_beam(found, starts.passed, network.start_stretches, beam))
                reached = carrier.ends_reached(slot, begun[-1])
            left.append(_within_beam(reached, network.leave_passed, network.leave_stretches, beam))
    return Lattice(tuple(slots), network, tuple(begun), tuple(left))


def _within_beam(scores: Scores, passed: Floats, stretches: Stretches, beam: float) -> Scores:
    """Keep the moments that are near the best of their own stretch of time, and not hopeless.

    Moments far apart stand for different ideas of which slot is when; one that lags may
    win in the end, so across stretches the beam is wider than within one.
    """
    whole = scores.values + passed[scores.first : scores.stop]
    best = whole.max(initial=-np.inf)
    if best == -np.inf:
        return NOWHERE
    tops = stretches.tops(whole, scores.first)
    return keep(scores, (whole > tops - beam) & (whole > best - WIDE * beam))
