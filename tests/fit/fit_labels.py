"""Fit the weights by which lines of talk get their labels.

    python -m tests.fit.fit_labels [--dry] [--out FOLDER]

Reads the utterances of ``tests.fit.label_examples``. Prints F1 on utterances, on voices and
on classes that were left out whole, and writes ``labels.csv``, ``label_words.csv``
and ``label_layers.csv`` into ``lexicons/en/fitted``. It needs PyTorch, and a quarter of an hour.

Method: one logistic regression (L2) per label over binary features, and one network for all
and for risk (``tests.fit.label_training``); their weighted mean tells. Pairs of lines said in
one breath are added, so that one label does not speak against another, and left out with the
voices of both. For some labels the threshold that told them about best on utterances left out
is taken off the bias.
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
from scipy import sparse
from sklearn.linear_model import LogisticRegression

from reviewkit.marks.label_net import NET_TABLES, hear_lines, label_net
from reviewkit.marks.labels import BIAS, LABELS, WEIGHTS, line_features
from reviewkit.model import Label, Lexicon, Weights
from reviewkit.read import read_lexicon
from tests.corpus import FITTED, load_classes
from tests.fit.label_examples import (
    FOLDS,
    NET_SHARE,
    SINGLE,
    Example,
    deal_folds,
    read_examples,
    train_net,
)
from tests.fit.weight_table import write_table

STRENGTH = 1.0
# A hundred times looser than the solver's own: weights are written to two places.
TOLERANCE = 0.01
LEAST_SEEN = 3
LEAST_WEIGHT = 0.05
# Not far below one half, or chat would be heard as something: the nearest that is as good. The
# tables hold more safety and options than talk does, and breath and time have detectors of
# their own: these are told from one half.
THRESHOLDS = np.arange(0.36, 0.51, 0.02)
AS_GOOD = 0.002
LOWERED = ("form", "motivation", "announcement", "rest")


class Matrix:
    """Features of utterances as columns; the last column says "from a class"."""

    def __init__(self, examples: Sequence[Example], lexicon: Lexicon) -> None:
        self.found = [line_features(example.words, lexicon) for example in examples]
        seen = Counter(
            feature
            for example, features in zip(examples, self.found, strict=True)
            if example.source != "pair"
            for feature in features
        )
        names = sorted(feature for feature, count in seen.items() if count >= LEAST_SEEN)
        self.columns = {name: index for index, name in enumerate(names)}
        self.values = self._sparse(self.found, [e.source == "class" for e in examples])
        self.weights = {
            label: np.array([example.weigh(label) for example in examples]) for label in LABELS
        }

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
        """Give the sum for each utterance, read as one said alone."""
        return np.asarray(values[:, :-1] @ self.weights[:-1] + self.bias)


def _fit(
    matrix: Matrix, rows: npt.NDArray[np.bool_], wanted: npt.NDArray[np.bool_], label: Label
) -> Fit:
    model = LogisticRegression(C=STRENGTH, max_iter=500, solver="liblinear", tol=TOLERANCE)
    model.fit(matrix.values[rows], wanted[rows], matrix.weights[label][rows])
    weights = np.where(np.abs(model.coef_[0]) < LEAST_WEIGHT, 0.0, model.coef_[0])
    return Fit(weights, float(model.intercept_[0]))


def _f1(wanted: npt.NDArray[np.bool_], found: npt.NDArray[np.bool_]) -> float:
    both = int((wanted & found).sum())
    total = int(wanted.sum() + found.sum())
    return 2 * both / total if total else 0.0


def _left_out(
    matrix: Matrix,
    folds: npt.NDArray[np.int64],
    wanted: npt.NDArray[np.bool_],
    label: Label,
) -> npt.NDArray[np.float64]:
    """Give each utterance's sum by weights fitted without its fold."""
    sums = np.zeros(len(folds))
    for fold in range(FOLDS):
        fitted = _fit(matrix, folds != fold, wanted, label)
        sums[folds == fold] = fitted.sums(matrix.values[folds == fold])
    return sums


def _threshold(sums: npt.NDArray[np.float64], wanted: npt.NDArray[np.bool_]) -> float:
    """Give the sum from which a label is told about best, as high as may be."""
    odds = [float(np.log(level / (1 - level))) for level in THRESHOLDS]
    scores = [_f1(wanted, sums > odd) for odd in odds]
    good = max(scores) - AS_GOOD
    return max(odd for odd, score in zip(odds, scores, strict=True) if good <= score)


# --- the network ---------------------------------------------------------------------


def _told_left_out(
    examples: Sequence[Example], folds: npt.NDArray[np.int64], lexicon: Lexicon
) -> npt.NDArray[np.float64]:
    """Give the share of networks trained without an utterance's fold, (utterances, labels)."""
    told = np.zeros((len(examples), len(LABELS)))
    for fold in range(FOLDS):
        others = [one for one, at in zip(examples, folds, strict=True) if at != fold]
        net = label_net(*train_net(others, lexicon))
        own = np.flatnonzero(folds == fold).tolist()
        told[own] = hear_lines(net, [examples[at].words for at in own], lexicon, LABELS)
    return told


# --- both ----------------------------------------------------------------------------


def fit(everything: Sequence[Example]) -> tuple[Weights, Weights, Weights]:
    """Fit every label, and print F1 on utterances and classes that were left out."""
    lexicon = read_lexicon()
    folds = deal_folds(everything)
    told = _told_left_out(everything, folds, lexicon)
    labelled = np.array([example.source != "risk" for example in everything])
    folds, told = folds[labelled], told[labelled]
    examples = [example for example in everything if example.source != "risk"]
    matrix = Matrix(examples, lexicon)
    sources = np.array([example.source for example in examples])
    single = np.isin(sources, SINGLE)
    weights: dict[str, dict[str, float]] = {}
    is_heard = np.zeros(len(examples), bool)
    for label, by_net in zip(LABELS, told.T, strict=True):
        wanted = np.array([label in example.labels for example in examples])
        sums = (1 - NET_SHARE) * _left_out(matrix, folds, wanted, label) + by_net
        best = _threshold(sums[single], wanted[single]) if label in LOWERED else 0.0
        parts = [sources == source for source in ("line", "voice", "class")]
        lines, voices, classes = (_f1(wanted[part], sums[part] > best) for part in parts)
        print(f"{label:13} F1 {lines:.3f} lines, {voices:.3f} voices, {classes:.3f} classes")  # noqa: T201
        is_heard |= sums > best
        fitted = _fit(matrix, np.ones(len(examples), bool), wanted, label)
        weights.setdefault(BIAS, {})[label] = (1 - NET_SHARE) * fitted.bias - best
        for name, index in matrix.columns.items():
            weights.setdefault(name, {})[label] = (1 - NET_SHARE) * float(fitted.weights[index])
    is_chat = single & np.array([not example.labels for example in examples])
    print(f"chat left alone {1 - is_heard[is_chat].mean():.3f}")  # noqa: T201
    return _table(weights), *train_net(everything, lexicon)


def _table(weights: dict[str, dict[str, float]]) -> Weights:
    """Keep the features that matter, with a weight for each label."""
    in_order = sorted(weights.items(), key=lambda item: (item[0] != BIAS, item[0]))
    rows = {
        feature: tuple(round(by_label[label], 2) for label in LABELS)
        for feature, by_label in in_order
        if any(by_label.values())
    }
    return Weights(LABELS, rows)


def main() -> None:
    """Fit and write the weights."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--dry", action="store_true", help="print the figures and write nothing")
    parser.add_argument("--out", type=Path, default=FITTED)
    options = parser.parse_args()
    tables = fit(read_examples(load_classes()))
    if not options.dry:
        for name, table in zip((WEIGHTS, *NET_TABLES), tables, strict=True):
            write_table(options.out / f"{name}.csv", table)


if __name__ == "__main__":
    main()
