"""Place the plan's rows, and intervals nobody planned, on the clock of the talk.

The aligner weighs all placements together: what the talk says of edges, which move each
stretch of talk speaks for, and how this class keeps its plan. Two passes: the first
finds the coach's own lengths, the second expects them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from reviewkit.align import (
    Moments,
    Placement,
    Slot,
    best_path,
    build_lattice,
    place_slots,
)
from reviewkit.align.posterior import Step
from reviewkit.model import (
    Edge,
    EdgeEvidence,
    Interval,
    Moment,
    MoveEvidence,
    Plan,
    PlanRow,
    Talk,
    Timing,
)
from reviewkit.slots import ANY_COACH, Habits, LaidSlot, Layout, lay_out

Floats = NDArray[np.float64]
Indexes = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Trust:
    """How much each kind of evidence counts against the others."""

    starts: float = 1.0
    ends: float = 1.0
    work: float = 0.06
    named: float = 0.9
    cued: float = 0.7
    side: float = 1.0
    announced_ms: int = 22_000
    named_after_ms: int = 10_000
    least_start: float = -8.5
    least_end: float = -7.0


TRUST = Trust()


@dataclass(frozen=True, slots=True, eq=False)
class _Ground:
    """The moments kept as starts and ends, with the word each one stands before."""

    starts: Moments
    ends: Moments
    start_words: Indexes
    end_words: Indexes
    start_spreads: Floats
    end_spreads: Floats


def build_intervals(
    talk: Talk,
    edges: EdgeEvidence,
    moves: MoveEvidence,
    plan: Plan,
    *,
    tolerance_ms: int | None = None,
    trust: Trust = TRUST,
    habits: Habits = ANY_COACH,
) -> tuple[Interval, ...]:
    """Find when every planned row was done, and intervals nobody planned.

    Args:
        talk: The words of the class.
        edges: Log-odds of starts and ends at every moment.
        moves: Which planned move each word speaks for.
        plan: The rows in their order.
        tolerance_ms: How far a length may be off before it is long or short; the larger
            of 3 s and 8 % of the plan when None.
        trust: Weights of the evidence.
        habits: What is expected of any coach before this class was heard.

    Returns:
        One interval per row and one per added interval, in the order they happened;
        skipped rows stand where they were planned.
    """
    if not plan.rows:
        return ()
    ground = _ground(edges, plan, trust)
    steps, placements, layout = _align(talk, edges, moves, plan, ground, trust, habits)
    found = _found(steps, placements, layout, ground)
    return _in_order(found, plan, tolerance_ms)


def _ground(edges: EdgeEvidence, plan: Plan, trust: Trust) -> _Ground:
    resting = _cumulated(np.array([_as_rest(edges.work)]))[0] * trust.work
    starts = _worth_keeping(edges, [m.start for m in edges.moments], trust.least_start)
    ends = _worth_keeping(edges, [m.end for m in edges.moments], trust.least_end)
    start_words = np.array([m.word for m in starts], dtype=np.int64)
    end_words = np.array([m.word for m in ends], dtype=np.int64)
    pace = _GAIN_PER_ROW * len(plan.rows) / max(1, sum(row_ms(row) for row in plan.rows))
    start_ms, end_ms = _array(m.at_ms for m in starts), _array(m.at_ms for m in ends)
    return _Ground(
        Moments(
            start_ms,
            trust.starts * _array(m.start for m in starts),
            resting[start_words] - pace * start_ms,
        ),
        Moments(
            end_ms, trust.ends * _array(m.end for m in ends), resting[end_words] - pace * end_ms
        ),
        start_words,
        end_words,
        _array(m.spread_ms for m in starts),
        _array(m.spread_ms for m in ends),
    )


# Log-probability that placing a row usually gains: a path that let time pass without
# placing rows has that much less to hope for.
_GAIN_PER_ROW = 5.0


def row_ms(row: PlanRow) -> int:
    """Give how long a row takes with the rest after it."""
    return row.work_ms + (row.rest_ms or 0)


# A moment this close to one that is this much likelier is not worth its time.
_CLOSE_MS = 1500
_MUCH = 5.5


def _worth_keeping(edges: EdgeEvidence, scores: Sequence[float], least: float) -> list[Moment]:
    """Keep the moments that may be an edge, and are not outshone by one right beside them."""
    at = np.array([moment.at_ms for moment in edges.moments])
    score = np.array(scores)
    low = np.searchsorted(at, at - _CLOSE_MS)
    high = np.searchsorted(at, at + _CLOSE_MS, side="right")
    best = np.array([score[a:b].max() for a, b in zip(low, high, strict=True)])
    kept = np.flatnonzero((score > least) & (score > best - _MUCH))
    return [edges.moments[index] for index in kept]


def _array(values: Iterable[float]) -> Floats:
    return np.fromiter(values, dtype=np.float64)


def _as_rest(work: Sequence[float]) -> Floats:
    """Give each word's log-likelihood as talk between intervals, against any talk."""
    odds = np.array(work) + _WORK_PRIOR
    rest: Floats = -np.logaddexp(0.0, odds) + np.logaddexp(0.0, _WORK_PRIOR)
    return rest


# Log-odds that any word is said during work.
_WORK_PRIOR = 0.8


def _align(
    talk: Talk,
    edges: EdgeEvidence,
    moves: MoveEvidence,
    plan: Plan,
    ground: _Ground,
    trust: Trust,
    habits: Habits,
) -> tuple[tuple[Step, ...], tuple[Placement, ...], Layout]:
    blur = float(np.median([word.spread_ms for word in talk.words] or [0])) / 1.645
    layout = lay_out(plan, replace(habits, spike_ms=float(np.hypot(habits.spike_ms, 1.4 * blur))))
    scorer = _Scorer(talk, edges, moves, ground, trust)
    slots = [scorer.slot(laid, plan) for laid in layout.slots]
    lattice = build_lattice(slots, ground.starts, ground.ends)
    _, steps = best_path(lattice, layout.final)
    _, placements = place_slots(lattice, layout.final)
    return steps, placements, layout


class _Scorer:
    """Turns evidence per word into scores per start and end of each slot."""

    def __init__(
        self, talk: Talk, edges: EdgeEvidence, moves: MoveEvidence, ground: _Ground, trust: Trust
    ) -> None:
        self.ground, self.trust = ground, trust
        self.place = {move: index for index, move in enumerate(moves.moves)}
        self.word_ms = np.array([word.start_ms for word in talk.words], dtype=np.float64)
        self.work = _cumulated(np.array([edges.work])) * trust.work
        self.named = _cumulated(np.array(moves.named)) * trust.named
        self.cued = _cumulated(np.array(moves.cued)) * trust.cued
        self.sides = _cumulated(np.array([moves.sides])) * trust.side
        start_ms = ground.starts.at_ms
        self.said_from = np.searchsorted(self.word_ms, start_ms - trust.announced_ms)
        self.said_to = np.searchsorted(self.word_ms, start_ms + trust.named_after_ms)

    def slot(self, laid: LaidSlot, plan: Plan) -> Slot:
        if laid.length is None:
            return Slot(laid.arcs)
        inside = self.work[0]
        at_start = np.zeros(len(self.ground.start_words))
        if laid.row is not None:
            row = plan.rows[laid.row]
            move = self.place[row.move]
            inside = inside + self.cued[move]
            named = self.named[move]
            at_start = at_start + np.clip(named[self.said_to] - named[self.said_from], -2.5, 2.5)
            at_start = at_start + self._side(row)
        return Slot(
            laid.arcs,
            laid.length,
            at_start,
            inside[self.ground.start_words],
            inside[self.ground.end_words],
        )

    def _side(self, row: PlanRow) -> Floats:
        if row.side not in ("left", "right"):
            return np.zeros(len(self.said_to))
        heard = self.sides[0][self.said_to] - self.sides[0][self.said_from]
        turned: Floats = np.clip(heard if row.side == "left" else -heard, -1.5, 1.5)
        return turned


def _cumulated(rows: Floats) -> Floats:
    """Sum each row up to every place, with a zero before the first."""
    sums: Floats = np.concatenate([np.zeros((len(rows), 1)), np.cumsum(rows, axis=1)], axis=1)
    return sums


@dataclass(frozen=True, slots=True)
class _Found:
    """One placed slot: its row, edges and the range of its length."""

    row: int | None
    start: Edge
    end: Edge
    length_low_ms: int
    length_high_ms: int
    certainty: float


def _found(
    steps: Sequence[Step], placements: Sequence[Placement], layout: Layout, ground: _Ground
) -> list[_Found]:
    chances: dict[int, float] = {}
    for laid, placement in zip(layout.slots, placements, strict=True):
        if laid.row is not None:
            chances[laid.row] = chances.get(laid.row, 0.0) + placement.chance
    found = []
    for step in steps:
        row = layout.slots[step.slot].row
        certainty = placements[step.slot].chance if row is None else min(1.0, chances[row])
        found.append(_measure(row, step, placements[step.slot], ground, certainty))
    return found


def _measure(
    row: int | None, step: Step, placement: Placement, ground: _Ground, certainty: float
) -> _Found:
    starts, ends = placement.pairs[:, 0], placement.pairs[:, 1]
    start_ms, end_ms = ground.starts.at_ms[starts], ground.ends.at_ms[ends]
    start = _edge(
        start_ms, placement.weights, ground.start_spreads[starts], ground.starts.at_ms[step.start]
    )
    end = _edge(end_ms, placement.weights, ground.end_spreads[ends], ground.ends.at_ms[step.end])
    lengths = end_ms - start_ms
    spread = np.hypot(ground.start_spreads[starts], ground.end_spreads[ends])
    low, high = _range(lengths, placement.weights, spread)
    length = end.at_ms - start.at_ms
    return _Found(row, start, end, min(low, length), max(high, length), certainty)


def _edge(at_ms: Floats, weights: Floats, spreads: Floats, path_ms: float) -> Edge:
    best = round(path_ms if not len(at_ms) else _quantile(at_ms, weights, 0.5))
    low, high = _range(at_ms, weights, spreads)
    return Edge(max(0, best), max(0, min(low, best)), max(high, best))


def _range(values: Floats, weights: Floats, spreads: Floats) -> tuple[int, int]:
    if not len(values):
        return 0, 0
    low = _quantile(values - spreads, weights, 0.05)
    high = _quantile(values + spreads, weights, 0.95)
    return round(low), round(high)


def _quantile(values: Floats, weights: Floats, share: float) -> float:
    order = np.argsort(values, kind="stable")
    at = int(np.searchsorted(np.cumsum(weights[order]), share * weights.sum()))
    return float(values[order][min(at, len(values) - 1)])


# --- intervals ------------------------------------------------------------------------


def judge_timing(planned_ms: int, low_ms: int, high_ms: int, tolerance_ms: int | None) -> Timing:
    """Say whether a length is on time; ``unclear`` when its range crosses the tolerance."""
    tolerance = max(3000, round(0.08 * planned_ms)) if tolerance_ms is None else tolerance_ms
    if low_ms > planned_ms + tolerance:
        return "long"
    if high_ms < planned_ms - tolerance:
        return "short"
    if planned_ms - tolerance <= low_ms and high_ms <= planned_ms + tolerance:
        return "on time"
    return "unclear"


def _in_order(
    found: Sequence[_Found], plan: Plan, tolerance_ms: int | None
) -> tuple[Interval, ...]:
    by_time = sorted(found, key=lambda one: one.start.at_ms)
    rests = {id(one): after.start.at_ms - one.end.at_ms for one, after in pairwise(by_time)}
    done = {one.row for one in found}
    made: list[Interval] = []
    skipped = [row for row in range(len(plan.rows)) if row not in done]
    last_row = -1
    for one in by_time:
        if one.row is not None:
            made += [_skipped(plan, row) for row in skipped if last_row < row < one.row]
            skipped = [row for row in skipped if row > one.row or row < last_row]
            last_row = max(last_row, one.row)
        context = plan.rows[max(0, last_row)]
        made.append(_interval(one, plan, context, rests.get(id(one)), tolerance_ms, len(made)))
    made += [_skipped(plan, row) for row in skipped if row > last_row]
    return tuple(made)


def _interval(
    one: _Found,
    plan: Plan,
    context: PlanRow,
    rest_ms: int | None,
    tolerance_ms: int | None,
    place: int,
) -> Interval:
    row = context if one.row is None else plan.rows[one.row]
    is_added = one.row is None
    return Interval(
        id=f"added-{place + 1}" if is_added else f"row-{(one.row or 0) + 1}",
        plan_row=None if one.row is None else one.row + 1,
        block=row.block,
        kind=row.kind,
        round=row.round,
        move="" if is_added else row.move,
        side="" if is_added else row.side,
        planned_ms=None if is_added else row.work_ms,
        status="added" if is_added else "done",
        start=one.start,
        end=one.end,
        length_low_ms=one.length_low_ms,
        length_high_ms=one.length_high_ms,
        timing=None
        if is_added
        else judge_timing(row.work_ms, one.length_low_ms, one.length_high_ms, tolerance_ms),
        planned_rest_ms=None if is_added else row.rest_ms,
        rest_after_ms=rest_ms,
        certainty=one.certainty,
    )


def _skipped(plan: Plan, index: int) -> Interval:
    row = plan.rows[index]
    return Interval(
        id=f"row-{index + 1}", plan_row=index + 1, block=row.block, kind=row.kind,
        round=row.round, move=row.move, side=row.side, planned_ms=row.work_ms,
        status="skipped", start=None, end=None, length_low_ms=None, length_high_ms=None,
        timing=None, planned_rest_ms=row.rest_ms, rest_after_ms=None,
    )  # fmt: skip
