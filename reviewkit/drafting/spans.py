"""Find the stretches of work in a talk whose plan is unknown.

Two passes: the first knows what coaches say at edges, the second also what this coach
says there. Of all overlapping guesses those are kept that are likeliest to lie within
a few seconds of a true interval.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from reviewkit.drafting.chain import Edges, Floats, Indexes, Pairs, pair_chances
from reviewkit.drafting.expected import expect_lengths, expect_rests
from reviewkit.drafting.own_words import learn_edge_words
from reviewkit.model import EdgeEvidence, Mark, Talk

# Log-odds below which a moment is no candidate, and trust in the other evidence.
_LEAST_SCORE = -6.5
_WORK_TRUST = 0.04
_WORK_PRIOR = 0.8
# Log-probability that an interval gains over none, so that weak edges count too.
_GAIN = 3.0
_NEAR_MS = 4000.0
# How likely a guess must be to be near the truth.
_LEAST_CHANCE = 0.4


@dataclass(frozen=True, slots=True)
class WorkSpan:
    """A stretch of work, and the chance that an interval lies about there."""

    start_ms: int
    end_ms: int
    chance: float


@dataclass(frozen=True, slots=True, eq=False)
class _Candidates:
    """Moments that may be edges of one kind, and the word that each stands before."""

    edges: Edges
    words: Indexes

    def add(self, bonus: Floats) -> _Candidates:
        """Add what is known of each word to the moments before it."""
        known = np.append(bonus, 0.0)[self.words]
        return replace(self, edges=Edges(self.edges.at_ms, self.edges.score + known))


def find_spans(talk: Talk, edges: EdgeEvidence, promises: Sequence[Mark]) -> tuple[WorkSpan, ...]:
    """Find where work was done, in time order and without overlap.

    Args:
        talk: The words of the class.
        edges: Log-odds of starts and ends at every moment.
        promises: Marks of kind ``promise``: lengths and rests the coach named.
    """
    if not talk.words:
        return ()
    blur_ms = _blur_ms(talk)
    modes = (expect_lengths(promises, blur_ms), expect_rests(promises, blur_ms))
    starts, ends = _candidates(edges)
    first = pair_chances(starts.edges, ends.edges, *modes)
    norms = [word.norm for word in talk.words]
    starts = starts.add(learn_edge_words(norms, _per_word(starts, first.starts, first, norms)))
    ends = ends.add(learn_edge_words(norms, _per_word(ends, first.ends, first, norms)))
    return _choose(starts.edges, ends.edges, pair_chances(starts.edges, ends.edges, *modes))


def _blur_ms(talk: Talk) -> float:
    """Give how far the clock of a transcript in blocks blurs a length."""
    if talk.clock != "blocks":
        return 0.0
    return 1.4 * float(np.median([word.spread_ms for word in talk.words])) / 1.645


def _candidates(edges: EdgeEvidence) -> tuple[_Candidates, _Candidates]:
    """Keep the moments that may be edges; scores count the work talk that lies between."""
    odds = np.array(edges.work)
    as_rest = np.logaddexp(0.0, _WORK_PRIOR) - np.logaddexp(0.0, odds + _WORK_PRIOR)
    inside = np.concatenate([[0.0], np.cumsum(_WORK_TRUST * (odds - as_rest))])
    at_ms = np.array([moment.at_ms for moment in edges.moments], dtype=np.float64)
    words = np.array([moment.word for moment in edges.moments], dtype=np.int64)
    start = np.array([moment.start for moment in edges.moments])
    end = np.array([moment.end for moment in edges.moments])
    first, last = np.flatnonzero(start > _LEAST_SCORE), np.flatnonzero(end > _LEAST_SCORE)
    return (
        _Candidates(Edges(at_ms[first], (start - inside[words])[first]), words[first]),
        _Candidates(Edges(at_ms[last], (end + inside[words] + _GAIN)[last]), words[last]),
    )


def _per_word(found: _Candidates, index: Indexes, pairs: Pairs, norms: Sequence[str]) -> Floats:
    """Add up the chances of an edge before each word."""
    at = found.words[index]
    chances = np.zeros(len(norms) + 1)
    np.add.at(chances, at, pairs.chance)
    return chances[: len(norms)]


def _choose(starts: Edges, ends: Edges, pairs: Pairs) -> tuple[WorkSpan, ...]:
    """Choose the disjoint guesses with the greatest chance of lying near true intervals."""
    order = np.argsort(starts.at_ms[pairs.starts], kind="stable")
    start_ms = starts.at_ms[pairs.starts[order]]
    end_ms = ends.at_ms[pairs.ends[order]]
    near = _near_chances(start_ms, end_ms, pairs.chance[order])
    taken = _best_disjoint(start_ms, end_ms, near - _LEAST_CHANCE)
    return tuple(
        WorkSpan(round(start_ms[at]), round(end_ms[at]), min(1.0, float(near[at]))) for at in taken
    )


def _near_chances(start_ms: Floats, end_ms: Floats, chance: Floats) -> Floats:
    """Give the chance that an interval lies close to each guess; starts are in order."""
    low = np.searchsorted(start_ms, start_ms - _NEAR_MS)
    high = np.searchsorted(start_ms, start_ms + _NEAR_MS, side="right")
    near = np.zeros(len(start_ms))
    for at in range(len(start_ms)):
        around = slice(int(low[at]), int(high[at]))
        off = ((start_ms[around] - start_ms[at]) / _NEAR_MS) ** 2
        off_end = ((end_ms[around] - end_ms[at]) / _NEAR_MS) ** 2
        near[at] = np.sum(chance[around] * (1 - off) * np.clip(1 - off_end, 0, None))
    return near


def _best_disjoint(start_ms: Floats, end_ms: Floats, gain: Floats) -> list[int]:
    """Find the guesses that do not overlap and gain the most together, in time order.

    Source: weighted interval scheduling, Kleinberg and Tardos (2005), Algorithm Design, 6.1.
    """
    order = np.argsort(end_ms, kind="stable")
    sorted_ends = end_ms[order]
    free = np.searchsorted(sorted_ends, start_ms[order], side="right")
    best = np.zeros(len(order) + 1)
    for place, at in enumerate(order):
        best[place + 1] = max(best[place], best[min(free[place], place)] + gain[at])
    taken, place = [], len(order)
    while place > 0:
        if best[place] == best[place - 1]:
            place -= 1
            continue
        taken.append(int(order[place - 1]))
        place = min(int(free[place - 1]), place - 1)
    return taken[::-1]
