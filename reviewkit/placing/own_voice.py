"""Learn from a first look at a class by which words its coach starts and stops.

What coaches say at edges differs from coach to coach, but one coach says much the same
all class long. Where the first look finds starts, it shows which words, and which
silences, this coach starts with; that speaks for the other places that have them. No
place is told anything by itself or by what lies close to it, or a first mistake would
confirm itself.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from reviewkit.model import EdgeEvidence, Signs
from reviewkit.once import once_for

Floats = NDArray[np.float64]
Indexes = NDArray[np.int64]

# The columns of the fitted weights, and their rows besides one for each kind of sign.
START, END = "start", "end"
BIAS, ODDS = "bias", "odds"
# A place is told nothing by places this close to it.
CLOSE_MS = 8000
# A sign counts as if it had been seen this often more, at edges and elsewhere as usual.
UNSEEN = 4.0
LEAST_CHANCE = 1e-4


def learn_voice(edges: EdgeEvidence, start_chances: Floats, end_chances: Floats) -> EdgeEvidence:
    """Weigh the edges anew by this coach's own habits.

    Args:
        edges: Evidence for M moments; given back as it is when it knows no signs.
        start_chances: For each moment the chance that an interval starts there, shape (M,).
        end_chances: The same for ends.
    """
    signs = edges.signs
    if signs is None or not edges.moments:
        return edges
    starts = _weigh(edges, signs, START, start_chances)
    ends = _weigh(edges, signs, END, end_chances)
    return replace(
        edges,
        moments=tuple(
            moment.weighed(start, end)
            for moment, start, end in zip(
                edges.moments, starts.tolist(), ends.tolist(), strict=True
            )
        ),
    )


def _weigh(edges: EdgeEvidence, signs: Signs, output: str, chances: Floats) -> Floats:
    column = signs.weights.outputs.index(output)
    weight = {name: values[column] for name, values in signs.weights.rows.items()}
    odds = np.array([getattr(moment, output) for moment in edges.moments])
    told = own_odds(edges, signs, chances)
    return weight[BIAS] + weight[ODDS] * odds + told @ [weight[kind] for kind in signs.kinds]


def own_odds(edges: EdgeEvidence, signs: Signs, chances: Floats) -> Floats:
    """Say by how much each moment's signs raise its odds, going by the rest of the class.

    Returns:
        Log-odds against those of any moment, shape (M, kinds).
    """
    at_ms = np.array([moment.at_ms for moment in edges.moments], dtype=np.int64)
    usual = max(LEAST_CHANCE, float(chances.mean()))
    columns = [_odds_elsewhere(group, at_ms, chances, usual) for group in _groups(signs)]
    return np.stack(columns, axis=1)


# Starts and ends go by the same signs.
@once_for(2)
def _groups(signs: Signs) -> tuple[Indexes, ...]:
    """Number, for each kind of sign, the places that share one."""
    by_kind = zip(*signs.at, strict=True)
    return tuple(np.unique(np.array(own), return_inverse=True)[1] for own in by_kind)


def _odds_elsewhere(group: Indexes, at_ms: Indexes, chances: Floats, usual: float) -> Floats:
    """Give the log-odds of edges at places of the same group, close ones left out."""
    order = np.lexsort((at_ms, group))
    # Groups lie one after another on a line, so far apart that none is close to the next.
    line = at_ms[order] + group[order] * (int(at_ms.max()) + 3 * CLOSE_MS)
    low = np.searchsorted(line, line - CLOSE_MS)
    high = np.searchsorted(line, line + CLOSE_MS, side="right")
    first = np.searchsorted(group[order], group[order])
    last = np.searchsorted(group[order], group[order], side="right")
    sums = np.concatenate([[0.0], np.cumsum(chances[order])])
    seen = (last - first) - (high - low)
    found = (sums[last] - sums[first]) - (sums[high] - sums[low])
    share = (np.maximum(found, 0.0) + UNSEEN * usual) / (seen + UNSEEN)
    share = np.clip(share, LEAST_CHANCE, 1 - LEAST_CHANCE)
    odds = np.empty(len(share))
    odds[order] = np.log(share / (1 - share)) - np.log(usual / (1 - usual))
    return odds
