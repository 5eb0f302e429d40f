"""Fit the weights by which lines of talk get their labels.

    python -m tests.fit.fit_labels [--classes FOLDER] [--out FILE]

Reads the labelled utterances in ``fixtures/lines/lines.csv`` and, with ``--classes``, the
lines of every ``FOLDER/*/gold.json`` (``said``: objects with ``text`` and ``labels``), which
weigh less because praise and announcements are labelled more sparsely there. Writes
``lexicons/en/fitted/labels.csv``.

Method: one logistic regression (L2) per label over binary features; pairs of lines said in
one breath are added, so that one label does not speak against another. The threshold is taken
off the bias.
"""

from __future__ import annotations

import argparse
import csv
import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
from scipy import sparse
from sklearn.linear_model import LogisticRegression

from reviewkit.marks.labels import BIAS, LABELS, line_features
from reviewkit.model import Label
from reviewkit.read import read_lexicon
from reviewkit.tokens import norm

ROOT = Path(__file__).parent.parent.parent
LINES = ROOT / "fixtures" / "lines" / "lines.csv"
OUT = ROOT / "lexicons" / "en" / "fitted" / "labels.csv"
STRENGTH = 0.5
# Lines of whole classes weigh less, least where they are labelled more sparsely.
CLASS_WEIGHT = 0.3
SPARSE_WEIGHT = 0.1
SPARSE = ("motivation", "announcement", "rest", "time_call")
PAIR_WEIGHT = 0.3
PAIRS = 2500
LEAST_SEEN = 2
LEAST_WEIGHT = 0.12
FOLDS = 3
THRESHOLDS = np.arange(0.25, 0.56, 0.05)
# A little below one half: labels are few, and a review would rather hear one too many.
THRESHOLD = 0.43


@dataclass(frozen=True)
class Example:
    """One utterance; ``source`` is "own", "pair" or the name of a class."""

    source: str
    words: tuple[str, ...]
    labels: frozenset[str]


def split(text: str) -> tuple[str, ...]:
    """Cut a text into normalised words."""
    return tuple(word for word in (norm(part) for part in text.split()) if word)


def read_examples(classes: Path | None) -> list[Example]:
    """Read the utterances of the fixture and of the classes."""
    with LINES.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    examples = [Example("own", split(r["text"]), frozenset(r["labels"].split())) for r in rows]
    for path in sorted(classes.glob("*/gold.json")) if classes else ():
        gold = json.loads(path.read_text("utf-8"))
        for said in gold["said"]:
            labels = frozenset(said["labels"]) & set(LABELS)
            examples.append(Example(gold["name"], split(said["text"]), labels))
    return examples


def add_pairs(examples: Sequence[Example], pairs: int) -> list[Example]:
    """Add pairs of utterances said as one, with the labels of both."""
    rng = np.random.default_rng(0)
    own = [example for example in examples if example.source == "own"]
    picked = rng.integers(len(own), size=(pairs, 2))
    joints = rng.integers(4, size=pairs)
    between: tuple[tuple[str, ...], ...] = ((), ("and",), ("so",), ("now",))
    made = [
        Example("pair", own[a].words + between[j] + own[b].words, own[a].labels | own[b].labels)
        for (a, b), j in zip(picked, joints, strict=True)
    ]
    return [*examples, *made]


class Matrix:
    """Features of utterances as columns; the last column says "from a class"."""

    def __init__(self, examples: Sequence[Example]) -> None:
        lexicon = read_lexicon()
        self.found = [line_features(example.words, lexicon) for example in examples]
        seen = Counter(feature for features in self.found for feature in features)
        names = sorted(feature for feature, count in seen.items() if count >= LEAST_SEEN)
        self.columns = {name: index for index, name in enumerate(names)}
        self.values = self._sparse(self.found, [e.source not in ("own", "pair") for e in examples])
        self.weights = {label: self._weigh(examples, label) for label in LABELS}

    @staticmethod
    def _weigh(examples: Sequence[Example], label: str) -> npt.NDArray[np.float64]:
        of_class = SPARSE_WEIGHT if label in SPARSE else CLASS_WEIGHT
        weight = {"own": 1.0, "pair": PAIR_WEIGHT}
        return np.array([weight.get(example.source, of_class) for example in examples])

    def _sparse(
        self, found: Sequence[frozenset[str]], is_class: Sequence[bool]
    ) -> sparse.csr_matrix:
        cells = [
            (row, self.columns[feature])
            for row, features in enumerate(found)
            for feature in features
            if feature in self.columns
        ]
        cells += [(row, len(self.columns)) for row, yes in enumerate(is_class) if yes]
        rows, columns = np.array(cells, dtype=np.int32).T
        shape = (len(found), len(self.columns) + 1)
        matrix = sparse.csr_matrix((np.ones(len(rows)), (rows, columns)), shape=shape)
        matrix.indices = matrix.indices.astype(np.int32)
        matrix.indptr = matrix.indptr.astype(np.int32)
        return matrix


def _fit(
    matrix: Matrix, rows: npt.NDArray[np.bool_], wanted: npt.NDArray[np.bool_], label: Label
) -> LogisticRegression:
    model = LogisticRegression(C=STRENGTH, max_iter=500, solver="liblinear")
    return model.fit(matrix.values[rows], wanted[rows], sample_weight=matrix.weights[label][rows])


def _f1(wanted: npt.NDArray[np.bool_], found: npt.NDArray[np.bool_]) -> float:
    both = int((wanted & found).sum())
    total = int(wanted.sum() + found.sum())
    return 2 * both / total if total else 0.0


def fit(examples: Sequence[Example], held_out: int) -> dict[str, dict[str, float]]:
    """Fit every label and report F1 in cross-validation over the fixture's utterances."""
    matrix = Matrix(examples)
    own = np.array([example.source == "own" for example in examples])
    folds = np.where(own, np.random.default_rng(1).integers(held_out, size=len(own)), -1)
    is_pair = np.array([example.source == "pair" for example in examples])
    weights: dict[str, dict[str, float]] = {}
    for label in LABELS:
        wanted = np.array([label in example.labels for example in examples])
        chance = np.zeros(len(own))
        for fold in range(held_out):
            test = folds == fold
            model = _fit(matrix, ~test & ~is_pair, wanted, label)
            chance[test] = model.predict_proba(matrix.values[test])[:, 1]
        scores = [_f1(wanted[own], chance[own] > level) for level in THRESHOLDS]
        best = THRESHOLD
        print(f"{label:13} F1 {max(scores):.3f} at best in cross-validation")  # noqa: T201
        model = _fit(matrix, np.ones(len(own), bool), wanted, label)
        bias = float(model.intercept_[0]) - float(np.log(best / (1 - best)))
        weights.setdefault(BIAS, {})[label] = bias
        for name, index in matrix.columns.items():
            weights.setdefault(name, {})[label] = float(model.coef_[0][index])
    return weights


def write(weights: dict[str, dict[str, float]], out: Path) -> None:
    """Write the features that matter, with a weight for each label."""
    with out.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["feature", *LABELS])
        for feature, by_label in sorted(
            weights.items(), key=lambda item: (item[0] != BIAS, item[0])
        ):
            least = 0.0 if feature == BIAS else LEAST_WEIGHT
            kept = [by_label[label] if abs(by_label[label]) >= least else 0.0 for label in LABELS]
            if any(kept):
                writer.writerow([feature, *(f"{value:.2f}" if value else "" for value in kept)])


def main() -> None:
    """Fit and write the weights."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--classes", type=Path)
    parser.add_argument("--out", type=Path, default=OUT)
    options = parser.parse_args()
    examples = add_pairs(read_examples(options.classes), PAIRS)
    write(fit(examples, FOLDS), options.out)


if __name__ == "__main__":
    main()
