"""Fit beside which words the silences of a class lie.

    python -m tests.fit.fit_pauses [FIXTURES] [--write]

The words of the labelled classes, with their exact times, teach. How far words, and those
at the starts and ends of intervals, come to lie from their true times in blocks of one
stamp is printed for classes left out. ``--write`` writes ``lexicons/en/fitted/pauses.csv``.

Method: Poisson regression (L2) of the silence after each word, in seconds, on the word, on
the one after it, and on whether either is part of a count; as the expected silences of a
stretch share out what its talk leaves over, only their proportions count.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise, product
from pathlib import Path

import numpy as np
import numpy.typing as npt
from scipy import sparse
from sklearn.linear_model import PoissonRegressor

from reviewkit.evaluate import LabelledClass
from reviewkit.language.tokens import norm
from reviewkit.model import Weights
from reviewkit.words import PAUSE_WEIGHTS, split_words
from reviewkit.words.pauses import AFTER, AFTER_COUNT, BEFORE, BEFORE_COUNT, INSIDE_COUNT
from reviewkit.words.times import counted_words
from tests.corpus import FITTED, FIXTURES, load_classes
from tests.fit.edge_data import match_words, read_form
from tests.fit.weight_table import write_table

FORM = "blocks"
# A word this near to an edge is the one that it hangs on.
EDGE_MS = 200
FOLDS = 4
STRENGTH = 1e-4
# Words of fewer classes teach nothing of their own.
LEAST_CLASSES = 20
# Longer silences are nobody's habit.
MOST_S = 25.0

Floats = npt.NDArray[np.float64]


def silences(labelled: LabelledClass) -> tuple[list[str], list[bool], Floats]:
    """Give the words of a class, which are counted, and the seconds of silence after each."""
    words = [norm(word.text) for word in labelled.words]
    gaps = [max(0, after.start_ms - word.end_ms) / 1000 for word, after in pairwise(labelled.words)]
    return words, counted_words(words), np.minimum([*gaps, 0.0], MOST_S)


def signs(word: str, after: str, counts: tuple[bool, bool]) -> Iterator[tuple[str, str]]:
    """Name the cells of the table that speak for one gap."""
    yield word, AFTER
    yield after, BEFORE
    if any(counts):
        rows = {(True, True): INSIDE_COUNT, (False, True): BEFORE_COUNT}
        yield rows.get(counts, AFTER_COUNT), AFTER


def fit(classes: Sequence[LabelledClass]) -> Weights:
    """Fit the table on the silences between the words of classes."""
    heard = [silences(labelled) for labelled in classes]
    seen = Counter(word for words, _, _ in heard for word in set(words))
    known = {word for word, count in seen.items() if count >= LEAST_CLASSES}
    known |= {INSIDE_COUNT, BEFORE_COUNT, AFTER_COUNT}
    columns = {cell: at for at, cell in enumerate(product(sorted(known), (AFTER, BEFORE)))}
    rows: list[int] = []
    cols: list[int] = []
    waited: list[float] = []
    for words, counted, gaps in heard:
        for (word, after), counts, gap in zip(
            pairwise(words), pairwise(counted), gaps, strict=False
        ):
            own = [columns[cell] for cell in signs(word, after, counts) if cell in columns]
            rows += [len(waited)] * len(own)
            cols += own
            waited.append(float(gap))
    table = sparse.csr_matrix((np.ones(len(rows)), (rows, cols)), shape=(len(waited), len(columns)))
    model = PoissonRegressor(alpha=STRENGTH, max_iter=200).fit(table, waited)
    weights = dict(zip(columns, np.round(model.coef_, 2).tolist(), strict=True))
    return Weights(
        (AFTER, BEFORE),
        {word: (weights[word, AFTER], weights[word, BEFORE]) for word in sorted(known)},
    )


def errors(labelled: LabelledClass, pauses: Weights | None) -> tuple[Floats, Floats, Floats]:
    """Give how far the words of a class lie off in blocks, whether each lies in its range, and
    how far the words at edges lie off, in seconds.
    """
    talk = split_words(read_form(labelled, FORM), pauses)
    heard_as = match_words(labelled, talk)
    known = heard_as < len(talk.words)
    found = np.array([talk.words[at].start_ms for at in heard_as[known]])
    reach = np.array([talk.words[at].spread_ms for at in heard_as[known]])
    true = np.array([word.start_ms for word in labelled.words])[known]
    off = np.abs(found - true) / 1000
    edges = sorted({ms for one in labelled.intervals for ms in (one.start_ms, one.end_ms)})
    at = np.searchsorted(true, np.array(edges) - EDGE_MS)
    at = at[(at < len(true)) & (true.take(at, mode="clip") <= np.array(edges) + EDGE_MS)]
    return off, off * 1000 <= reach, off[at]


def main() -> None:
    """Print what the table is worth on classes left out; write it when asked to."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("fixtures", nargs="?", type=Path, default=FIXTURES)
    parser.add_argument("--write", action="store_true")
    asked = parser.parse_args()
    classes = load_classes(asked.fixtures)
    _print("without", [errors(labelled, None) for labelled in classes])
    left_out = []
    for fold in range(FOLDS):
        pauses = fit([one for at, one in enumerate(classes) if at % FOLDS != fold])
        left_out += [errors(one, pauses) for one in classes[fold::FOLDS]]
    _print("with", left_out)
    if asked.write:
        write_table(FITTED / f"{PAUSE_WEIGHTS}.csv", fit(classes))


def _print(name: str, told: Sequence[tuple[Floats, Floats, Floats]]) -> None:
    off, held, edges = (np.concatenate(part) for part in zip(*told, strict=True))
    sys.stdout.write(
        f"{name}: words off {off.mean():.2f} s, 9 in 10 {np.quantile(off, 0.9):.2f} s,"
        f" in range {held.mean():.3f}; edges off {edges.mean():.2f} s, 9 in 10"
        f" {np.quantile(edges, 0.9):.2f} s\n"
    )


if __name__ == "__main__":
    main()
