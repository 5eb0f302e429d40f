"""The lattice of every possible placement, and its forward pass.

Each slot takes one start moment and one later end moment. Only moments whose forward
score lies within a beam of the best are kept, which makes the cost grow with the
length of the time line and not with its square.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from reviewkit.align.density import Density, Floats

BEAM = 14.0
WIDE = 3.0
STRETCH_MS = 20_000
Indexes = NDArray[np.int64]
Combine = Callable[[Floats, int], Floats]


@dataclass(frozen=True, slots=True, eq=False)
class Moments:
    """Candidate moments in time order and the log-odds that each is an edge.

    ``passed`` is the log score of the time line up to each moment if no slot lay on it;
    slots' sums are relative to it. Only the beam uses it, to compare early with late.
    """

    at_ms: Floats
    score: Floats
    passed: Floats


@dataclass(frozen=True, slots=True)
class Arc:
    """Says that a slot may follow ``source`` (an earlier slot, -1 for the beginning)."""

    source: int
    log_prior: float
    gap: Density | None = None


@dataclass(frozen=True, slots=True)
class Tie:
    """A claim that a share of the slot had passed at a moment, off by ``spread_ms``."""

    at_ms: float
    share: float
    spread_ms: float
    log_gain: float


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
    ties: tuple[Tie, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Link:
    """Scores of the steps from ends ``rows`` of a source to starts ``cols`` of a slot."""

    source: int
    rows: Indexes
    cols: slice
    score: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """Scores of the pairs of a start in ``rows`` and an end in ``cols`` of one slot."""

    rows: Indexes
    cols: slice
    score: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Lattice:
    """Scores of all steps kept, slot by slot; ends carry one extra place, the beginning."""

    slots: tuple[Slot, ...]
    starts: Moments
    ends: Moments
    links: tuple[tuple[Link, ...], ...]
    bodies: tuple[Body | None, ...]


def log_sum(matrix: Floats, axis: int) -> Floats:
    """Add probabilities given as logs; a row of ``-inf`` stays ``-inf``."""
    top = np.max(matrix, axis=axis, keepdims=True)
    top = np.where(np.isfinite(top), top, 0.0)
    with np.errstate(divide="ignore"):
        summed: Floats = np.log(np.sum(np.exp(matrix - top), axis=axis))
    total: Floats = summed + np.squeeze(top, axis=axis)
    return total


def log_max(matrix: Floats, axis: int) -> Floats:
    """Take the best, with the signature of ``log_sum``."""
    best: Floats = np.max(matrix, axis=axis)
    return best


def build_lattice(
    slots: Sequence[Slot], starts: Moments, ends: Moments, *, beam: float = BEAM
) -> Lattice:
    """Keep every step that a forward pass finds within ``beam`` of the best.

    Args:
        slots: In an order in which every arc's source comes before its slot.
        starts: S candidate starts.
        ends: E candidate ends.
        beam: Log-probability below the best of a slot at which moments are dropped.
    """
    reached: list[Floats] = []
    links: list[tuple[Link, ...]] = []
    bodies: list[Body | None] = []
    for slot in slots:
        sources = [(arc, _source_scores(reached, arc, len(ends.at_ms))) for arc in slot.arcs]
        if slot.length is None:
            reached.append(_combine_pass(sources, len(ends.at_ms)))
            links.append(())
            bodies.append(None)
            continue
        made = [_link(arc, scores, starts, ends, beam) for arc, scores in sources]
        kept = tuple(link for link in made if link is not None)
        at_start = starts_reached(slot, kept, reached, starts, log_sum, len(ends.at_ms))
        body = _body(slot, at_start, starts, ends, beam)
        links.append(kept)
        bodies.append(body)
        reached.append(ends_reached(body, at_start, log_sum, len(ends.at_ms)))
    return Lattice(tuple(slots), starts, ends, tuple(links), tuple(bodies))


def beginning(end_count: int) -> Floats:
    """Give the scores before anything was placed: only the extra place is reached."""
    scores = np.full(end_count + 1, -np.inf)
    scores[-1] = 0.0
    return scores


def _source_scores(reached: Sequence[Floats], arc: Arc, end_count: int) -> Floats:
    return beginning(end_count) if arc.source < 0 else reached[arc.source]


def _combine_pass(sources: Sequence[tuple[Arc, Floats]], end_count: int) -> Floats:
    total = np.full(end_count + 1, -np.inf)
    for arc, scores in sources:
        total = np.logaddexp(total, scores + arc.log_prior)
    return total


def _link(arc: Arc, scores: Floats, starts: Moments, ends: Moments, beam: float) -> Link | None:
    to_ms = np.append(ends.at_ms, 0.0)
    rows = _within_beam(scores, np.append(ends.passed, 0.0), to_ms, beam)
    if not len(rows) or arc.gap is None:
        return None
    from_ms = to_ms[rows]
    low = int(np.searchsorted(starts.at_ms, from_ms.min() - 1))
    high = int(np.searchsorted(starts.at_ms, from_ms.max() + arc.gap.high_ms, side="right"))
    if high <= low:
        return None
    gaps = starts.at_ms[None, low:high] - from_ms[:, None]
    return Link(arc.source, rows, slice(low, high), arc.log_prior + arc.gap.at(gaps))


def _within_beam(scores: Floats, passed: Floats, at_ms: Floats, beam: float) -> Indexes:
    """Find the moments near the best of their own stretch of time, and not hopeless.

    Moments far apart stand for different ideas of which slot is when; one that lags may
    win in the end, so across stretches the beam is wider than within one.
    """
    whole = scores + passed
    best = np.max(whole, initial=-np.inf)
    if not np.isfinite(best):
        return np.zeros(0, np.int64)
    stretch = (at_ms // STRETCH_MS).astype(np.int64)
    tops = np.full(int(stretch.max()) + 1, -np.inf)
    np.maximum.at(tops, stretch, whole)
    return np.flatnonzero((whole > tops[stretch] - beam) & (whole > best - WIDE * beam))


def _body(slot: Slot, at_start: Floats, starts: Moments, ends: Moments, beam: float) -> Body | None:
    rows = _within_beam(at_start, starts.passed, starts.at_ms, beam)
    if not len(rows) or slot.length is None:
        return None
    from_ms = starts.at_ms[rows]
    low = int(np.searchsorted(ends.at_ms, from_ms.min() + slot.length.low_ms))
    high = int(np.searchsorted(ends.at_ms, from_ms.max() + slot.length.high_ms, side="right"))
    if high <= low:
        return None
    to_ms = ends.at_ms[low:high]
    score = slot.length.at(to_ms[None, :] - from_ms[:, None])
    score = score + (ends.score + slot.end_sum)[None, low:high] - slot.start_sum[rows][:, None]
    for tie in slot.ties:
        score = score + _tie_gain(tie, from_ms[:, None], to_ms[None, :])
    return Body(rows, slice(low, high), score)


def _tie_gain(tie: Tie, start_ms: Floats, end_ms: Floats) -> Floats:
    off = (start_ms + tie.share * (end_ms - start_ms) - tie.at_ms) / tie.spread_ms
    gain = tie.log_gain * (2.0 * np.exp(-0.5 * off**2) - 1.0)
    return np.where((start_ms < tie.at_ms) & (tie.at_ms < end_ms), gain, 0.0)


def starts_reached(
    slot: Slot,
    links: Sequence[Link],
    reached: Sequence[Floats],
    starts: Moments,
    combine: Combine,
    end_count: int,
) -> Floats:
    """Score every start of a slot, given the scores of its sources' ends."""
    total = np.full(len(starts.at_ms), -np.inf)
    for link in links:
        scores = beginning(end_count) if link.source < 0 else reached[link.source]
        step = combine(scores[link.rows][:, None] + link.score, 0)
        pair = np.stack([total[link.cols], step])
        total[link.cols] = combine(pair, 0)
    return total + starts.score + slot.start_score


def ends_reached(body: Body | None, at_start: Floats, combine: Combine, end_count: int) -> Floats:
    """Score every end of a slot, given the scores of its starts."""
    total = np.full(end_count + 1, -np.inf)
    if body is not None:
        total[body.cols] = combine(at_start[body.rows][:, None] + body.score, 0)
    return total
