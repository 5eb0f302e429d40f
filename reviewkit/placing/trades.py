"""Find moves that may have traded places, though others lie between them.

To try every pair of moves would cost more than all else; a first look at the class shows
which pairs are worth it: those whose talk fits better the other way round.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from reviewkit.align.posterior import Step
from reviewkit.model import Plan
from reviewkit.placing.scoring import SlotScorer
from reviewkit.placing.slots import Layout, Trade, move_runs

# Log-odds by which the talk must fit better the other way round, for a trade to be tried.
LEAST_GAIN = 1.5
MOST_TRIED = 12


def find_far_trades(
    steps: Sequence[Step], layout: Layout, scorer: SlotScorer, plan: Plan
) -> tuple[Trade, ...]:
    """List trades worth trying, given the path of a first look."""
    rows = plan.rows
    placed = {row: step for step in steps if (row := layout.slots[step.slot].row) is not None}

    def gain(trade: Trade) -> float:
        total = 0.0
        for one, other in zip(trade.one, trade.other, strict=True):
            here, there = placed[one], placed[other]
            for step, mine, theirs in ((here, one, other), (there, other, one)):
                total += scorer.fits(rows[theirs], step.start, step.end)
                total -= scorer.fits(rows[mine], step.start, step.end)
        return total

    runs = [run for run in move_runs(rows) if all(row in placed for row in run)]
    tried = []
    for one, other in combinations(runs, 2):
        trade = Trade(one, other)
        first, second = rows[one[0]], rows[other[0]]
        is_same_lap = (first.block, first.round) == (second.block, second.round)
        if is_same_lap and trade.is_far and len(one) == len(other) and first.move != second.move:
            tried.append((gain(trade), trade))
    worth = sorted((one for one in tried if one[0] >= LEAST_GAIN), key=lambda one: -one[0])
    return tuple(trade for _, trade in worth[:MOST_TRIED])
