"""Sum up the utterances that may give a point in a few numbers to judge it by.

An utterance gives one point of its move or none, so that the points compete for it; how
well the coach's other points were heard tells how plainly this coach speaks. The more a
move is coached, the likelier some cue has a point's words by chance, and so have stories:
how much of its cues a point has, and how its utterances are meant, count for the whole
point, because the weights of single utterances are fitted on many that give some point
and on few that only seem to.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewkit.findings.point_features import FEATURES, Candidates

# What is averaged over a point's utterances, by their chances.
_MEANT = ("oneself", "mine", "coaches", "told")
SUMMARY = ("best", "least_of_others", "share", *_MEANT)
# What is averaged over the utterances after the first interval: a point that was given
# before is given in fewer words.
_FIRST_TIME = ("length", "again", "anew")
TIMING = ("early", "best", "early_times", "later_times", "after", *_FIRST_TIME, "reminders")

# Chances are cut here, so that logits stay finite, and odds here, so that sums do.
_EDGE = 1e-4
MOST_ODDS = 30.0
# The least number of times, so that its logarithm stays finite.
_FEWEST_TIMES = 0.01
# The coach's other points lower the bar to the first logit at most, and raise it to the other.
_LEAST_OTHER, _MOST_OTHER = -1.5, 1.5
_FEWEST_OTHERS = 5
_GIVES, _IN_INTERVAL = FEATURES.index("gives"), FEATURES.index("in_interval")
_MEANT_COLUMNS = tuple(map(FEATURES.index, _MEANT))
_FIRST_TIME_COLUMNS = tuple(map(FEATURES.index, _FIRST_TIME))
# The length of a usual reminder, in the logarithm of words: one such counts beside the coach's.
_USUAL_REMINDER = 2.0


def share_out(candidates: Sequence[Candidates], odds: Sequence[NDArray[Any]]) -> list[NDArray[Any]]:
    """Share each utterance out among the points of its move, and none of them.

    The lexicon's points, many of which say nearly the same, compete with the plan's but
    not with one another.

    Args:
        candidates: The points of one class.
        odds: For each point, its utterances' log-odds of giving it rather than nothing.

    Returns:
        For each point, its utterances' chances of giving it, 0 to 1.
    """
    weights = [np.exp(np.minimum(one, MOST_ODDS)) for one in odds]
    taken: dict[str, NDArray[Any]] = {}
    for one, weight in zip(candidates, weights, strict=True):
        if one.asked.point is None:
            taken[one.asked.move] = taken.get(one.asked.move, 1) + weight
    return [
        weight / (taken.get(one.asked.move, 1) + (0 if one.asked.point is None else weight))
        for one, weight in zip(candidates, weights, strict=True)
    ]


def summarise(candidates: Sequence[Candidates], chances: Sequence[NDArray[Any]]) -> NDArray[Any]:
    """Sum up each point of a class.

    Args:
        candidates: The points of one class.
        chances: For each point, its utterances' chances of giving it, in order.

    Returns:
        One row for each point, columns as in ``SUMMARY``: the logit of its best utterance,
        the least of the coach's other points, the logarithm of its share of the move's
        cues, and how its utterances are meant: words about oneself, "my", the log-odds of
        coaching, and past verbs around them, each averaged by their chances.
    """
    best = [_logit(float(chance.max(initial=0))) for chance in chances]
    asked = [place for place, one in enumerate(candidates) if one.asked.point is None]
    rows = [
        (
            best[place],
            _least([best[other] for other in asked if other != place]),
            _share(candidates[place], chances[place]),
            *_average(candidates[place].features[:, _MEANT_COLUMNS], chances[place]),
        )
        for place in range(len(candidates))
    ]
    return np.array(rows).reshape(len(candidates), len(SUMMARY))


def time_all(
    candidates: Sequence[Candidates],
    chances: Sequence[NDArray[Any]],
    starts: Sequence[NDArray[Any]],
) -> NDArray[Any]:
    """Give what tells when each point of a class was given.

    Args:
        candidates: The points of one class.
        chances: For each point, its utterances' chances of giving it, in order.
        starts: For each point, when its utterances begin, in milliseconds.

    Returns:
        One row for each point, columns as in ``TIMING``: the logits of the best utterance
        before the first interval ended and of any, the logarithms of how many times it was
        given before and after that, the share of the utterances that came after, how long
        the lines of those are and how much they sound like something said again or for the
        first time, averaged by their chances, and how long the lines are in which this
        coach gives the plan's other points after their first intervals.
    """
    rows, given = [], []
    for one, chance, begins in zip(candidates, chances, starts, strict=True):
        is_early = begins < (one.first_end_ms or 0)
        early, later = chance[is_early], chance[~is_early]
        first_time = _average(one.features[~is_early][:, _FIRST_TIME_COLUMNS], later)
        rows.append(
            (
                _logit(float(early.max(initial=0))),
                _logit(float(chance.max(initial=0))),
                float(np.log(early.sum() + _FEWEST_TIMES)),
                float(np.log(later.sum() + _FEWEST_TIMES)),
                float((~is_early).mean()) if len(begins) else 0.0,
                *first_time,
            )
        )
        times = 0.0 if one.asked.point else float(later.sum())
        given.append((times, times * first_time[0]))
    own = np.array(rows).reshape(len(rows), len(TIMING) - 1)
    return np.column_stack([own, _reminders(given)])


def _reminders(given: Sequence[tuple[float, float]]) -> NDArray[Any]:
    """Give for each point the mean length of the coach's reminders of all others.

    ``given`` holds how many times each point was given late and the sum of those lengths.
    """
    times, lengths = np.array(given).reshape(len(given), 2).T
    others: NDArray[Any] = (lengths.sum() - lengths + _USUAL_REMINDER) / (times.sum() - times + 1)
    return others


def _share(one: Candidates, chance: NDArray[Any]) -> float:
    """Give the logarithm of the share of its move's cues that give a point."""
    cues = float((one.features[:, _IN_INTERVAL] / (1 + np.exp(-one.features[:, _GIVES]))).sum())
    return float(np.log((chance.sum() + _FEWEST_TIMES) / (1 + cues)))


def _average(columns: NDArray[Any], chance: NDArray[Any]) -> NDArray[Any]:
    """Average columns of some utterances by their chances; zeros when nothing was said."""
    total = float(chance.sum())
    average: NDArray[Any] = chance @ columns / total if total else np.zeros(columns.shape[1])
    return average


def _least(others: Sequence[float]) -> float:
    """Give the least logit of the coach's other points, 0 when they are too few to tell."""
    if len(others) < _FEWEST_OTHERS:
        return 0.0
    return min(_MOST_OTHER, max(_LEAST_OTHER, min(others)))


def _logit(chance: float) -> float:
    return float(np.log((chance + _EDGE) / (1 - chance + _EDGE)))
