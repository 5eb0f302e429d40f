"""Steps from moments to moments, and how scores are carried along them.

A step takes a duration, and a density says how likely each duration is. All slots with
the same density share its steps; these are kept in matrices for starting moments of one
stretch of time, each made when a slot first comes there.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reviewkit.align.density import STEP_MS, Density, Floats

Indexes = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Scores:
    """Log scores of consecutive moments from ``first`` on; no other moment is reached."""

    first: int
    values: Floats

    @property
    def stop(self) -> int:
        """The place after the last one."""
        return self.first + len(self.values)

    @property
    def best(self) -> float:
        """The highest; ``-inf`` where none is reached."""
        return float(self.values.max(initial=-np.inf))

    def within(self, first: int, stop: int) -> Floats:
        """Give the scores of places that all lie inside."""
        return self.values[first - self.first : stop - self.first]

    def at(self, place: int) -> float:
        """Give the score of one place."""
        inside = self.first <= place < self.stop
        return float(self.values[place - self.first]) if inside else -np.inf

    def plus(self, more: float | Floats) -> Scores:
        """Add one number, or one for each moment."""
        return Scores(self.first, self.values + more)


NOWHERE = Scores(0, np.zeros(0))


def keep(scores: Scores, chosen: NDArray[np.bool_]) -> Scores:
    """Leave out the moments that are not chosen."""
    (places,) = chosen.nonzero()
    if not len(places):
        return NOWHERE
    own = slice(places[0], places[-1] + 1)
    values = np.where(chosen[own], scores.values[own], -np.inf)
    return Scores(scores.first + int(places[0]), values)


def keep_where(scores: Scores, other: Scores) -> Scores:
    """Leave out the moments that other scores do not reach."""
    first, stop = max(scores.first, other.first), min(scores.stop, other.stop)
    if first >= stop:
        return NOWHERE
    is_reached = other.within(first, stop) > -np.inf
    return Scores(first, np.where(is_reached, scores.within(first, stop), -np.inf))


# Joins what several scores say of the moments from one to before another.
Join = Callable[[Sequence[Scores], int, int], Scores]


def join_scores(parts: Sequence[Scores], join: Join) -> Scores:
    """Join scores of the same moments."""
    if len(parts) < 2:
        return parts[0] if parts else NOWHERE
    return join(parts, min(part.first for part in parts), max(part.stop for part in parts))


def add_up(parts: Sequence[Scores], first: int, stop: int) -> Scores:
    """Add up all ways to each moment."""
    best = max((part.best for part in parts), default=-np.inf)
    if len(parts) < 2 or best == -np.inf:
        return take_best(parts, first, stop)
    total = np.zeros(stop - first)
    for part in parts:
        low, high = max(first, part.first), min(stop, part.stop)
        if low < high:
            total[low - first : high - first] += np.exp(part.within(low, high) - best)
    return Scores(first, np.log(total) + best)


def take_best(parts: Sequence[Scores], first: int, stop: int) -> Scores:
    """Take the best way to each moment."""
    total = np.full(stop - first, -np.inf)
    for part in parts:
        low, high = max(first, part.first), min(stop, part.stop)
        if low < high:
            own = total[low - first : high - first]
            np.maximum(own, part.within(low, high), out=own)
    return Scores(first, total)


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """Steps from moments ``first_row`` on, close in time, to moments ``first_col`` on.

    ``stop_row`` and ``stop_col`` are the places after the last. ``chance`` are the
    likelihoods of the steps' durations, shape (rows, columns).
    """

    first_row: int
    stop_row: int
    first_col: int
    stop_col: int
    chance: Floats

    def rows(self, first: int, stop: int) -> tuple[int, int]:
        """Give the first of the rows that lie between two places, and the one after."""
        return max(first, self.first_row), min(stop, self.stop_row)

    def cols(self, first: int, stop: int) -> tuple[int, int]:
        """Give the first of the columns that lie between two places, and the one after."""
        return max(first, self.first_col), min(stop, self.stop_col)

    def part(self, rows: tuple[int, int], cols: tuple[int, int]) -> tuple[slice, slice]:
        """Say where rows and columns lie in the matrices."""
        return (
            slice(rows[0] - self.first_row, rows[1] - self.first_row),
            slice(cols[0] - self.first_col, cols[1] - self.first_col),
        )


@dataclass(frozen=True, slots=True, eq=False)
class Remarks:
    """How much is said, around each moment, for a step to it being short, and being long."""

    short: Floats
    long: Floats

    def weigh(self, durations_ms: Floats, usual_ms: tuple[float, float], first: int) -> Floats:
        """Give by how much remarks make steps to the moments from ``first`` on likelier.

        Args:
            durations_ms: Of the steps, shape (rows, columns).
            usual_ms: The shortest and the longest that is neither short nor long.
            first: The moment of the first column.
        """
        own = slice(first, first + durations_ms.shape[1])
        factors: Floats = np.where(
            durations_ms < usual_ms[0], np.exp(self.short[own]),
            np.where(durations_ms > usual_ms[1], np.exp(self.long[own]), 1.0),
        )  # fmt: skip
        return factors


class Steps:
    """All steps of one density from some moments to others, both in time order."""

    def __init__(
        self,
        density: Density,
        from_ms: Floats,
        to_ms: Floats,
        bounds: Indexes,
        *,
        least_col: int,
        remarks: Remarks | None = None,
    ) -> None:
        """Know the moments; steps are looked up when they are asked for.

        Args:
            density: Of the durations.
            from_ms: N moments.
            to_ms: M moments.
            bounds: Places in ``from_ms`` where another matrix begins, then N.
            least_col: No step leads to a place before this one.
            remarks: What is said of durations that end at each of the M moments.
        """
        self.density = density
        self._from_ms, self._to_ms = from_ms, to_ms
        self._bounds: list[int] = bounds.tolist()
        self._least_col = least_col
        self._remarks = remarks
        self._made: dict[int, Block | None] = {}

    def blocks(self, first: int, stop: int) -> list[Block]:
        """Give the blocks with steps from the places ``first`` to before ``stop``, in order."""
        if first >= stop:
            return []
        made = self._made
        wanted = range(bisect_right(self._bounds, first) - 1, bisect_left(self._bounds, stop))
        for nth in wanted:
            if nth not in made:
                made[nth] = self._make(self._bounds[nth], self._bounds[nth + 1])
        return [block for nth in wanted if (block := made[nth]) is not None]

    def _make(self, first: int, stop: int) -> Block | None:
        """Look up the steps from some places; ``None`` where they lead nowhere."""
        from_ms, density = self._from_ms[first:stop], self.density
        soonest, latest = from_ms[0] + density.low_ms, from_ms[-1] + density.high_ms
        low = int(np.searchsorted(self._to_ms, soonest - STEP_MS))
        high = int(np.searchsorted(self._to_ms, latest + STEP_MS, side="right"))
        low = max(low, self._least_col)
        if low >= high:
            return None
        durations_ms = self._to_ms[None, low:high] - from_ms[:, None]
        chance = density.chance_at(durations_ms)
        if self._remarks is not None and density.usual_ms is not None:
            chance = chance * self._remarks.weigh(durations_ms, density.usual_ms, low)
        return Block(first, stop, low, high, chance)


Onward = Callable[[Steps, Scores], Scores]


def sum_onward(steps: Steps, scores: Scores) -> Scores:
    """Add up, for every moment, all ways to get there."""
    best, begin, stop = scores.best, scores.first, scores.stop
    blocks = steps.blocks(begin, stop) if best > -np.inf else []
    if not blocks:
        return NOWHERE
    chances = np.exp(scores.values - best)
    first = blocks[0].first_col
    total = np.zeros(blocks[-1].stop_col - first)
    for block in blocks:
        low, high = block.rows(begin, stop)
        total[block.first_col - first : block.stop_col - first] += (
            chances[low - begin : high - begin]
            @ block.chance[low - block.first_row : high - block.first_row]
        )
    return Scores(first, np.log(total) + best)


def best_onward(steps: Steps, scores: Scores) -> Scores:
    """Give, for every moment, the best way to get there."""
    found = []
    for block in steps.blocks(scores.first, scores.stop):
        first, stop = block.rows(scores.first, scores.stop)
        own = scores.within(first, stop)
        best = own.max()
        if best > -np.inf:
            (reached,) = (own > -np.inf).nonzero()
            chance = block.chance[reached + (first - block.first_row)]
            chance *= np.exp(own[reached] - best)[:, None]
            found.append(Scores(block.first_col, np.log(chance.max(axis=0)) + best))
    return join_scores(found, take_best)


def sum_back(steps: Steps, scores: Scores, first: int, stop: int) -> Scores:
    """Add up, for each of the moments ``first`` to before ``stop``, all ways onward."""
    total = np.zeros(stop - first)
    best = scores.best
    if best > -np.inf:
        chances = np.exp(scores.values - best)
        to_first, to_stop = scores.first, scores.stop
        for block in steps.blocks(first, stop):
            rows, cols = block.rows(first, stop), block.cols(to_first, to_stop)
            if cols[0] < cols[1]:
                total[rows[0] - first : rows[1] - first] = (
                    block.chance[block.part(rows, cols)]
                    @ chances[cols[0] - to_first : cols[1] - to_first]
                )
    return Scores(first, np.log(total) + best)


def best_source(steps: Steps, scores: Scores, to: int) -> tuple[float, int]:
    """Give the best way to one moment: its score and where from; ``-inf`` if there is none."""
    best, found = -np.inf, -1
    for block in steps.blocks(scores.first, scores.stop):
        if block.first_col <= to < block.stop_col:
            first, stop = block.rows(scores.first, scores.stop)
            chance = block.chance[block.part((first, stop), (to, to + 1))]
            ways = scores.within(first, stop) + np.log(chance[:, 0])
            row = int(np.argmax(ways))
            if ways[row] > best:
                best, found = float(ways[row]), first + row
    return best, found
