"""Write fitted weights as the tables that travel with the language."""

from __future__ import annotations

import csv
from pathlib import Path

from reviewkit.model import Weights


def write_table(path: Path, weights: Weights) -> None:
    """Write a line for each feature; cells of no weight stay empty."""
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["feature", *weights.outputs])
        for feature, row in weights.rows.items():
            table.writerow([feature, *(f"{weight:g}" if weight else "" for weight in row)])
