"""Lay a plan out as slots for the aligner: what may follow what, and for how long.

Every planned row is a slot that may be passed over; after every row there may be an
interval that nobody planned; two neighbouring moves may trade places, as may the two sides
of one, and moves that are further apart where the talk has shown that they may have. Coaches run
timers, so lengths and rests have a narrow spike where the plan has them, and heavy
tails, because the plan must never talk the drift away.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from reviewkit.align import Arc, Density, flat, spike_and_tail
from reviewkit.model import Plan, PlanRow

# A trade of longer runs of rows than this is told by the names, not by the layout.
MOST_TRADED_ROWS = 4
_SIDES = 2


# A length nearer to what was expected is nothing that anybody remarks on.
REMARKED_MS = 3500.0
# Lengths that a coach gives an interval nobody planned, where not that of the row before it.
_ROUND_MS = (20_000.0, 25_000.0, 30_000.0, 40_000.0)
# The share of a spike (its scale unused), then shares of tails and their scales in ms.
Parts = tuple[tuple[float, float], ...]

_ANY_REST = ((12_000.0, 1.0),)
_LOOSE: Parts = ((0.2, 0.0), (0.4, 8000.0), (0.4, 25_000.0))
# The timer that rules the rests of a class most often goes on around what nobody planned.
_BEFORE_UNPLANNED: Parts = ((0.35, 0.0), (0.30, 8000.0), (0.35, 25_000.0))
_AFTER_UNPLANNED: Parts = ((0.55, 0.0), (0.20, 8000.0), (0.25, 25_000.0))
_UNPLANNED: Parts = ((0.60, 0.0), (0.25, 10_000.0), (0.15, 20_000.0))


@dataclass(frozen=True, slots=True)
class Habits:
    """How a class keeps its plan: log-probabilities of departures, shapes of times.

    A length is expected at ``length_factor`` times the plan plus ``length_shift_ms``.
    """

    skip: float = -3.8
    skip_again: float = -2.5
    skip_before_alike: float = -2.0
    trade: float = -1.5
    far_trade: float = -2.6
    side_trade: float = -4.0
    added: float = -1.3
    length_factor: float = 1.0
    length_shift_ms: int = 0
    rest_shift_ms: int = 0
    spike_ms: float = 650.0
    length_parts: Parts = (
        (0.70, 0.0),
        (0.04, 2500.0),
        (0.26, 8000.0),
    )
    rest_parts: Parts = ((0.85, 0.0), (0.06, 3000.0), (0.09, 20_000.0))
    skip_parts: Parts = ((0.4, 0.0), (0.3, 8000.0), (0.3, 25_000.0))
    longest_rest_ms: int = 180_000


ANY_COACH = Habits()
# Before a coach's own lengths are known, the plan's must count for little, and so must its
# rests: a coach who is six seconds short every time would else be heard to begin six seconds
# early, as then both are as planned.
FIRST_LOOK = replace(
    ANY_COACH,
    length_parts=((0.02, 0.0), (0.08, 2500.0), (0.90, 9000.0)),
    rest_parts=((0.55, 0.0), (0.15, 3000.0), (0.30, 20_000.0)),
)
# Under few stamps a length as planned would pass for one that was heard, and the plan would
# talk the drift away: it says next to nothing there, at the price of some tenths of a second
# of every edge. Rests as planned still tell one edge by another. Trades, and what nobody planned,
# are told by the talk inside, which is blurred there, so more is asked of them.
FEW_STAMPS = replace(
    ANY_COACH,
    trade=-2.0,
    far_trade=-3.4,
    added=-1.8,
    length_parts=((0.005, 0.0), (0.03, 2500.0), (0.965, 13_000.0)),
    rest_parts=((0.95, 0.0), (0.02, 3000.0), (0.03, 20_000.0)),
)


@dataclass(frozen=True, slots=True)
class LaidSlot:
    """A slot before it has scores: its plan row (None when nobody planned it)."""

    row: int | None
    arcs: tuple[Arc, ...]
    length: Density | None


@dataclass(frozen=True, slots=True)
class Layout:
    """All slots of a plan, sources before what follows them, and where paths may end."""

    slots: tuple[LaidSlot, ...]
    final: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Source:
    """A slot that something may follow, and how long the gap after it may be."""

    slot: int
    gap: Density
    log_prior: float = 0.0


@dataclass(slots=True)
class _Builder:
    """Collects slots while a plan is laid out."""

    plan: Plan
    habits: Habits
    slots: list[LaidSlot]
    densities: dict[tuple[object, ...], Density]

    def add(self, row: int | None, sources: Sequence[_Source], length: Density | None) -> int:
        arcs = tuple(Arc(source.slot, source.log_prior, source.gap) for source in sources)
        self.slots.append(LaidSlot(row, arcs, length))
        return len(self.slots) - 1

    def length(self, row: PlanRow) -> Density:
        habits = self.habits
        centre = habits.length_factor * row.work_ms + habits.length_shift_ms
        usual_ms = (centre - REMARKED_MS, centre + REMARKED_MS)
        return self._density(
            ((centre, 1.0),), habits.length_parts, habits.spike_ms,
            int(min(5000, 0.3 * row.work_ms)), 2 * row.work_ms + 20_000, usual_ms,
        )  # fmt: skip

    def rest(self, row: PlanRow) -> Density:
        """Give the gap after a row that was done."""
        if row.rest_ms is None:
            return self._density(
                ((10_000.0, 1.0),), ((0.1, 0.0), (0.45, 8000.0), (0.45, 30_000.0)), 4000.0, 0,
                self.habits.longest_rest_ms,
            )  # fmt: skip
        centre = max(0.0, float(row.rest_ms + self.habits.rest_shift_ms))
        return self._density(
            ((centre, 1.0),), self.habits.rest_parts, 1.15 * self.habits.spike_ms, 0,
            row.rest_ms + self.habits.longest_rest_ms,
        )  # fmt: skip

    def rest_with_skip(self, done: PlanRow, skipped: PlanRow) -> Density:
        """Give the gap from a row that was done over one that was not."""
        one, other = float(done.rest_ms or 0), float(skipped.rest_ms or 0)
        slot = one + other + skipped.work_ms
        centres = ((one, 0.4), (other, 0.2), (one + other, 0.25), (slot, 0.15))
        return self._density(
            centres, self.habits.skip_parts, 2 * self.habits.spike_ms, 0,
            self.habits.longest_rest_ms + int(one + other) + skipped.work_ms,
        )  # fmt: skip

    def before_unplanned(self, row: PlanRow) -> Density:
        """Give the gap from a row to an interval that nobody planned."""
        return self._around_unplanned(row, _BEFORE_UNPLANNED)

    def after_unplanned(self, row: PlanRow) -> Density:
        """Give the gap after an interval that nobody planned, done after a row."""
        return self._around_unplanned(row, _AFTER_UNPLANNED)

    def loose(self) -> Density:
        """Give the gap to an interval that nobody planned, when the row before was passed over."""
        return self._density(_ANY_REST, _LOOSE, 5000.0, 0, self.habits.longest_rest_ms)

    def unplanned(self, row: PlanRow) -> Density:
        """Give the length of an interval that nobody planned, done after a row."""
        centres = tuple((length_ms, 0.7 / len(_ROUND_MS)) for length_ms in _ROUND_MS)
        return self._density(
            ((float(row.work_ms), 0.3), *centres), _UNPLANNED, 1.5 * self.habits.spike_ms,
            8000, 150_000,
        )  # fmt: skip

    def _around_unplanned(self, row: PlanRow, parts: Parts) -> Density:
        """Give a gap that is likely a rest of the plan: the row's, or another of its block."""
        if row.rest_ms is None:
            return self.loose()
        rests = [one.rest_ms for one in self.plan.rows if one.block == row.block and one.rest_ms]
        usual = float(max(set(rests), key=rests.count, default=row.rest_ms))
        return self._density(
            ((float(row.rest_ms), 0.65), (usual, 0.35)), parts, 1.5 * self.habits.spike_ms, 0,
            self.habits.longest_rest_ms,
        )  # fmt: skip

    def _density(
        self,
        centres: tuple[tuple[float, float], ...],
        parts: tuple[tuple[float, float], ...],
        spike_ms: float,
        low_ms: int,
        high_ms: int,
        usual_ms: tuple[float, float] | None = None,
    ) -> Density:
        key = (centres, parts, spike_ms, low_ms, high_ms, usual_ms)
        if key not in self.densities:
            self.densities[key] = spike_and_tail(
                centres, parts, spike_ms=spike_ms, low_ms=low_ms, high_ms=high_ms, usual_ms=usual_ms
            )
        return self.densities[key]


@dataclass(frozen=True, slots=True)
class Trade:
    """Two runs of rows, each of one move, that may have been done in each other's place."""

    one: range
    other: range

    @property
    def is_far(self) -> bool:
        """Whether other moves lie between the two."""
        return self.one[-1] + 1 < self.other[0]

    @property
    def order(self) -> tuple[int, ...]:
        """The rows as they were done."""
        return (*self.other, *range(self.one[-1] + 1, self.other[0]), *self.one)


def lay_out(plan: Plan, habits: Habits, far_trades: Sequence[Trade] = ()) -> Layout:
    """Lay a plan out as slots.

    Args:
        plan: The rows in their order.
        habits: How the class keeps its plan.
        far_trades: Moves that may have traded places though others lie between them.

    Returns:
        For every row a slot, a pass and an added slot after it, and a second chain of
        slots, and an added one, for every two moves or sides that may trade places.
    """
    builder = _Builder(plan, habits, [], {})
    rows = plan.rows
    first = flat()
    done: list[_Source] = [_Source(-1, first)]
    traded: dict[int, list[_Source]] = {}
    trades = (*near_trades(rows), *side_trades(rows), *far_trades)
    after: Sequence[_Source] = done
    for index, row in enumerate(rows):
        before = [*after, *traded.get(index, [])]
        for trade in trades:
            if trade.one[0] == index:
                traded.setdefault(trade.other[-1] + 1, []).extend(_trade(builder, before, trade))
        after = _add_row(builder, before, index, row)
    ends = [*after, *traded.get(len(rows), [])]
    return Layout(tuple(builder.slots), tuple(source.slot for source in ends if source.slot >= 0))


def _add_row(
    builder: _Builder, before: Sequence[_Source], index: int, row: PlanRow
) -> list[_Source]:
    """Add a row, the pass over it and an interval after it; give what may precede the next."""
    rows, habits = builder.plan.rows, builder.habits
    placed = builder.add(index, before, builder.length(row))
    passes = [
        replace(source, log_prior=source.log_prior + _skip_cost(builder, source, index))
        for source in before
    ]
    passed = builder.add(None, passes, None)
    rest = builder.rest(row)
    over = builder.rest_with_skip(rows[index - 1], row) if index else flat()
    sources = [
        _Source(placed, builder.before_unplanned(row), habits.added),
        _Source(passed, builder.loose(), habits.added - 1),
    ]
    added = builder.add(None, sources, builder.unplanned(row))
    return [
        _Source(placed, rest),
        _Source(passed, over),
        _Source(added, builder.after_unplanned(row)),
    ]


def _skip_cost(builder: _Builder, source: _Source, index: int) -> float:
    """Give what it costs to pass over a row; of rows alike, the last is the one left out."""
    habits, rows = builder.habits, builder.plan.rows
    is_pass = source.slot >= 0 and builder.slots[source.slot].length is None
    row = rows[index]
    has_alike = any(
        later.block == row.block and later.move == row.move for later in rows[index + 1 :]
    )
    cost = habits.skip_again if is_pass else habits.skip
    return cost + habits.skip_before_alike * has_alike


def move_runs(rows: Sequence[PlanRow]) -> list[range]:
    """Find the runs of rows that have one move, in one round of one block."""
    indexed = groupby(range(len(rows)), key=lambda i: (rows[i].block, rows[i].round, rows[i].move))
    runs = [list(members) for _, members in indexed]
    return [range(run[0], run[-1] + 1) for run in runs]


def near_trades(rows: Sequence[PlanRow]) -> list[Trade]:
    """List the neighbouring moves of one block that may trade places."""
    return [
        Trade(one, other)
        for one, other in pairwise(move_runs(rows))
        if rows[one[0]].block == rows[other[0]].block
        and max(len(one), len(other)) <= MOST_TRADED_ROWS
    ]


def side_trades(rows: Sequence[PlanRow]) -> list[Trade]:
    """List the moves of which one side may have come before the one that was planned first."""
    return [
        Trade(run[:1], run[1:])
        for run in move_runs(rows)
        if len(run) == _SIDES and {rows[row].side for row in run} == {"left", "right"}
    ]


def _trade(builder: _Builder, before: Sequence[_Source], trade: Trade) -> list[_Source]:
    """Add the chain of two moves in each other's place, and an interval after it that nobody
    planned; give where they lead on from."""
    rows, habits = builder.plan.rows, builder.habits
    cost = habits.far_trade if trade.is_far else habits.trade
    if rows[trade.one[0]].move == rows[trade.other[0]].move:
        cost = habits.side_trade
    sources = [replace(source, log_prior=source.log_prior + cost) for source in before]
    placed = -1
    # After a trade the timer still runs as planned: rests stay where the plan has them, but
    # for those inside a move, which it takes along to change sides.
    order, places = trade.order, range(trade.one[0], trade.other[-1] + 1)
    for index, timed, following in zip(order, places, (*order[1:], -1), strict=True):
        placed = builder.add(index, sources, builder.length(rows[index]))
        is_inside = following == index + 1
        sources = [_Source(placed, builder.rest(rows[index if is_inside else timed]))]
    last = rows[places[-1]]
    unplanned = [_Source(placed, builder.before_unplanned(last), habits.added)]
    added = builder.add(None, unplanned, builder.unplanned(last))
    return [*sources, _Source(added, builder.after_unplanned(last))]
