"""Fit how much a coach's own habits count: the words and silences at their other edges.

    python -m tests.fit.fit_voice [FIXTURES] [--only N] [--write]

Every class is laid on its plan by edges fitted on other classes only, as a class nobody
has heard before would be; what that first look says of the coach's habits is weighed
against the truth. The log loss per true edge is printed for classes left out, without
the habits and with them. ``--write`` writes ``lexicons/en/fitted/voice.csv``.

Method: logistic regression (L2) per output over the log-odds of the first look and those
of each kind of sign.
"""

from __future__ import annotations

import argparse
import csv
import sys
from collections.abc import Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import numpy.typing as npt
from sklearn.linear_model import LogisticRegression

from reviewkit.evaluate import LabelledClass
from reviewkit.listen import marks_of
from reviewkit.marks.departures import find_departures
from reviewkit.marks.edge_features import SIGN_KINDS, gather_facts, list_places
from reviewkit.marks.edges import EDGE_TABLES, VOICE_WEIGHTS, list_signs, weigh_edges
from reviewkit.marks.move_evidence import weigh_moves
from reviewkit.marks.moves import find_moves
from reviewkit.model import EdgeEvidence, Lexicon, Weights
from reviewkit.placing.intervals import edge_chances, lay_on
from reviewkit.placing.own_voice import BIAS, END, ODDS, START, own_odds
from reviewkit.read import read_lexicon
from tests.corpus import FITTED, FIXTURES, load_classes
from tests.fit.edge_data import Flags, gather_sheets, hear
from tests.fit.fit_edges import FIT_FORMS, FOLDS, Judged, leave_out, loss_per_edge

# Where one stamp covers many words, habits are blurred, and would be learned as weak.
FORMS = ("words", "vtt", "rollup")
NO_WEIGHTS = Weights((START, END), {})
Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Look:
    """A first look at a class: log-odds of every moment, and what its own habits add.

    ``odds`` and ``own`` have one entry per output, of shape (M,) and (M, kinds).
    """

    name: str
    odds: tuple[Floats, Floats]
    own: tuple[Floats, Floats]
    truth: tuple[Flags, Flags]


def take_looks(
    judged: Iterable[Judged], classes: Sequence[LabelledClass], lexicon: Lexicon
) -> tuple[Look, ...]:
    """Look at every class by edges fitted on the others."""
    by_name = {one.name: one for one in classes}
    jobs = [(one, by_name[one.sheet.name], lexicon) for one in judged if one.sheet.form in FORMS]
    with ProcessPoolExecutor() as pool:
        return tuple(pool.map(_look, jobs, chunksize=4))


def _look(job: tuple[Judged, LabelledClass, Lexicon]) -> Look:
    judged, labelled, lexicon = job
    sheet, odds = judged.sheet, judged.edges.astype(np.float64)
    talk, plan = hear(labelled, sheet.form), labelled.plan
    known = weigh_edges(talk, lexicon)
    facts = gather_facts(talk, lexicon.lists["word_classes"])
    unweighed = replace(lexicon, weights=lexicon.weights | {VOICE_WEIGHTS: NO_WEIGHTS})
    signs = list_signs(facts, list_places(talk), unweighed)
    moments = tuple(
        replace(moment, start=start, end=end)
        for moment, (start, end) in zip(known.moments, odds.tolist(), strict=True)
    )
    edges = EdgeEvidence(moments, tuple(judged.work.tolist()), signs)
    extras = marks_of("extra_call", find_departures(talk, lexicon))
    moves = weigh_moves(talk, plan, lexicon, find_moves(talk, plan, lexicon), extras)
    starts, ends = edge_chances(lay_on(talk, edges, moves, plan), edges)
    if signs is None:
        raise ValueError("no signs were listed")
    return Look(
        sheet.name,
        (odds[:, 0], odds[:, 1]),
        (own_odds(edges, signs, starts), own_odds(edges, signs, ends)),
        (sheet.edges[:, 0] > 0, sheet.edges[:, 1] > 0),
    )


def fit_voice(looks: Sequence[Look], output: int) -> LogisticRegression:
    """Fit one output on some looks."""
    values = np.concatenate([_values(look, output) for look in looks])
    truth = np.concatenate([look.truth[output] for look in looks])
    return LogisticRegression(C=1.0, max_iter=500).fit(values, truth)


def _values(look: Look, output: int) -> Floats:
    return np.column_stack([look.odds[output], look.own[output]])


def check(looks: Sequence[Look], output: int) -> tuple[float, float]:
    """Give the loss per edge on classes left out: of the first look, and with the habits."""
    names = sorted({look.name for look in looks})
    before, after, truth = [], [], []
    for fold in range(FOLDS):
        out = set(names[fold::FOLDS])
        model = fit_voice([look for look in looks if look.name not in out], output)
        for look in looks:
            if look.name in out:
                before.append(look.odds[output])
                after.append(model.decision_function(_values(look, output)))
                truth.append(look.truth[output])
    flags = np.concatenate(truth)
    return (
        loss_per_edge(np.concatenate(before), flags),
        loss_per_edge(np.concatenate(after), flags),
    )


def _write(models: Sequence[LogisticRegression], path: Path) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["feature", START, END])
        writer.writerow([BIAS, *(f"{model.intercept_[0]:.3f}" for model in models)])
        for row, name in enumerate((ODDS, *SIGN_KINDS)):
            writer.writerow([name, *(f"{model.coef_[0][row]:.3f}" for model in models)])


def main() -> None:
    """Fit, say how much it helps, and write the weights where asked to."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("fixtures", nargs="?", type=Path, default=FIXTURES)
    parser.add_argument("--only", type=int, default=None, help="take only so many classes")
    parser.add_argument("--write", action="store_true")
    options = parser.parse_args()
    classes = load_classes(options.fixtures)[: options.only]
    lexicon = read_lexicon()
    sheets = gather_sheets(classes, FIT_FORMS, lexicon)
    sureness = lexicon.weights[EDGE_TABLES[-1]]
    looks = take_looks(leave_out(sheets, sureness), classes, lexicon)
    for output, name in enumerate((START, END)):
        before, after = check(looks, output)
        told = f"{name}: loss per edge {before:.3f}, with the coach's own habits {after:.3f}"
        sys.stdout.write(told + "\n")
    models = [fit_voice(looks, output) for output in (0, 1)]
    if options.write:
        _write(models, FITTED / f"{VOICE_WEIGHTS}.csv")


if __name__ == "__main__":
    main()
