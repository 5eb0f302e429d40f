"""Fit which words, before an end and after it, say that an interval ran over or was cut short.

    python -m tests.fit.fit_remarks [FIXTURES] [--write]

The ends of the labelled classes and the scenes of ``fixtures/lines/lengths.csv`` teach
together. For each way a length may be off, the area under the ROC curve and the share of the
log loss that the words save are printed for the ends of classes left out. ``--write``
writes ``lexicons/en/fitted/remarks.csv``.

Method: logistic regression (L2) over runs of words, once with what they came before or
after and once without; a run must come up in several classes or voices.
"""

from __future__ import annotations

import argparse
import csv
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from typing import Any, Literal

import numpy as np
import numpy.typing as npt
from scipy import sparse
from sklearn.linear_model import LogisticRegression
from sklearn.metrics import log_loss, roc_auc_score

from reviewkit.evaluate import LabelledClass
from reviewkit.language.tokens import norm
from reviewkit.marks.edge_features import Place
from reviewkit.marks.remarks import BIAS, OUTPUTS, find_windows, grams_of, remark_words
from reviewkit.model import Weights
from tests.corpus import FITTED, FIXTURES, load_classes
from tests.fit.edge_data import hear, match_words

SCENES = FIXTURES / "lines" / "lengths.csv"
FOLDS = 6
STRENGTH = 0.1
LEAST_SOURCES = 3
LEAST_WEIGHT = 0.02
# A length this near to the plan, or to what is usual in its class, is as planned; one this
# far from both is short or long. Between the two nothing is learned.
NEAR_S, FAR_S = 2.0, 4.5
# Scenes are short and long far more often than classes: a column of their own, hardly held
# back, takes up the difference.
SCENE = "scene"
SCENE_VALUE = 10.0

Length = Literal["short", "planned", "long"]
WAYS: tuple[Length, Length] = ("short", "long")


@dataclass(frozen=True, slots=True)
class End:
    """What was said before and after one end, and how long the interval was."""

    source: str
    length: Length
    before: tuple[str, ...]
    after: tuple[str, ...]
    is_scene: bool


def ends_of(labelled: LabelledClass) -> Iterator[End]:
    """Give the ends of the planned intervals of a class whose length is clearly one or other."""
    talk = hear(labelled, "words")
    heard_as = match_words(labelled, talk)
    starts = np.array([word.start_ms for word in labelled.words])
    words = remark_words([word.norm for word in talk.words])
    done = [one for one in labelled.intervals if one.plan_row]
    rows = labelled.plan.rows
    off = [
        (one.end_ms - one.start_ms - rows[(one.plan_row or 0) - 1].work_ms) / 1000 for one in done
    ]
    usual = median(off) if off else 0.0
    for one, by in zip(done, off, strict=True):
        length = _length(by, by - usual)
        exact = int(np.searchsorted(starts, one.end_ms - 50))
        at = int(heard_as[exact]) if exact < len(heard_as) else len(words)
        first, _, last = find_windows(talk, [Place(one.end_ms, "W", at)])
        if length:
            before, after = words[int(first[0]) : at], words[at : int(last[0])]
            yield End(labelled.name, length, tuple(before), tuple(after), is_scene=False)


def _length(by: float, own: float) -> Length | None:
    if min(abs(by), abs(own)) <= NEAR_S:
        return "planned"
    if min(by, own) >= FAR_S:
        return "long"
    return "short" if max(by, own) <= -FAR_S else None


def scenes(path: Path = SCENES) -> Iterator[End]:
    """Give the ends that were written one by one, each voice a source."""
    if not path.exists():
        return
    with path.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            before, after = (
                tuple(remark_words([norm(word) for word in row[part].split()]))
                for part in ("before", "after")
            )
            length: Any = row["length"]
            yield End(row["voice"], length, before, after, is_scene=True)


class Matrix:
    """Ends as rows of counted runs of words."""

    def __init__(self, ends: Sequence[End]) -> None:
        """Number the runs that come up in enough sources."""
        counted = [_counted(end) for end in ends]
        sources = defaultdict(set)
        for end, counts in zip(ends, counted, strict=True):
            for name in counts:
                sources[name].add(end.source)
        kept = (name for name, own in sources.items() if len(own) >= LEAST_SOURCES)
        self.names = (SCENE, *sorted(kept))
        number = {name: at for at, name in enumerate(self.names)}
        cells = [
            (row, number[name], float(count))
            for row, counts in enumerate(counted)
            for name, count in counts.items()
            if name in number
        ]
        cells += [(row, 0, SCENE_VALUE) for row, end in enumerate(ends) if end.is_scene]
        at_row, at_name, count = zip(*cells, strict=True)
        self.values = sparse.csr_matrix(
            (count, (at_row, at_name)), shape=(len(ends), len(self.names))
        )


def _counted(end: End) -> Counter[str]:
    counts: Counter[str] = Counter()
    for side, words in (("before", end.before), ("after", end.after)):
        for gram in grams_of(words):
            counts[gram] += 1
            counts[f"{side}: {gram}"] += 1
    return counts


def fit_way(ends: Sequence[End], matrix: Matrix, way: Length, rows: npt.NDArray[np.int64]) -> Any:
    """Fit what tells one way of being off from lengths as planned, on some of the ends."""
    used = [row for row in rows.tolist() if ends[row].length in (way, "planned")]
    truth = [ends[row].length == way for row in used]
    return LogisticRegression(C=STRENGTH, max_iter=1000).fit(matrix.values[used], truth)


def check(ends: Sequence[End]) -> None:
    """Print how well the words tell, for the ends of classes left out."""
    matrix = Matrix(ends)
    names = sorted({end.source for end in ends})
    fold = np.array([names.index(end.source) % FOLDS for end in ends])
    for way in WAYS:
        odds = np.zeros(len(ends))
        for left_out in range(FOLDS):
            model = fit_way(ends, matrix, way, np.flatnonzero(fold != left_out))
            judged = np.flatnonzero(fold == left_out)
            odds[judged] = model.decision_function(matrix.values[judged])
        for is_scene in (False, True):
            used = [
                row for row, end in enumerate(ends)
                if end.is_scene == is_scene and end.length in (way, "planned")
            ]  # fmt: skip
            if not used:
                continue
            truth = np.array([ends[row].length == way for row in used])
            chances = 1 / (1 + np.exp(-odds[used]))
            usual = log_loss(truth, np.full(len(truth), truth.mean()))
            saved = 1 - log_loss(truth, chances) / usual
            kind = "scenes" if is_scene else "classes"
            _say(
                f"{way} in {kind}: {truth.sum()} of {len(truth)}, area "
                f"{roc_auc_score(truth, odds[used]):.3f}, log loss saved {saved:.3f}"
            )


def fit_remarks(ends: Sequence[End]) -> Weights:
    """Fit the table on all the ends given."""
    matrix = Matrix(ends)
    found: dict[str, list[float]] = defaultdict(lambda: [0.0] * len(OUTPUTS))
    for way in WAYS:
        model = fit_way(ends, matrix, way, np.arange(len(ends)))
        classes = [end for end in ends if not end.is_scene]
        count = Counter(end.length for end in classes)
        bias = float(model.intercept_[0]) - np.log(count[way] / count["planned"])
        columns = {side: OUTPUTS.index(f"{way} {side}") for side in ("before", "after")}
        found[BIAS][columns["before"]] = bias
        for name, weight in zip(matrix.names, model.coef_[0].tolist(), strict=True):
            side, _, gram = name.rpartition(": ")
            for own, column in columns.items():
                if name != SCENE and side in ("", own):
                    found[gram][column] += weight
    rows = {
        name: tuple(round(weight, 2) for weight in weights)
        for name, weights in sorted(found.items())
        if name == BIAS or max(map(abs, weights)) >= LEAST_WEIGHT
    }
    return Weights(OUTPUTS, rows)


def write(weights: Weights, path: Path) -> None:
    """Write the table; cells of no weight stay empty."""
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["feature", *OUTPUTS])
        for name, row in weights.rows.items():
            table.writerow([name, *(f"{weight:g}" if weight else "" for weight in row)])


def _say(text: str) -> None:
    sys.stdout.write(f"{text}\n")


def main() -> None:
    """Read the command line and fit."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    parser.add_argument("fixtures", nargs="?", type=Path, default=FIXTURES)
    parser.add_argument("--write", action="store_true")
    options = parser.parse_args()
    ends = [end for labelled in load_classes(options.fixtures) for end in ends_of(labelled)]
    ends += scenes()
    check(ends)
    if options.write:
        write(fit_remarks(ends), FITTED / "remarks.csv")


if __name__ == "__main__":
    main()
