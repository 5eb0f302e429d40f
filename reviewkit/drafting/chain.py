"""Find segments of unknown number on a time line, whose lengths and gaps keep repeating.

An explicit-duration model of one kind of segment that follows itself. Lengths and gaps
come in modes (a timer set to forty seconds, a rest of twenty), and the mode of one
segment tends to be the mode of the next. It knows nothing of what the segments are.

Source: Yu (2010), "Hidden semi-Markov models", Artificial Intelligence 174, 215-243.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Indexes = NDArray[np.int64]

STEP_MS = 50
_LEAST_CHANCE = 2e-4
_MINUTE_MS = 60_000.0


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """Candidate moments in time order with the log-odds that each is an edge."""

    at_ms: Floats
    score: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Modes:
    """Modes of a duration.

    ``density`` has shape (T, K): for each step of ``STEP_MS`` and each mode, how much
    likelier the duration is than one event a minute. ``follow`` has shape (K, K): the
    chance of each next mode; ``first`` shape (K,): the chance of the first one.
    """

    density: Floats
    follow: Floats
    first: Floats

    @property
    def longest_ms(self) -> int:
        """The longest duration that is possible."""
        return STEP_MS * (len(self.density) - 1)

    def at(self, durations_ms: Floats) -> Floats:
        """Look up durations, shape (N,), between 0 and the longest; gives shape (N, K)."""
        looked_up: Floats = self.density[np.rint(durations_ms / STEP_MS).astype(np.int64)]
        return looked_up


@dataclass(frozen=True, slots=True, eq=False)
class Pairs:
    """Chances that a segment runs from one moment to another, one entry per pair."""

    starts: Indexes
    ends: Indexes
    chance: Floats


def make_modes(
    centres_ms: Sequence[float],
    shares: Floats,
    *,
    stay: float,
    spike_ms: float,
    spike_share: float,
    tails: Sequence[tuple[float, float]],
    low_ms: int,
    high_ms: int,
) -> Modes:
    """Give every centre a mode: a narrow spike there and heavy tails around it.

    Args:
        centres_ms: K centres.
        shares: How common each is, shape (K,), of any positive sum.
        stay: Chance that the next duration keeps the mode.
        spike_ms: Standard deviation of the spike.
        spike_share: Share of durations in the spike.
        tails: Pairs of a tail's share and its scale in milliseconds.
        low_ms: Shortest possible duration.
        high_ms: Longest possible duration.
    """
    x = np.arange(0, high_ms + STEP_MS, STEP_MS, dtype=np.float64)[:, None]
    off = np.abs(x - np.array(centres_ms)[None, :])
    density = spike_share * np.exp(-0.5 * (off / spike_ms) ** 2) / (spike_ms * 2.5066)
    for share, scale in tails:
        density = density + share * np.exp(-off / scale) / (2 * scale)
    density = np.where(x < low_ms, 0.0, density * _MINUTE_MS + 1e-9)
    first = shares / shares.sum()
    return Modes(density, stay * np.eye(len(first)) + (1 - stay) * first[None, :], first)


def pair_chances(starts: Edges, ends: Edges, lengths: Modes, gaps: Modes) -> Pairs:
    """Give every pair's chance of being a segment, over all chains (forward-backward).

    A chain has at least one segment; before its first and after its last segment any
    time may pass.
    """
    if not len(starts.at_ms) or not len(ends.at_ms):
        none = np.zeros(0, np.int64)
        return Pairs(none, none, np.zeros(0))
    lattice = _Lattice(starts, ends, lengths, gaps)
    begun, total = lattice.forward()
    return lattice.pairs(begun, lattice.backward(), total)


@dataclass(frozen=True, slots=True, eq=False)
class _Scaled:
    """One matrix of scores per moment, shape (N, L, R), and the log each is scaled by."""

    values: Floats
    logs: Floats

    def put(self, at: int, values: Floats, log: float) -> None:
        top = float(values.max())
        if top > 0:
            self.values[at] = values / top
            self.logs[at] = np.log(top) + log


class _Lattice:
    """All moments in one order of time, an end before a start that falls on it."""

    def __init__(self, starts: Edges, ends: Edges, lengths: Modes, gaps: Modes) -> None:
        self.starts, self.ends, self.lengths, self.gaps = starts, ends, lengths, gaps
        at_ms = np.concatenate([ends.at_ms, starts.at_ms])
        is_start = np.repeat([0, 1], [len(ends.at_ms), len(starts.at_ms)])
        index = np.concatenate([np.arange(len(ends.at_ms)), np.arange(len(starts.at_ms))])
        order = np.lexsort((is_start, at_ms))
        self.order = list(zip(is_start[order].tolist(), index[order].tolist(), strict=True))
        longest, rest = lengths.longest_ms, gaps.longest_ms
        self.starts_before = _window(starts.at_ms, ends.at_ms - longest, ends.at_ms)
        self.ends_before = _window(ends.at_ms, starts.at_ms - rest, starts.at_ms)
        self.starts_after = _window(starts.at_ms, ends.at_ms, ends.at_ms + rest)
        self.ends_after = _window(ends.at_ms, starts.at_ms, starts.at_ms + longest)
        self.shape = (len(lengths.first), len(gaps.first))

    def _blank(self, edges: Edges) -> _Scaled:
        count = len(edges.at_ms)
        return _Scaled(np.zeros((count, *self.shape)), np.full(count, -np.inf))

    def forward(self) -> tuple[_Scaled, float]:
        """Score all chains up to each start, and all whole chains together."""
        begun, ended = self._blank(self.starts), self._blank(self.ends)
        first = self.lengths.first[:, None] * self.gaps.first[None, :]
        total = -np.inf
        for is_start, at in self.order:
            score = float((self.starts if is_start else self.ends).score[at])
            if is_start:
                near = self.ends_before[at]
                came, log = _over_gaps(
                    ended, near, self.gaps.at(self.starts.at_ms[at] - self.ends.at_ms[near])
                )
                begun.put(at, *_plus(self.lengths.follow.T @ came, log, first, score))
                continue
            near = self.starts_before[at]
            came, log = _over_lengths(
                begun, near, self.lengths.at(self.ends.at_ms[at] - self.starts.at_ms[near])
            )
            if came.any():
                total = float(np.logaddexp(total, np.log(came.sum()) + log + score))
                ended.put(at, came @ self.gaps.follow, log + score)
        return begun, total

    def backward(self) -> _Scaled:
        """Score, for each end, itself and all ways to go on from there or stop."""
        to_come, onward = self._blank(self.ends), self._blank(self.starts)
        stop = np.ones(self.shape)
        for is_start, at in reversed(self.order):
            score = float((self.starts if is_start else self.ends).score[at])
            if is_start:
                near = self.ends_after[at]
                durations = self.ends.at_ms[near] - self.starts.at_ms[at]
                came, log = _over_lengths(to_come, near, self.lengths.at(durations))
                onward.put(at, came, log + score)
                continue
            near = self.starts_after[at]
            durations = self.starts.at_ms[near] - self.ends.at_ms[at]
            came, log = _over_gaps(onward, near, self.gaps.at(durations))
            came = self.lengths.follow @ came @ self.gaps.follow.T
            to_come.put(at, *_plus(came, log, stop, score))
        return to_come

    def pairs(self, begun: _Scaled, to_come: _Scaled, total: float) -> Pairs:
        """Join what leads to a start with what follows an end."""
        starts, ends, chances = [], [], []
        for at, near in enumerate(self.ends_after):
            density = self.lengths.at(self.ends.at_ms[near] - self.starts.at_ms[at])
            ways = np.einsum("wl,wlr,lr->w", density, to_come.values[near], begun.values[at])
            shift = np.minimum(to_come.logs[near] + begun.logs[at] - total, 500.0)
            chance = ways * np.exp(shift)
            kept = np.flatnonzero(chance > _LEAST_CHANCE)
            starts.append(np.full(len(kept), at))
            ends.append(kept + near.start)
            chances.append(chance[kept])
        return Pairs(np.concatenate(starts), np.concatenate(ends), np.concatenate(chances))


def _window(at_ms: Floats, low_ms: Floats, high_ms: Floats) -> list[slice]:
    """Give for each range the moments inside it, its ends included."""
    low = np.searchsorted(at_ms, low_ms, side="left")
    high = np.searchsorted(at_ms, high_ms, side="right")
    return [slice(a, b) for a, b in zip(low.tolist(), high.tolist(), strict=True)]


def _weights(scores: _Scaled, near: slice) -> tuple[Floats, float]:
    logs = scores.logs[near]
    top = float(np.max(logs, initial=-np.inf))
    return (np.exp(logs - top), top) if np.isfinite(top) else (np.zeros(len(logs)), 0.0)


def _over_lengths(scores: _Scaled, near: slice, density: Floats) -> tuple[Floats, float]:
    weights, top = _weights(scores, near)
    summed: Floats = np.einsum("wl,wlr->lr", density * weights[:, None], scores.values[near])
    return summed, top


def _over_gaps(scores: _Scaled, near: slice, density: Floats) -> tuple[Floats, float]:
    weights, top = _weights(scores, near)
    summed: Floats = np.einsum("wr,wlr->lr", density * weights[:, None], scores.values[near])
    return summed, top


def _plus(values: Floats, log: float, other: Floats, score: float) -> tuple[Floats, float]:
    """Add an unscaled matrix to a scaled one; the sum's log includes ``score``."""
    top = max(log, 0.0) if values.any() else 0.0
    return values * np.exp(log - top) + other * np.exp(-top), top + score
