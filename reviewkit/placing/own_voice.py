"""Learn from a first look at a class by which words its coach starts and stops.

What coaches say at edges differs from coach to coach, but one coach says much the same
all class long. Where the first look finds starts, it shows which words, and which
silences, this coach starts with; that speaks for the other places that have them, and so
does what sounds alike to the network of edges (``relearning.py``), in talk during work
too. No place is told anything by itself or by what lies close to it, or a first mistake
would confirm itself.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from reviewkit.model import EdgeEvidence, Signs
from reviewkit.once import once_for
from reviewkit.placing.relearning import CLOSE_MS, relearn

Floats = NDArray[np.float64]
Indexes = NDArray[np.int64]

# The columns of the fitted weights, and their rows besides one for each kind of sign.
START, END, WORK = "start", "end", "work"
BIAS, ODDS, RELEARNED = "bias", "odds", "relearned"
# A sign counts as if it had been seen this often more, at edges and elsewhere as usual.
UNSEEN = 4.0
LEAST_CHANCE = 1e-4


@dataclass(frozen=True, slots=True, eq=False)
class FirstLook:
    """What a first look believes: the chance that an interval starts at each moment, that
    one ends there, both of shape (M,), and that each word is said in one, shape (n,).
    """

    starts: Floats
    ends: Floats
    work: Floats


def learn_voice(edges: EdgeEvidence, look: FirstLook, words_ms: Indexes) -> EdgeEvidence:
    """Weigh the edges, and talk in work, anew by this coach's own habits.

    Args:
        edges: Evidence for M moments; given back as it is when it knows no signs.
        look: What a first look at the class believes.
        words_ms: When each of the n words starts.
    """
    signs = edges.signs
    if signs is None or not edges.moments:
        return edges
    starts = _weigh(edges, signs, START, look.starts)
    ends = _weigh(edges, signs, END, look.ends)
    work = np.array(edges.work)
    heard = relearn(signs.words, work, look.work, words_ms)
    of_work = _column(signs, WORK)
    return replace(
        edges,
        moments=tuple(
            moment.weighed(start, end)
            for moment, start, end in zip(
                edges.moments, starts.tolist(), ends.tolist(), strict=True
            )
        ),
        work=tuple((of_work[ODDS] * work + of_work[RELEARNED] * heard).tolist()),
    )


def _weigh(edges: EdgeEvidence, signs: Signs, output: str, chances: Floats) -> Floats:
    weight = _column(signs, output)
    odds = np.array([getattr(moment, output) for moment in edges.moments])
    told = own_odds(edges, signs, output, chances)
    kinds = (*signs.kinds, RELEARNED)
    return weight[BIAS] + weight[ODDS] * odds + told @ [weight[kind] for kind in kinds]


def _column(signs: Signs, output: str) -> dict[str, float]:
    at = signs.weights.outputs.index(output)
    return {name: values[at] for name, values in signs.weights.rows.items()}


def own_odds(edges: EdgeEvidence, signs: Signs, output: str, chances: Floats) -> Floats:
    """Say by how much each moment's signs raise its odds, going by the rest of the class.

    Returns:
        Log-odds against those of any moment, shape (M, kinds), and of what was relearned.
    """
    at_ms = np.array([moment.at_ms for moment in edges.moments], dtype=np.int64)
    odds = np.array([getattr(moment, output) for moment in edges.moments])
    usual = max(LEAST_CHANCE, float(chances.mean()))
    columns = [_odds_elsewhere(group, at_ms, chances, usual) for group in _groups(signs)]
    return np.stack([*columns, relearn(signs.moments, odds, chances, at_ms)], axis=1)


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
