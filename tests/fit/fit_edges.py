"""Fit the weights by which moments are heard as starts and ends, and words as talk in work.

    python -m tests.fit.fit_edges [FIXTURES] [--forms words,...] [--only N] [--check] [--write]

``--check`` leaves a fifth of the classes out in turn, fits on the rest, and prints for each
form the log loss per true edge (lower is better; it counts every moment, so false alarms
cost too) and how well talk in work is told from talk between intervals (area under the
ROC curve). ``--write`` fits on all classes and writes ``lexicons/en/fitted/edges.csv`` and
``work.csv``. Without either the sizes of the data are printed.

Method: one logistic regression (L2) per output over binary features; features that occur
in few places, or in one class alone, and weights near zero are left out.
"""

from __future__ import annotations

import argparse
import csv
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
from sklearn.linear_model import LogisticRegression
from sklearn.metrics import roc_auc_score

from reviewkit.marks.edge_columns import BIAS
from reviewkit.marks.edges import EDGE_WEIGHTS, WORK_WEIGHTS
from reviewkit.read import read_lexicon
from tests.corpus import FIXTURES, load_classes
from tests.fit.edge_data import Flags, Rows, Sheet, Sheets, gather_sheets, stack

OUT = Path(__file__).parent.parent.parent / "lexicons" / "en" / "fitted"
FIT_FORMS = ("words", "vtt", "rollup", "blocks")
FOLDS = 5

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Recipe:
    """How strongly to fit (C: higher fits closer) and what to leave out of the table."""

    strength: float
    least_rows: int
    least_classes: int
    least_weight: float
    digits: int


EDGES = Recipe(strength=0.08, least_rows=4, least_classes=2, least_weight=0.06, digits=2)
WORK = Recipe(strength=0.01, least_rows=4, least_classes=2, least_weight=0.03, digits=2)


@dataclass(frozen=True, slots=True)
class Table:
    """A bias and a row of weights for each feature's number, one column per output."""

    bias: Floats
    features: npt.NDArray[np.int64]
    weights: Floats


def fit(
    sheets: Sequence[Sheet],
    rows_of: Callable[[Sheet], Rows],
    truths: Sequence[Callable[[Sheet], Flags]],
    width: int,
    recipe: Recipe,
) -> Table:
    """Fit one regression per truth on the rows of some sheets and keep what weighs."""
    kept = _frequent([(sheet.name, rows_of(sheet)) for sheet in sheets], width, recipe)
    values = stack([rows_of(sheet) for sheet in sheets], width)[:, kept]
    bias, weights = [], []
    for truth_of in truths:
        truth = np.concatenate([truth_of(sheet) for sheet in sheets])
        model = LogisticRegression(C=recipe.strength, solver="liblinear").fit(values, truth)
        bias.append(model.intercept_[0])
        weights.append(model.coef_[0])
    table = np.round(np.stack(weights, axis=1), recipe.digits)
    table[np.abs(table) < recipe.least_weight] = 0.0
    weighs = table.any(axis=1)
    return Table(np.round(bias, 3), kept[weighs], table[weighs])


def _frequent(
    found: Sequence[tuple[str, Rows]], width: int, recipe: Recipe
) -> npt.NDArray[np.int64]:
    """Give the features that occur in enough rows and enough classes."""
    rows = np.zeros(width, dtype=np.int64)
    classes = np.zeros(width, dtype=np.int64)
    for name in sorted({name for name, _ in found}):
        count = sum(
            np.bincount(one.features, minlength=width) for other, one in found if other == name
        )
        rows += count
        classes += count > 0
    return np.flatnonzero((rows >= recipe.least_rows) & (classes >= recipe.least_classes))


def apply(table: Table, rows: Rows, width: int) -> Floats:
    """Give the log-odds of every row, one column per output."""
    weights = np.zeros((width, table.weights.shape[1]))
    weights[table.features] = table.weights
    odds: Floats = stack([rows], width) @ weights + table.bias
    return odds


def fit_edges(sheets: Sequence[Sheet], width: int, recipe: Recipe = EDGES) -> Table:
    """Fit starts and ends over places."""
    truths = (lambda sheet: sheet.is_start, lambda sheet: sheet.is_end)
    return fit(sheets, lambda sheet: sheet.places, truths, width, recipe)


def fit_work(sheets: Sequence[Sheet], width: int, recipe: Recipe = WORK) -> Table:
    """Fit talk in work over words, against any talk: the share of work is taken off the bias."""
    table = fit(sheets, lambda sheet: sheet.words, (lambda sheet: sheet.is_work,), width, recipe)
    share = float(np.concatenate([sheet.is_work for sheet in sheets]).mean())
    return Table(table.bias - np.log(share / (1 - share)), table.features, table.weights)


# --- how well it tells ---------------------------------------------------------------------


def loss_per_edge(odds: Floats, truth: Flags) -> float:
    """Give the log loss over all moments, divided by the number of true ones."""
    signed = np.where(truth, -odds, odds)
    return float(np.logaddexp(0.0, signed).sum() / max(1, truth.sum()))


def check(data: Sheets) -> None:
    """Judge every class by weights fitted on other classes, and print how well they tell."""
    names = sorted({sheet.name for sheet in data.sheets})
    judged: list[tuple[Sheet, Floats, Floats]] = []
    sizes = []
    for fold in range(FOLDS):
        out = set(names[fold::FOLDS])
        training = [sheet for sheet in data.sheets if sheet.name not in out]
        fitted = [sheet for sheet in training if sheet.form in FIT_FORMS]
        edges = fit_edges(fitted, len(data.place_names))
        work = fit_work(fitted, len(data.word_names))
        sizes.append((len(edges.features), len(work.features)))
        for sheet in data.sheets:
            if sheet.name in out:
                odds = apply(edges, sheet.places, len(data.place_names))
                judged.append((sheet, odds, apply(work, sheet.words, len(data.word_names))[:, 0]))
    _say(f"features kept, edges and work: {sizes}")
    for form in dict.fromkeys(sheet.form for sheet in data.sheets):
        _say(_line(form, [one for one in judged if one[0].form == form]))
    _say(_line("all", judged))


def _line(title: str, judged: Sequence[tuple[Sheet, Floats, Floats]]) -> str:
    odds = np.concatenate([edges for _, edges, _ in judged])
    starts = np.concatenate([sheet.is_start for sheet, _, _ in judged])
    ends = np.concatenate([sheet.is_end for sheet, _, _ in judged])
    is_work = np.concatenate([sheet.is_work for sheet, _, _ in judged])
    auc = roc_auc_score(is_work, np.concatenate([work for _, _, work in judged]))
    return (
        f"{title:7} loss per start {loss_per_edge(odds[:, 0], starts):.3f},"
        f" per end {loss_per_edge(odds[:, 1], ends):.3f}, AUC of work {auc:.3f}"
    )


# --- writing -------------------------------------------------------------------------------


def write(path: Path, outputs: Sequence[str], names: Sequence[str], table: Table) -> None:
    """Write a table of weights, the bias first and features by name."""
    rows = sorted(
        (names[feature], weights)
        for feature, weights in zip(table.features, table.weights.tolist(), strict=True)
    )
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["feature", *outputs])
        writer.writerow([BIAS, *(f"{bias:.3f}" for bias in table.bias)])
        writer.writerows([name, *_cells(weights)] for name, weights in rows)
    _say(f"{path.name}: {len(rows)} features, {path.stat().st_size / 1000:.0f} kB")


def _cells(weights: Iterable[float]) -> list[str]:
    return [f"{weight:g}" if weight else "" for weight in weights]


def _say(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def main() -> None:
    """Gather the data, check and perhaps write."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("fixtures", type=Path, nargs="?", default=FIXTURES)
    parser.add_argument("--forms", default=",".join((*FIT_FORMS, "srt")))
    parser.add_argument("--only", type=int, help="take this many classes, spread over all")
    parser.add_argument("--check", action="store_true")
    parser.add_argument("--write", action="store_true")
    options = parser.parse_args()
    classes = load_classes(options.fixtures)
    if options.only:
        classes = classes[:: max(1, len(classes) // options.only)][: options.only]
    data = gather_sheets(classes, options.forms.split(","), read_lexicon())
    _say(
        f"{len(classes)} classes, {sum(len(sheet.is_start) for sheet in data.sheets)} places,"
        f" {sum(len(sheet.is_work) for sheet in data.sheets)} words"
    )
    if options.check:
        check(data)
    if options.write:
        fitted = [sheet for sheet in data.sheets if sheet.form in FIT_FORMS]
        edges = fit_edges(fitted, len(data.place_names))
        work = fit_work(fitted, len(data.word_names))
        write(OUT / f"{EDGE_WEIGHTS}.csv", ("start", "end"), data.place_names, edges)
        write(OUT / f"{WORK_WEIGHTS}.csv", ("work",), data.word_names, work)


if __name__ == "__main__":
    main()
