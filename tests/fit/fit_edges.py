"""Fit the network that hears which moments are starts and ends, and which words talk in work.

    python -m tests.fit.fit_edges [FIXTURES] [--forms words,...] [--only N] [--check] [--write]

``--check`` leaves each third of the classes out, trains on the rest, and prints for each
form the log loss per true edge (lower is better; it counts every moment, so false alarms
cost too) and how well talk in work is told from talk between intervals (area under the ROC
curve). ``--write`` does so with one third, which is enough to learn how far the network is to
be believed, trains on all classes, and writes ``edge_words.csv``, ``edge_layers.csv`` and
``edge_sureness.csv``. Without either the sizes of the data are printed. It needs PyTorch, and of
one core some forty minutes for each third left out, and an hour for all.

Method: ``tests.fit.edge_training``; sureness by Platt's scaling, one for each clock.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
from sklearn.linear_model import LogisticRegression
from sklearn.metrics import roc_auc_score

from reviewkit.marks.edge_inputs import Floats
from reviewkit.marks.edge_net import OUTPUTS, SURENESS, EdgeNet, Heard, edge_net, weigh
from reviewkit.marks.edges import EDGE_TABLES
from reviewkit.model import Weights
from reviewkit.read import read_lexicon
from tests.corpus import FITTED, FIXTURES, load_classes
from tests.fit.edge_data import Flags, Sheet, gather_sheets
from tests.fit.edge_training import Recipe, tables_of, train
from tests.fit.weight_table import write_table

CLOCKS = ("words", "captions", "blocks")
FIT_FORMS = ("words", "vtt", "srt", "rollup", "blocks", "any captions", "any blocks")
# How far a network is believed before that is known.
AS_TOLD = Weights(SURENESS, dict.fromkeys(CLOCKS, (1.0, 0.0, 1.0, 0.0)))
FOLDS = 3


@dataclass(frozen=True, slots=True, eq=False)
class Judged:
    """A sheet, a network that has not heard its class, and the log-odds that it gives."""

    sheet: Sheet
    net: EdgeNet
    edges: Floats
    work: Floats


def leave_out(
    sheets: Sequence[Sheet], sureness: Weights = AS_TOLD, *, turns: int = FOLDS
) -> Iterator[Judged]:
    """Judge sheets by a network trained on other classes, believed as far as is told.

    A third of the classes in each of so many turns.
    """
    names = sorted({sheet.name for sheet in sheets})
    for fold in range(turns):
        out = set(names[fold::FOLDS])
        training = [one for one in sheets if one.name not in out]
        trained = train(training, Recipe())
        net = edge_net(*tables_of(trained), sureness)
        for sheet in sheets:
            if sheet.name in out:
                told = weigh(net, as_heard(net, sheet))
                yield Judged(sheet, net, told.edges, told.work)


def as_heard(net: EdgeNet, sheet: Sheet) -> Heard:
    """Give a sheet's talk by the numbers of a network's words and classes."""
    return Heard(
        sheet.clock[0],
        np.array([net.words.get(token, 0) for token in sheet.tokens], dtype=np.intp),
        np.array([net.classes.get(one, 0) for one in sheet.classes], dtype=np.intp),
        sheet.word_facts,
        sheet.at,
        sheet.place_facts,
    )


# --- how well it tells ---------------------------------------------------------------------


def loss_per_edge(odds: npt.NDArray[np.floating], truth: Flags) -> float:
    """Give the log loss over all moments, divided by the number of true ones."""
    signed = np.where(truth, -odds, odds)
    return float(np.logaddexp(0.0, signed).sum() / max(1, truth.sum()))


def check(judged: Sequence[Judged]) -> None:
    """Print how well classes are told by networks trained on others."""
    for form in dict.fromkeys(one.sheet.form for one in judged):
        _say(_line(form, [one for one in judged if one.sheet.form == form]))
    _say(_line("all", judged))


def _line(title: str, judged: Sequence[Judged]) -> str:
    odds, truth = _together(judged)
    work = np.concatenate([one.work for one in judged])
    auc = roc_auc_score(np.concatenate([one.sheet.work for one in judged]), work)
    losses = ", ".join(
        f"per {name} {loss_per_edge(odds[:, at], truth[:, at]):.3f}"
        for at, name in enumerate(OUTPUTS)
    )
    return f"{title:7} loss {losses}; AUC of work {auc:.3f}"


def _together(judged: Sequence[Judged]) -> tuple[Floats, Flags]:
    odds = np.concatenate([one.edges for one in judged])
    return odds, np.concatenate([one.sheet.edges > 0 for one in judged])


def sureness_of(judged: Sequence[Judged]) -> Weights:
    """Fit for each clock what log-odds are to be multiplied by, and what added."""
    rows = {}
    for clock in CLOCKS:
        odds, truth = _together([one for one in judged if one.sheet.clock == clock])
        models = [
            LogisticRegression(C=1e6).fit(odds[:, [at]], truth[:, at]) for at in range(len(OUTPUTS))
        ]
        rows[clock] = tuple(
            round(float(number), 3)
            for model in models
            for number in (model.coef_[0][0], model.intercept_[0])
        )
    return Weights(SURENESS, rows)


def _say(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def main() -> None:
    """Gather the data, check and perhaps write."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("fixtures", type=Path, nargs="?", default=FIXTURES)
    parser.add_argument("--forms", default=",".join(FIT_FORMS))
    parser.add_argument("--only", type=int, help="take this many classes, spread over all")
    parser.add_argument("--check", action="store_true")
    parser.add_argument("--write", action="store_true")
    options = parser.parse_args()
    classes = load_classes(options.fixtures)
    if options.only:
        classes = classes[:: max(1, len(classes) // options.only)][: options.only]
    sheets = gather_sheets(classes, options.forms.split(","), read_lexicon())
    _say(
        f"{len(classes)} classes, {sum(len(sheet.at) for sheet in sheets)} places,"
        f" {sum(len(sheet.work) for sheet in sheets)} words"
    )
    if options.check or options.write:
        judged = list(leave_out(sheets, turns=FOLDS if options.check else 1))
        check(judged)
    if options.write:
        trained = train(sheets, Recipe())
        tables = (*tables_of(trained), sureness_of(judged))
        for name, table in zip(EDGE_TABLES, tables, strict=True):
            write_table(FITTED / f"{name}.csv", table)


if __name__ == "__main__":
    main()
