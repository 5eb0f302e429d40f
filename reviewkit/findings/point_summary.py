"""Sum up the utterances that may give a point in a few numbers to judge it by.

An utterance that fits another point of the move better says less for this one, a point
given more than once is surer, and how well the coach's other points were heard tells how
plainly this coach speaks.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewkit.findings.point_features import Candidates

SUMMARY = ("best", "unclaimed", "claimed_by", "times", "least_of_others")
TIMING = ("early", "best")

# Chances are cut here, so that logits stay finite, and to this when another point wins.
_EDGE = 1e-4
_CLAIMED_FACTOR = 0.3
# An utterance counts as one more time from this chance on.
_AGAIN_FROM = 0.2
# The coach's other points lower the bar to the first logit at most, and raise it to the other.
_LEAST_OTHER, _MOST_OTHER = -1.5, 1.5
_FEWEST_OTHERS = 5


def summarise(candidates: Sequence[Candidates], chances: Sequence[NDArray[Any]]) -> NDArray[Any]:
    """Sum up each point of a class.

    Args:
        candidates: The points of one class.
        chances: For each point, its utterances' chances of giving it, in order.

    Returns:
        One row for each point, columns as in ``SUMMARY``: logits, but for ``times``.
    """
    best = np.array([_logit(float(chance.max(initial=0))) for chance in chances])
    asked = [place for place, one in enumerate(candidates) if one.asked.point is None]
    rows = []
    for place, (one, chance) in enumerate(zip(candidates, chances, strict=True)):
        rivals = [
            chances[other]
            for other in asked
            if other != place and candidates[other].asked.move == one.asked.move
        ]
        others = [best[other] for other in asked if other != place]
        rows.append(
            (
                best[place],
                *_claims(chance, rivals),
                float((chance > _AGAIN_FROM).sum()),
                _least(others),
            )
        )
    return np.array(rows).reshape(len(candidates), len(SUMMARY))


def timing(one: Candidates, chance: NDArray[Any], starts: NDArray[Any]) -> tuple[float, float]:
    """Give the logits of the best utterance before the first interval ended, and of any."""
    early = chance[starts < (one.first_end_ms or 0)]
    return _logit(float(early.max(initial=0))), _logit(float(chance.max(initial=0)))


def _claims(chance: NDArray[Any], rivals: Sequence[NDArray[Any]]) -> tuple[float, float]:
    """Give the best unclaimed chance, and by how much a rival claims the best utterance."""
    if not len(chance):
        return _logit(0.0), 0.0
    strongest = np.max(rivals, axis=0) if rivals else np.zeros(len(chance))
    unclaimed = np.where(strongest > chance, _CLAIMED_FACTOR * chance, chance)
    place = int(chance.argmax())
    return _logit(float(unclaimed.max())), _logit(float(strongest[place])) - _logit(
        float(chance[place])
    )


def _least(others: Sequence[float]) -> float:
    """Give the least logit of the coach's other points, 0 when they are too few to tell."""
    if len(others) < _FEWEST_OTHERS:
        return 0.0
    return min(_MOST_OTHER, max(_LEAST_OTHER, min(others)))


def _logit(chance: float) -> float:
    return float(np.log((chance + _EDGE) / (1 - chance + _EDGE)))
