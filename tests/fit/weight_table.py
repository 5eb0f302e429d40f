"""Write fitted weights as the tables that travel with the language."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from pathlib import Path

from reviewkit.model import Weights


def write_table(path: Path, weights: Weights) -> None:
    """Write a line for each feature; cells of no weight stay empty."""
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["feature", *weights.outputs])
        for feature, row in weights.rows.items():
            table.writerow([feature, *(f"{weight:g}" if weight else "" for weight in row)])


def rounded_rows(
    names: Iterable[str], rows: Sequence[Sequence[float]], digits: int
) -> dict[str, tuple[float, ...]]:
    """Name the rows of a fitted layer, as exact as they are written."""
    return {
        name: tuple(round(value, digits) for value in row)
        for name, row in zip(names, rows, strict=True)
    }
