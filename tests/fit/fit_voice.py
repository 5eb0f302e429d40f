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
from reviewkit.marks.edge_features import SIGN_KINDS
from reviewkit.marks.edges import EDGE_TABLES, VOICE_WEIGHTS, weigh_edges
from reviewkit.marks.move_evidence import weigh_moves
from reviewkit.marks.moves import find_moves
from reviewkit.model import Lexicon, Weights
from reviewkit.placing.intervals import lay_on, look_back
from reviewkit.placing.own_voice import BIAS, END, ODDS, RELEARNED, START, WORK, own_odds
from reviewkit.placing.relearning import relearn
from reviewkit.placing.slots import FIRST_LOOK
from reviewkit.read import read_lexicon
from tests.corpus import FITTED, FIXTURES, load_classes
from tests.fit.edge_data import Flags, gather_sheets, hear
from tests.fit.fit_edges import FIT_FORMS, FOLDS, Judged, leave_out, loss_per_edge
from tests.fit.weight_table import write_table

# Where one stamp covers many words, habits are blurred, and would be learned as weak.
FORMS = ("words", "vtt", "srt", "rollup")
OUTPUTS = (START, END, WORK)
NO_WEIGHTS = Weights(OUTPUTS, {})
Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Look:
    """A first look at a class: log-odds of all moments and words, and what its habits add.

    The rest has one entry per output: ``odds`` and ``truth`` of shape (M,), or (n,) for
    work, and ``own`` with one column for each thing that a habit is told by.
    """

    name: str
    odds: tuple[Floats, ...]
    own: tuple[Floats, ...]
    truth: tuple[Flags, ...]


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
    sheet = judged.sheet
    talk, plan = hear(labelled, sheet.form), labelled.plan
    unweighed = replace(lexicon, weights=lexicon.weights | {VOICE_WEIGHTS: NO_WEIGHTS})
    edges = weigh_edges(talk, labelled.plan, unweighed, judged.net)
    extras = marks_of("extra_call", find_departures(talk, lexicon))
    moves = weigh_moves(talk, plan, lexicon, find_moves(talk, plan, lexicon), extras)
    first = lay_on(talk, edges, moves, plan, habits=FIRST_LOOK)
    look, signs = look_back(first, edges), edges.signs
    if signs is None:
        raise ValueError("no signs were listed")
    words_ms = np.array([word.start_ms for word in talk.words], dtype=np.int64)
    odds = np.array([(moment.start, moment.end) for moment in edges.moments]).T
    work = np.array(edges.work)
    relearned = relearn(signs.words, work, look.work, words_ms)
    return Look(
        sheet.name,
        (*odds, work),
        (
            own_odds(edges, signs, START, look.starts),
            own_odds(edges, signs, END, look.ends),
            relearned[:, None],
        ),
        (*(sheet.edges.T > 0), sheet.work > 0),
    )


def fit_voice(looks: Sequence[Look], output: int) -> LogisticRegression:
    """Fit one output on some looks."""
    return _fit([_values(look, output) for look in looks], looks, output)


def _fit(values: Sequence[Floats], looks: Sequence[Look], output: int) -> LogisticRegression:
    truth = np.concatenate([look.truth[output] for look in looks])
    return LogisticRegression(C=1.0, max_iter=500).fit(np.concatenate(values), truth)


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


def table(looks: Sequence[Look]) -> Weights:
    """Fit all outputs.

    Talk in work keeps the scale and the balance it has without habits: each word says again
    what its neighbours have said, so that its odds are no odds of a word by itself.
    """
    starts, ends, work = (fit_voice(looks, output) for output in range(len(OUTPUTS)))
    scale = _fit([look.odds[-1][:, None] for look in looks], looks, -1).coef_[0][0]
    of_work = dict(zip((ODDS, RELEARNED), work.coef_[0] / scale, strict=True))
    columns = [
        {BIAS: model.intercept_[0]}
        | dict(zip((ODDS, *SIGN_KINDS, RELEARNED), model.coef_[0], strict=True))
        for model in (starts, ends)
    ]
    columns.append(of_work)
    return Weights(
        OUTPUTS,
        {
            name: tuple(round(float(column.get(name, 0.0)), 3) for column in columns)
            for name in columns[0]
        },
    )


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
    for output, name in enumerate(OUTPUTS):
        before, after = check(looks, output)
        told = f"{name}: loss {before:.3f}, with the coach's own habits {after:.3f}"
        sys.stdout.write(told + "\n")
    if options.write:
        write_table(FITTED / f"{VOICE_WEIGHTS}.csv", table(looks))


if __name__ == "__main__":
    main()
