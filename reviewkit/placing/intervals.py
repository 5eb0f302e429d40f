"""Place the plan's rows, and intervals nobody planned, on the clock of the talk.

The aligner weighs all placements together: what the talk says of edges, which move each
stretch of talk speaks for, and how this class keeps its plan. Two passes: the first
shows how this coach starts, stops, keeps lengths and talks in each move, the second goes by it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from reviewkit.align import Placement, best_path, build_lattice, place_slots, weigh_ways
from reviewkit.align.posterior import Step
from reviewkit.align.refine import NINE_TENTHS
from reviewkit.model import Clock, EdgeEvidence, Interval, MoveEvidence, Plan, PlanRow, Talk
from reviewkit.placing.edges_found import TAKEN_BACK, Found, read_edges
from reviewkit.placing.habits import learn_habits
from reviewkit.placing.own_moves import RowLook, learn_moves
from reviewkit.placing.own_voice import FirstLook, learn_voice
from reviewkit.placing.scoring import TRUST, Floats, Ground, SlotScorer, Trust, find_ground
from reviewkit.placing.slots import (
    ANY_COACH,
    FEW_STAMPS,
    FIRST_LOOK,
    Habits,
    Layout,
    Trade,
    lay_out,
)
from reviewkit.placing.trades import find_far_trades
from reviewkit.timing import length_range, with_timing


@dataclass(frozen=True, slots=True, eq=False)
class Alignment:
    """A plan laid on a talk: the path taken and every slot's posterior.

    ``edges`` and ``moves`` are what was known of both, this coach's own habits included.
    ``layout`` has densities that know nothing of the clock's blur.
    """

    edges: EdgeEvidence
    moves: MoveEvidence
    ground: Ground
    layout: Layout
    steps: tuple[Step, ...]
    placements: tuple[Placement, ...]


def build_intervals(
    talk: Talk,
    edges: EdgeEvidence,
    moves: MoveEvidence,
    plan: Plan,
    *,
    tolerance_ms: int | None = None,
    trust: Trust = TRUST,
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

    Returns:
        One interval per row and one per added interval, in the order they happened;
        skipped rows stand where they were planned.
    """
    if not plan.rows or not talk.words:
        return tuple(_skipped(plan, row) for row in range(len(plan.rows)))
    aligned = align_plan(talk, edges, moves, plan, trust=trust)
    found = read_edges(
        aligned.steps, aligned.placements, aligned.ground, aligned.layout, talk.clock,
        taken_back=TAKEN_BACK[talk.clock],
    )  # fmt: skip
    return tuple(with_timing(one, tolerance_ms) for one in _in_order(found, plan, talk.clock))


def align_plan(
    talk: Talk,
    edges: EdgeEvidence,
    moves: MoveEvidence,
    plan: Plan,
    *,
    trust: Trust = TRUST,
) -> Alignment:
    """Lay a plan on a talk; then again, knowing this coach's own words and lengths."""
    is_exact = talk.clock != "blocks"
    unknown, usual = (FIRST_LOOK, ANY_COACH) if is_exact else (FEW_STAMPS, FEW_STAMPS)
    first = lay_on(talk, edges, moves, plan, trust=trust, habits=unknown)
    found = read_edges(first.steps, first.placements, first.ground, first.layout)
    words_ms = np.array([word.start_ms for word in talk.words], dtype=np.int64)
    own_edges = learn_voice(edges, look_back(first, edges), words_ms)
    own_habits = learn_habits(found, plan, usual, is_exact=is_exact)
    own_moves = learn_moves(moves, _rows_found(first, moves, plan), talk)
    scorer = SlotScorer(talk, edges, own_moves, first.ground, trust)
    far = find_far_trades(first.steps, first.layout, scorer, plan)
    return lay_on(talk, own_edges, own_moves, plan, trust=trust, habits=own_habits, far_trades=far)


def _rows_found(aligned: Alignment, moves: MoveEvidence, plan: Plan) -> list[RowLook]:
    """Give the rows on the path, as what is said in them is learned from."""
    place, ground = {move: at for at, move in enumerate(moves.moves)}, aligned.ground
    return [
        RowLook(
            place[plan.rows[row].move],
            slice(ground.start_words[step.start], ground.end_words[step.end]),
        )
        for step in aligned.steps
        if (row := aligned.layout.slots[step.slot].row) is not None
    ]


def lay_on(
    talk: Talk,
    edges: EdgeEvidence,
    moves: MoveEvidence,
    plan: Plan,
    *,
    trust: Trust = TRUST,
    habits: Habits = ANY_COACH,
    far_trades: Sequence[Trade] = (),
) -> Alignment:
    """Lay a plan on a talk once, going by what is known beforehand."""
    ground = find_ground(edges, plan, trust)
    scorer = SlotScorer(talk, edges, moves, ground, trust)
    blur = float(np.median([word.spread_ms for word in talk.words])) / NINE_TENTHS
    blurred = replace(habits, spike_ms=float(np.hypot(habits.spike_ms, 1.4 * blur)))
    layout = lay_out(plan, blurred, far_trades)
    slots = [scorer.slot(laid, plan) for laid in layout.slots]
    ways = weigh_ways(build_lattice(slots, ground.starts, ground.ends), layout.final)
    _, steps = best_path(ways)
    sharp = lay_out(plan, habits, far_trades)
    return Alignment(edges, moves, ground, sharp, steps, place_slots(ways))


def look_back(aligned: Alignment, edges: EdgeEvidence) -> FirstLook:
    """Say what a placement believes of every moment, and of every word."""
    starts, ends = np.zeros(len(edges.moments)), np.zeros(len(edges.moments))
    entered = np.zeros(len(edges.work) + 1)
    ground = aligned.ground
    for placement in aligned.placements:
        weights = placement.chance * placement.weights
        first, last = placement.pairs.T
        np.add.at(starts, ground.start_moments[first], weights)
        np.add.at(ends, ground.end_moments[last], weights)
        np.add.at(entered, ground.start_words[first], weights)
        np.subtract.at(entered, ground.end_words[last], weights)
    inside = np.cumsum(entered)[:-1]
    return FirstLook(np.minimum(starts, 1.0), np.minimum(ends, 1.0), np.clip(inside, 0.0, 1.0))


def chance_before_words(aligned: Alignment, talk: Talk) -> Floats:
    """Give for every word the chance that an interval starts or ends right before it."""
    chances = np.zeros(len(talk.words) + 1)
    before = [moment.word for moment in aligned.edges.moments]
    look = look_back(aligned, aligned.edges)
    for at_moments in (look.starts, look.ends):
        np.add.at(chances, before, at_moments)
    return np.minimum(chances, 1.0)


# --- intervals ------------------------------------------------------------------------


def _in_order(found: Sequence[Found], plan: Plan, clock: Clock) -> list[Interval]:
    by_time = sorted(found, key=lambda one: one.start.at_ms)
    rests = {id(one): max(0, after.start.at_ms - one.end.at_ms) for one, after in pairwise(by_time)}
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
        made.append(_interval(one, plan, context, rests.get(id(one)), clock, len(made)))
    return made + [_skipped(plan, row) for row in skipped if row > last_row]


def _interval(
    one: Found,
    plan: Plan,
    context: PlanRow,
    rest_ms: int | None,
    clock: Clock,
    place: int,
) -> Interval:
    row = context if one.row is None else plan.rows[one.row]
    is_added = one.row is None
    length_ms = one.end.at_ms - one.start.at_ms
    low_ms, high_ms = length_range(one.lengths, length_ms, one.length_reach_ms, clock)
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
        length_low_ms=low_ms,
        length_high_ms=high_ms,
        timing=None,
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
