"""Turn evidence per word and moment into what the aligner adds up: scores of slots.

The ground is the moments worth trying; a slot's scores are how much the talk around a
start, and inside, speaks for its row.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reviewkit.align import Moments, Slot
from reviewkit.model import EdgeEvidence, MoveEvidence, Plan, PlanRow, Side, Talk
from reviewkit.once import once_for
from reviewkit.placing.slots import LaidSlot

Floats = NDArray[np.float64]
Indexes = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Trust:
    """How much each kind of evidence counts against the others."""

    starts: float = 0.85
    ends: float = 0.7
    work: float = 0.08
    named: float = 0.8
    cued: float = 0.85
    side: float = 1.4
    unplanned: float = 5.0
    remarks: float = 1.0
    announced_ms: int = 22_000
    named_after_ms: int = 10_000
    least_start: float = -8.5
    least_end: float = -10.0


TRUST = Trust()


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """The moments kept as starts and ends: their places among all, and the word after each."""

    starts: Moments
    ends: Moments
    start_moments: Indexes
    end_moments: Indexes
    start_words: Indexes
    end_words: Indexes
    start_spreads: Floats
    end_spreads: Floats


def find_ground(edges: EdgeEvidence, plan: Plan, trust: Trust) -> Ground:
    """Keep the moments worth trying as starts and as ends."""
    resting = _cumulated(np.array([_as_rest(edges.work)]))[0] * trust.work
    start_moments = _worth_keeping(
        edges, [m.start for m in edges.moments], trust.least_start, MOST_STARTS
    )
    end_moments = _worth_keeping(edges, [m.end for m in edges.moments], trust.least_end, MOST_ENDS)
    starts = [edges.moments[index] for index in start_moments]
    ends = [edges.moments[index] for index in end_moments]
    start_words = np.array([m.word for m in starts], dtype=np.int64)
    end_words = np.array([m.word for m in ends], dtype=np.int64)
    pace = _GAIN_PER_ROW * len(plan.rows) / max(1, sum(row_ms(row) for row in plan.rows))
    start_ms, end_ms = _array(m.at_ms for m in starts), _array(m.at_ms for m in ends)
    return Ground(
        Moments(
            start_ms,
            trust.starts * _array(m.start for m in starts),
            resting[start_words] - pace * start_ms,
        ),
        Moments(
            end_ms,
            trust.ends * _array(m.end for m in ends),
            resting[end_words] - pace * end_ms,
            trust.remarks * _array(m.short for m in ends),
            trust.remarks * _array(m.long for m in ends),
        ),
        start_moments,
        end_moments,
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
# No stretch of time has more moments worth trying than these.
STRETCH_MS = 20_000
MOST_STARTS = 30
MOST_ENDS = 20


def _worth_keeping(
    edges: EdgeEvidence, scores: Sequence[float], least: float, most: int
) -> Indexes:
    """Keep the moments that may be an edge, and are not outshone by one right beside them."""
    at = np.array([moment.at_ms for moment in edges.moments])
    score = np.array(scores)
    low = np.searchsorted(at, at - _CLOSE_MS)
    high = np.searchsorted(at, at + _CLOSE_MS, side="right")
    # Every other result is the best from a moment's first neighbour to its last.
    around = np.stack([low, high], axis=1).ravel()
    best = np.maximum.reduceat(np.append(score, -np.inf), around)[::2]
    kept = np.flatnonzero((score > least) & (score > best - _MUCH))
    by_stretch = kept[np.lexsort((-score[kept], at[kept] // STRETCH_MS))]
    stretch = at[by_stretch] // STRETCH_MS
    rank = np.arange(len(stretch)) - np.searchsorted(stretch, stretch)
    chosen: Indexes = np.sort(by_stretch[rank < most])
    return chosen


def _array(values: Iterable[float]) -> Floats:
    return np.fromiter(values, dtype=np.float64)


def _as_rest(work: Sequence[float]) -> Floats:
    """Give each word's log-likelihood as talk between intervals, against any talk."""
    odds = np.array(work) + _WORK_PRIOR
    rest: Floats = -np.logaddexp(0.0, odds) + np.logaddexp(0.0, _WORK_PRIOR)
    return rest


# Log-odds that any word is said during work.
_WORK_PRIOR = 0.8


class SlotScorer:
    """Turns evidence per word into scores per start and end of each slot."""

    def __init__(
        self, talk: Talk, edges: EdgeEvidence, moves: MoveEvidence, ground: Ground, trust: Trust
    ) -> None:
        self.ground = ground
        self.place = {move: index for index, move in enumerate(moves.moves)}
        self.word_ms = np.array([word.start_ms for word in talk.words], dtype=np.float64)
        self.work = _cumulated(np.array([edges.work])) * trust.work
        named, cued, sides, unplanned = _sums(moves)
        self.named, self.cued = named * trust.named, cued * trust.cued
        self.sides, self.unplanned = sides * trust.side, unplanned[0]
        start_ms = ground.starts.at_ms
        self.said_from = np.searchsorted(self.word_ms, start_ms - trust.announced_ms)
        self.said_to = np.searchsorted(self.word_ms, start_ms + trust.named_after_ms)

        called = self.unplanned[self.said_to] - self.unplanned[self.said_from]
        self.called = trust.unplanned * np.minimum(called, 1.0)
        self._at_start: dict[tuple[str, Side], Floats] = {}
        self._inside: dict[str | None, tuple[Floats, Floats]] = {}

    def slot(self, laid: LaidSlot, plan: Plan) -> Slot:
        """Give a laid slot its scores; those of the same move and side share them."""
        if laid.length is None:
            return Slot(laid.arcs)
        if laid.row is None:
            return Slot(laid.arcs, laid.length, self.called, *self._talk_for(None))
        row = plan.rows[laid.row]
        return Slot(laid.arcs, laid.length, self._starting(row), *self._talk_for(row.move))

    def fits(self, row: PlanRow, start: int, end: int) -> float:
        """Say how much the talk speaks for a row from one moment of the ground to another."""
        cued = self.cued[self.place[row.move]]
        inside = cued[self.ground.end_words[end]] - cued[self.ground.start_words[start]]
        return float(self._starting(row)[start] + inside)

    def _starting(self, row: PlanRow) -> Floats:
        """Say how much the talk around each start speaks for a row."""
        key = (row.move, row.side)
        if key not in self._at_start:
            self._at_start[key] = self._named(row) + self._side(row)
        return self._at_start[key]

    def _talk_for(self, move: str | None) -> tuple[Floats, Floats]:
        """Sum up to each start, and to each end, what speaks for a move, or any at all."""
        if move not in self._inside:
            inside = self.work[0]
            if move is not None:
                inside = inside + self.cued[self.place[move]]
            at_starts, at_ends = inside[self.ground.start_words], inside[self.ground.end_words]
            self._inside[move] = (at_starts, at_ends)
        return self._inside[move]

    def _named(self, row: PlanRow) -> Floats:
        named = self.named[self.place[row.move]]
        heard: Floats = np.clip(named[self.said_to] - named[self.said_from], -2.5, 2.5)
        return heard

    def _side(self, row: PlanRow) -> Floats:
        if row.side not in ("left", "right"):
            return np.zeros(len(self.said_to))
        heard = self.sides[0][self.said_to] - self.sides[0][self.said_from]
        turned: Floats = np.clip(heard if row.side == "left" else -heard, -1.5, 1.5)
        return turned


# A class is looked at several times with the same evidence of moves.
@once_for(2)
def _sums(moves: MoveEvidence) -> tuple[Floats, ...]:
    """Sum up to every word what names each move, cues it, tells its side, and leaves the plan."""
    kinds = (moves.named, moves.cued, [moves.sides], [moves.unplanned])
    return tuple(_cumulated(np.array(rows)) for rows in kinds)


def _cumulated(rows: Floats) -> Floats:
    """Sum each row up to every place, with a zero before the first."""
    sums: Floats = np.concatenate([np.zeros((len(rows), 1)), np.cumsum(rows, axis=1)], axis=1)
    return sums
