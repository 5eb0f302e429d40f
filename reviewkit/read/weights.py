"""Read fitted models: a table of features with one number per output."""

from __future__ import annotations

import csv
from collections.abc import Iterator

from reviewkit.errors import InputError
from reviewkit.model import Weights


def parse_weights(source: str, text: str) -> Weights:
    """Read a CSV whose first column is ``feature`` and whose others are the outputs.

    Raises:
        InputError: The first line is another one, or a cell is no number.
    """
    reader = csv.reader(text.splitlines())
    header = next(reader, [])
    if header[:1] != ["feature"] or len(header) < 2:
        raise InputError(source, 1, "the first line must be feature and the names of the outputs")
    return Weights(tuple(header[1:]), dict(_rows(source, len(header), reader)))


def _rows(
    source: str, width: int, reader: Iterator[list[str]]
) -> Iterator[tuple[str, tuple[float, ...]]]:
    for line, cells in enumerate(reader, start=2):
        try:
            values = tuple([float(cell) if cell else 0.0 for cell in cells[1:]])
        except ValueError:
            values = ()
        if len(values) != width - 1:
            raise InputError(source, line, f"{width - 1} numbers must follow the feature")
        yield cells[0], values
