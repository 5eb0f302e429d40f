"""What networks of dilated convolutions share: rows beside rows, and their fitted tables."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from reviewkit.model import Weights

Floats = NDArray[np.float32]

# The row of all stems that have none of their own.
UNKNOWN = "?"


def meaning(rows: Sequence[str], names: Mapping[str, int], meanings: Floats) -> Floats:
    """Add up what a word means: the row of its stem, then those of its classes and senses.

    Args:
        rows: What the word is the sum of, its stem first.
        names: Which row of ``meanings`` each of them has; some have none.
        meanings: The rows, shape (names, width).
    """
    stem, *others = rows
    numbers = [names.get(stem, names[UNKNOWN]), *(names[one] for one in others if one in names)]
    total: Floats = meanings[numbers].sum(axis=0)
    return total


def bend(rows: Floats) -> Floats:
    """Let what is above zero through."""
    return np.maximum(rows, 0)


def beside(rows: Floats, reach: int) -> Floats:
    """Put beside each row those so far before and after it, zeros outside."""
    none = np.zeros((reach, rows.shape[1]), dtype=np.float32)
    padded = np.concatenate([none, rows, none])
    return np.concatenate([padded[: len(rows)], rows, padded[2 * reach :]], axis=1)


def numbered(name: str, count: int) -> list[str]:
    """Name rows of a table: the same name with the numbers from 1."""
    return [f"{name} {number + 1}" for number in range(count)]


def convolution_rows(width: int, layers: int, name: str = "layer") -> dict[str, list[str]]:
    """Name the rows of each layer, in the order of its inputs, by the name of its bias."""
    return {
        layer: [
            row
            for side in ("before", "here", "after")
            for row in numbered(f"{layer} {side}", width)
        ]
        for layer in numbered(name, layers)
    }


def table_rows(table: Weights, names: Sequence[str]) -> Floats:
    """Give rows of a fitted table by their names, shape (names, outputs)."""
    return np.array([table.rows[name] for name in names], dtype=np.float32)
