"""Fit the weights by which lines of talk get their labels.

    python -m tests.fit.fit_labels [--dry] [--out FILE]

Reads the labelled utterances in ``fixtures/lines/lines.csv`` and the lines said in all
labelled classes, which weigh less because praise and announcements are labelled more
sparsely there. Prints F1 on utterances and on classes left out, and writes
``lexicons/en/fitted/labels.csv``.

Method: one logistic regression (L2) per label over binary features; pairs of lines said in
one breath are added, so that one label does not speak against another. The threshold that
told a label best on utterances left out is taken off the bias.
"""

from __future__ import annotations

import argparse
import csv
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
from scipy import sparse
from sklearn.linear_model import LogisticRegression

from reviewkit.language.numbers import number_value
from reviewkit.language.tokens import norm
from reviewkit.marks.labels import BIAS, LABELS, line_features
from reviewkit.model import Label
from reviewkit.read import read_lexicon
from tests.corpus import load_classes

ROOT = Path(__file__).parent.parent.parent
LINES = ROOT / "fixtures" / "lines" / "lines.csv"
OUT = ROOT / "lexicons" / "en" / "fitted" / "labels.csv"
STRENGTH = 0.5
# Lines of whole classes weigh less, least where they are labelled more sparsely.
CLASS_WEIGHT = 0.3
SPARSE_WEIGHT = 0.1
SPARSE = ("motivation", "announcement", "rest", "time_call")
PAIR_WEIGHT = 0.1
PAIRS = 1500
LEAST_SEEN = 3
LEAST_WEIGHT = 0.1
FOLDS = 5
# Near one half, or chat would be heard as something.
THRESHOLDS = np.arange(0.42, 0.49, 0.02)


@dataclass(frozen=True)
class Example:
    """One utterance; ``source`` is "own", "pair" or the name of a class."""

    source: str
    words: tuple[str, ...]
    labels: frozenset[str]


def split(text: str) -> tuple[str, ...]:
    """Cut a text into normalised words."""
    return tuple(word for word in (norm(part) for part in text.split()) if word)


def read_examples() -> list[Example]:
    """Read the utterances of the fixture and of the classes; counts are left to their detector."""
    with LINES.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    examples = [Example("own", split(r["text"]), frozenset(r["labels"].split())) for r in rows]
    for labelled in load_classes():
        for said in labelled.said:
            words = split(said.text)
            if not all(word == "and" or number_value([word]) is not None for word in words):
                labels = frozenset(said.labels) & set(LABELS)
                examples.append(Example(labelled.name, words, labels))
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


@dataclass(frozen=True)
class Fit:
    """Weights of the features, zero where one did not matter, and the bias."""

    weights: npt.NDArray[np.float64]
    bias: float

    def sums(self, values: sparse.csr_matrix) -> npt.NDArray[np.float64]:
        """Give the sum for each utterance, read as one of the fixture's own."""
        return np.asarray(values[:, :-1] @ self.weights[:-1] + self.bias)


def _fit(
    matrix: Matrix, rows: npt.NDArray[np.bool_], wanted: npt.NDArray[np.bool_], label: Label
) -> Fit:
    model = LogisticRegression(C=STRENGTH, max_iter=500, solver="liblinear")
    model.fit(matrix.values[rows], wanted[rows], matrix.weights[label][rows])
    weights = np.where(np.abs(model.coef_[0]) < LEAST_WEIGHT, 0.0, model.coef_[0])
    return Fit(weights, float(model.intercept_[0]))


def _f1(wanted: npt.NDArray[np.bool_], found: npt.NDArray[np.bool_]) -> float:
    both = int((wanted & found).sum())
    total = int(wanted.sum() + found.sum())
    return 2 * both / total if total else 0.0


def _folds(examples: Sequence[Example]) -> npt.NDArray[np.int64]:
    """Deal utterances and whole classes out to folds; pairs are in none."""
    rng = np.random.default_rng(1)
    names = sorted({example.source for example in examples} - {"own", "pair"})
    of_class = dict(zip(names, rng.permutation(len(names)) % FOLDS, strict=True))
    dealt = rng.integers(FOLDS, size=len(examples))
    return np.array(
        [
            dealt[at] if example.source == "own" else of_class.get(example.source, -1)
            for at, example in enumerate(examples)
        ]
    )


def _left_out(
    matrix: Matrix,
    folds: npt.NDArray[np.int64],
    wanted: npt.NDArray[np.bool_],
    label: Label,
) -> npt.NDArray[np.float64]:
    """Give each utterance's sum by weights fitted without its fold and without pairs."""
    sums = np.zeros(len(folds))
    for fold in range(FOLDS):
        fitted = _fit(matrix, (folds != fold) & (folds >= 0), wanted, label)
        sums[folds == fold] = fitted.sums(matrix.values[folds == fold])
    return sums


def fit(examples: Sequence[Example]) -> dict[str, dict[str, float]]:
    """Fit every label, and print F1 on utterances and classes that were left out."""
    matrix = Matrix(examples)
    folds = _folds(examples)
    own = np.array([example.source == "own" for example in examples])
    weights: dict[str, dict[str, float]] = {}
    is_heard = np.zeros(len(own), bool)
    for label in LABELS:
        wanted = np.array([label in example.labels for example in examples])
        sums = _left_out(matrix, folds, wanted, label)
        odds = [float(np.log(level / (1 - level))) for level in THRESHOLDS]
        best = max(odds, key=lambda odd: _f1(wanted[own], sums[own] > odd))
        scores = [_f1(wanted[part], sums[part] > best) for part in (own, ~own & (folds >= 0))]
        print(f"{label:13} F1 {scores[0]:.3f} utterances, {scores[1]:.3f} classes")  # noqa: T201
        is_heard |= sums > best
        fitted = _fit(matrix, np.ones(len(own), bool), wanted, label)
        weights.setdefault(BIAS, {})[label] = fitted.bias - best
        for name, index in matrix.columns.items():
            weights.setdefault(name, {})[label] = float(fitted.weights[index])
    is_chat = own & np.array([not example.labels for example in examples])
    print(f"chat left alone {1 - is_heard[is_chat].mean():.3f}")  # noqa: T201
    return weights


def write(weights: dict[str, dict[str, float]], out: Path) -> None:
    """Write the features that matter, with a weight for each label."""
    with out.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["feature", *LABELS])
        for feature, by_label in sorted(
            weights.items(), key=lambda item: (item[0] != BIAS, item[0])
        ):
            kept = [by_label[label] for label in LABELS]
            if any(kept):
                writer.writerow([feature, *(f"{value:.2f}" if value else "" for value in kept)])


def main() -> None:
    """Fit and write the weights."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--dry", action="store_true", help="print the figures and write nothing")
    parser.add_argument("--out", type=Path, default=OUT)
    options = parser.parse_args()
    weights = fit(add_pairs(read_examples(), PAIRS))
    if not options.dry:
        write(weights, options.out)


if __name__ == "__main__":
    main()
