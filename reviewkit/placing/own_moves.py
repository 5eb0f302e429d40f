"""Learn from a first look at a class how its coach talks in each of the plan's moves.

A move that is never named, or renamed from round to round, is still talked of in much the
same words: what was said in round one tells round two of the same move from its
neighbours, and shows where two have traded places. No row tells anything of itself, or a
first mistake would confirm itself.

Source: naive Bayes over which words are said in a row at all (the multivariate Bernoulli
model of McCallum and Nigam 1998, "A comparison of event models for naive Bayes text
classification", its words that were not said left out), with rows left out one at a time.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from reviewkit.language.matching import stem
from reviewkit.model import MoveEvidence, Talk

Floats = NDArray[np.float64]
Indexes = NDArray[np.int64]

# How much words count that were said in a move's other rows, as they hang together.
COUNT = 0.4
# A word counts in a move as if so many rows more had said it as often as rows usually do.
UNSEEN_ROWS = 3.0
# A word said again within so many words tells nothing new.
SAID_AGAIN = 100


@dataclass(frozen=True, slots=True)
class RowLook:
    """A row as a first look places it: its move's place in the evidence, and its words."""

    move: int
    words: slice


def learn_moves(moves: MoveEvidence, rows: Sequence[RowLook], talk: Talk) -> MoveEvidence:
    """Add to the evidence of each move what this coach says in its other rows.

    Args:
        moves: What any coach's words say of the moves.
        rows: The rows found by a first look; with fewer than two there is nothing to learn.
        talk: The n words of the class.
    """
    if len(rows) < 2:
        return moves
    numbers = _numbered([stem(word.norm) for word in talk.words])
    said = np.zeros((len(rows), numbers.max(initial=-1) + 1), dtype=np.bool_)
    for place, row in enumerate(rows):
        said[place, numbers[row.words]] = True
    of_move = np.array([row.move for row in rows], dtype=np.int64)
    times = np.zeros((len(moves.moves), said.shape[1]))
    np.add.at(times, of_move, said)
    done = np.bincount(of_move, minlength=len(moves.moves)).astype(np.float64)
    odds = _odds(times, done)[:, numbers]
    for place, row in enumerate(rows):
        own = numbers[row.words]
        without = times[:, own]
        without[row.move] -= said[place, own]
        odds[:, row.words] = _odds(without, done - (np.arange(len(done)) == row.move))
    odds[:, _said_again(numbers)] = 0.0
    cued = np.array(moves.cued) + COUNT * odds
    return replace(moves, cued=tuple(map(tuple, cued.tolist())))


def _odds(times: Floats, done: Floats) -> Floats:
    """Give each word's log-odds for each move against the average one, shape (moves, words).

    Args:
        times: In how many rows of each move each word was said, shape (moves, words).
        done: How many rows each move has, shape (moves,).
    """
    usual = (times.sum(axis=0) + 0.5) / (done.sum() + 1)
    chances = (times + UNSEEN_ROWS * usual) / (done[:, None] + UNSEEN_ROWS)
    odds: Floats = np.log(chances / chances.mean(axis=0))
    return odds


def _numbered(stems: Sequence[str]) -> Indexes:
    numbers: dict[str, int] = {}
    return np.array([numbers.setdefault(one, len(numbers)) for one in stems], dtype=np.int64)


def _said_again(numbers: Indexes) -> NDArray[np.bool_]:
    """Say of each word whether it was said shortly before."""
    by_word = np.lexsort((np.arange(len(numbers)), numbers))
    is_near = np.diff(by_word, prepend=-SAID_AGAIN) < SAID_AGAIN
    is_same = np.diff(numbers[by_word], prepend=-1) == 0
    again = np.zeros(len(numbers), dtype=np.bool_)
    again[by_word] = is_near & is_same
    return again
