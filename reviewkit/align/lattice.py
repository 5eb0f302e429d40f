"""The lattice of every possible placement, and its forward pass.

Each slot takes one start moment and one later end moment. Only moments whose forward
score lies within a beam of the best are kept, which makes the cost grow with the
length of the time line and not with its square.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from reviewkit.align.density import STEP_MS, Density, Floats

BEAM = 8.0
WIDE = 4.5
STRETCH_MS = 20_000
# Steps are kept in matrices for starting moments of one such stretch of time. A wider one
# holds more steps that are too long to be taken, narrower ones are more to look after.
HOP_MS = 120_000
Indexes = NDArray[np.int64]


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
class Hop:
    """Scores of the steps from moments ``rows``, close in time, to moments ``cols``.

    Of a link, from the ends of slot ``source`` to the starts of the next; of a body, from
    a slot's starts to its ends. ``chance`` is ``exp(score - top)``: sums over many steps
    are products with it, which is far cheaper than adding logs.
    """

    source: int
    rows: Indexes
    cols: Indexes
    score: Floats
    chance: Floats
    top: float


@dataclass(frozen=True, slots=True, eq=False)
class Lattice:
    """Scores of all steps kept, slot by slot; ends carry one extra place, the beginning."""

    slots: tuple[Slot, ...]
    starts: Moments
    ends: Moments
    links: tuple[tuple[Hop, ...], ...]
    bodies: tuple[tuple[Hop, ...], ...]


def sum_onward(hop: Hop, scores: Floats) -> Floats:
    """Add up, for every column, all ways to get there, given the scores of all rows."""
    return _log_product(scores[hop.rows], hop.chance, hop.top)


def sum_back(hop: Hop, scores: Floats) -> Floats:
    """Add up, for every row, all ways onward, given the scores of the columns."""
    return _log_product(scores[hop.cols], hop.chance.T, hop.top)


def best_onward(hop: Hop, scores: Floats) -> Floats:
    """Give, for every column, the best way to get there."""
    best: Floats = np.max(scores[hop.rows][:, None] + hop.score, axis=0)
    return best


Onward = Callable[[Hop, Floats], Floats]
Join = Callable[[Floats, Floats], Floats]


def _log_product(scores: Floats, chance: Floats, top: float) -> Floats:
    best = np.max(scores, initial=-np.inf)
    if not np.isfinite(best):
        return np.full(chance.shape[1], -np.inf)
    with np.errstate(divide="ignore"):
        total: Floats = np.log(np.exp(scores - best) @ chance) + (best + top)
    return total


def build_lattice(
    slots: Sequence[Slot],
    starts: Moments,
    ends: Moments,
    *,
    beam: float = BEAM,
    hop_ms: float = HOP_MS,
) -> Lattice:
    """Keep every step that a forward pass finds within ``beam`` of the best.

    Args:
        slots: In an order in which every arc's source comes before its slot.
        starts: S candidate starts.
        ends: E candidate ends.
        beam: Log-probability below the best of a slot at which moments are dropped.
        hop_ms: Steps from moments of one such stretch of time share a matrix.
    """
    reached: list[Floats] = []
    links: list[tuple[Hop, ...]] = []
    bodies: list[tuple[Hop, ...]] = []
    end_count = len(ends.at_ms)
    for slot in slots:
        sources = [(arc, source_scores(reached, arc, end_count)) for arc in slot.arcs]
        if slot.length is None:
            reached.append(pass_on(reached, slot, np.logaddexp, end_count))
            links.append(())
            bodies.append(())
            continue
        ways = [
            hop for arc, scores in sources for hop in _link(arc, scores, starts, ends, beam, hop_ms)
        ]
        at_start = starts_reached(slot, ways, reached, starts, sum_onward, np.logaddexp, end_count)
        alive = _within_beam(at_start, starts.passed, starts.at_ms, beam)
        body = _body(slot, np.flatnonzero(alive), starts, ends, hop_ms)
        at_end = ends_reached(body, at_start, sum_onward, np.logaddexp, end_count)
        to_ms, passed = np.append(ends.at_ms, 0.0), np.append(ends.passed, 0.0)
        links.append(_narrowed(ways, alive))
        bodies.append(_narrowed(body, _within_beam(at_end, passed, to_ms, beam)))
        reached.append(at_end)
    return Lattice(tuple(slots), starts, ends, tuple(links), tuple(bodies))


def beginning(end_count: int) -> Floats:
    """Give the scores before anything was placed: only the extra place is reached."""
    scores = np.full(end_count + 1, -np.inf)
    scores[-1] = 0.0
    return scores


def source_scores(reached: Sequence[Floats], arc: Arc, end_count: int) -> Floats:
    """Give the scores of the ends that an arc comes from."""
    return beginning(end_count) if arc.source < 0 else reached[arc.source]


def pass_on(reached: Sequence[Floats], slot: Slot, join: Join, end_count: int) -> Floats:
    """Score the ends that a pass hands on."""
    total = np.full(end_count + 1, -np.inf)
    for arc in slot.arcs:
        total = join(total, source_scores(reached, arc, end_count) + arc.log_prior)
    return total


def _link(
    arc: Arc, scores: Floats, starts: Moments, ends: Moments, beam: float, hop_ms: float
) -> Iterator[Hop]:
    if arc.gap is None:
        return
    from_ms = np.append(ends.at_ms, 0.0)
    alive = _within_beam(scores, np.append(ends.passed, 0.0), from_ms, beam)
    for rows in _by_stretch(np.flatnonzero(alive), from_ms, hop_ms):
        low, high = _reach(from_ms[rows], arc.gap, starts.at_ms)
        if low < high:
            gaps = starts.at_ms[None, low:high] - from_ms[rows, None]
            yield _hop(arc.source, rows, np.arange(low, high), arc.log_prior + arc.gap.at(gaps))


def _by_stretch(rows: Indexes, at_ms: Floats, hop_ms: float) -> list[Indexes]:
    """Part moments where one is far from the one before: steps lead only so far from each."""
    stretch = at_ms[rows] // hop_ms
    return np.split(rows, np.flatnonzero(np.diff(stretch)) + 1) if len(rows) else []


def _reach(from_ms: Floats, duration: Density, to_ms: Floats) -> tuple[int, int]:
    """Give the first place, and the one after the last, that a duration may lead to."""
    low = np.searchsorted(to_ms, from_ms.min() + duration.low_ms - STEP_MS)
    high = np.searchsorted(to_ms, from_ms.max() + duration.high_ms + STEP_MS, side="right")
    return int(low), int(high)


def _within_beam(scores: Floats, passed: Floats, at_ms: Floats, beam: float) -> NDArray[np.bool_]:
    """Tell which moments are near the best of their own stretch of time, and not hopeless.

    Moments far apart stand for different ideas of which slot is when; one that lags may
    win in the end, so across stretches the beam is wider than within one.
    """
    whole = scores + passed
    best = np.max(whole, initial=-np.inf)
    if not np.isfinite(best):
        return np.zeros(len(whole), dtype=bool)
    stretch = (at_ms // STRETCH_MS).astype(np.int64)
    tops = np.full(int(stretch.max()) + 1, -np.inf)
    np.maximum.at(tops, stretch, whole)
    return (whole > tops[stretch] - beam) & (whole > best - WIDE * beam)


def _body(
    slot: Slot, alive: Indexes, starts: Moments, ends: Moments, hop_ms: float
) -> tuple[Hop, ...]:
    if slot.length is None:
        return ()
    hops = []
    for rows in _by_stretch(alive, starts.at_ms, hop_ms):
        from_ms = starts.at_ms[rows]
        low, high = _reach(from_ms, slot.length, ends.at_ms)
        if low < high:
            to_ms = ends.at_ms[low:high]
            score = slot.length.at(to_ms[None, :] - from_ms[:, None])
            score += (ends.score + slot.end_sum)[None, low:high] - slot.start_sum[rows][:, None]
            for tie in slot.ties:
                score += _tie_gain(tie, from_ms[:, None], to_ms[None, :])
            hops.append(_hop(-1, rows, np.arange(low, high), score))
    return tuple(hops)


def _tie_gain(tie: Tie, start_ms: Floats, end_ms: Floats) -> Floats:
    off = (start_ms + tie.share * (end_ms - start_ms) - tie.at_ms) / tie.spread_ms
    gain = tie.log_gain * (2.0 * np.exp(-0.5 * off**2) - 1.0)
    return np.where((start_ms < tie.at_ms) & (tie.at_ms < end_ms), gain, 0.0)


def _hop(source: int, rows: Indexes, cols: Indexes, score: Floats) -> Hop:
    top = float(np.max(score))
    top = top if np.isfinite(top) else 0.0
    return Hop(source, rows, cols, score, np.exp(score - top), top)


def _narrowed(hops: Sequence[Hop], alive: NDArray[np.bool_]) -> tuple[Hop, ...]:
    """Keep only the columns that are still alive; the rest would only take room."""
    kept = []
    for hop in hops:
        stay = np.flatnonzero(alive[hop.cols])
        if len(stay):
            score, chance = hop.score[:, stay], hop.chance[:, stay]
            kept.append(Hop(hop.source, hop.rows, hop.cols[stay], score, chance, hop.top))
    return tuple(kept)


def starts_reached(
    slot: Slot,
    links: Sequence[Hop],
    reached: Sequence[Floats],
    starts: Moments,
    onward: Onward,
    join: Join,
    end_count: int,
) -> Floats:
    """Score every start of a slot, given the scores of its sources' ends."""
    total = np.full(len(starts.at_ms), -np.inf)
    for link in links:
        scores = beginning(end_count) if link.source < 0 else reached[link.source]
        total[link.cols] = join(total[link.cols], onward(link, scores))
    return total + starts.score + slot.start_score


def ends_reached(
    body: Sequence[Hop], at_start: Floats, onward: Onward, join: Join, end_count: int
) -> Floats:
    """Score every end of a slot, given the scores of its starts."""
    total = np.full(end_count + 1, -np.inf)
    for hop in body:
        total[hop.cols] = join(total[hop.cols], onward(hop, at_start))
    return total
