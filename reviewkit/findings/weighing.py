"""Weigh signs by fitted weights, and give the words around what was heard."""

from __future__ import annotations

from collections.abc import Mapping

from reviewkit.language.lines import split_lines
from reviewkit.model import HeardClass, Mark, Weights

BIAS = "bias"


def odds_of(signs: Mapping[str, float], weights: Weights) -> float:
    """Give by how much signs speak for something, as log odds; 0 is the limit.

    Args:
        signs: What holds, by name, mostly 1 where it does.
        weights: The fitted weights of one output; signs without any count nothing.
    """
    known = ((weights.rows.get(name), value) for name, value in signs.items())
    return weights.rows[BIAS][0] + sum(row[0] * value for row, value in known if row)


def those_that_hold(signs: Mapping[str, bool]) -> dict[str, float]:
    """Give the signs that hold, each as 1."""
    return {name: 1.0 for name, holds in signs.items() if holds}


class Surroundings:
    """The words of the line that a mark lies in, before it and after it."""

    def __init__(self, heard: HeardClass) -> None:
        """Know the line of each word of a class."""
        self._norms = [word.norm for word in heard.talk.words]
        self._line = {
            at: line for line in split_lines(heard.talk) for at in range(line.first, line.last + 1)
        }

    def of(self, mark: Mark) -> tuple[list[str], list[str]]:
        """Give the words before a mark and those after it."""
        first, last = self._line[mark.first].first, self._line[mark.last].last
        return self._norms[first : mark.first], self._norms[mark.last + 1 : last + 1]
