"""Weigh where in a stretch of talk the silences lie, by the words on either side of each gap."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from reviewkit.model import Weights

# The outputs of the fitted table: by how much, in natural logarithms, a word lengthens the
# silence after it and before it. Three of its rows stand for gaps in and around counts.
AFTER, BEFORE = "after", "before"
INSIDE_COUNT, BEFORE_COUNT, AFTER_COUNT = "count: inside", "count: before", "count: after"
# Rows by which words on either side of a gap are counted.
_COUNT_ROWS = {
    (True, True): INSIDE_COUNT, (False, True): BEFORE_COUNT, (True, False): AFTER_COUNT,
}  # fmt: skip
# The name of the table among the fitted weights of a language.
PAUSE_WEIGHTS = "pauses"
# Written talk marks its pauses; the classes that the table is fitted on have no marks.
_MARKS = {".": 8.0, "!": 8.0, "?": 8.0, "\u2026": 8.0, ",": 1.5}
_NO_WEIGHTS = (0.0, 0.0)


def weigh_pauses(
    words: Sequence[str], texts: Sequence[str], counted: Sequence[bool], pauses: Weights | None
) -> list[float]:
    """Say how long the silence between each word and the next is, against the others.

    Args:
        words: n normed words.
        texts: The same with their punctuation.
        counted: Which of them are numbers of a spoken count.
        pauses: The fitted table; without it gaps differ by marks only.

    Returns:
        n - 1 weights.
    """
    rows = pauses.rows if pauses else {}
    either = zip(pairwise(words), pairwise(counted), texts, strict=False)
    return [
        _MARKS.get(text[-1:], 1.0)
        * math.exp(
            rows.get(word, _NO_WEIGHTS)[0]
            + rows.get(after, _NO_WEIGHTS)[1]
            + rows.get(_COUNT_ROWS.get(counts, ""), _NO_WEIGHTS)[0]
        )
        for (word, after), counts, text in either
    ]
