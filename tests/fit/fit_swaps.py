"""Fit how much each sign around a slot counts for another move having been done in it.

    python -m tests.fit.fit_swaps [FIXTURES] [--forms words,vtt,blocks] [--write]

Every class is heard in every form and given its true intervals. Prints how many swaps are
told, and how many false ones, each class judged by weights fitted on the others.
``--write`` writes ``lexicons/en/fitted/swaps.csv``.

Method: logistic regression (L2) over the signs of ``reviewkit.naming.signs``.
"""

from __future__ import annotations

import argparse
import csv
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
from sklearn.linear_model import LogisticRegression

from reviewkit.evaluate import LabelledClass
from reviewkit.listen import marks_of
from reviewkit.marks.departures import find_departures
from reviewkit.marks.move_evidence import weigh_moves
from reviewkit.marks.moves import find_moves
from reviewkit.model import Lexicon
from reviewkit.naming import BIAS, SWAP_WEIGHTS, ends_before
from reviewkit.naming.signs import SIGNS, find_near, swap_signs
from reviewkit.read import read_lexicon
from tests.corpus import FIXTURES, load_classes
from tests.fit.edge_data import hear
from tests.fit.fit_contradictions import true_intervals
from tests.fit.fit_edges import FOLDS, OUT

FORMS = ("words", "vtt", "blocks")
STRENGTH = 1.0

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Slots:
    """The slots of one class in one form: their signs, shape (N, signs), and which are swaps."""

    name: str
    form: str
    signs: Floats
    is_swapped: npt.NDArray[np.bool_]


def gather_slots(labelled: LabelledClass, form: str, lexicon: Lexicon) -> Slots:
    """Hear a class and give the signs of every slot that was done or swapped."""
    talk, plan = hear(labelled, form), labelled.plan
    departures = find_departures(talk, lexicon)
    names, calls = find_moves(talk, plan, lexicon), marks_of("swap_call", departures)
    evidence = weigh_moves(talk, plan, lexicon, names, marks_of("extra_call", departures))
    intervals = true_intervals(labelled)
    ends = ends_before(intervals)
    slots = [one for one in intervals if one.status in ("done", "swapped")]
    rows = [
        swap_signs(one, find_near(one, ends.get(one.id, 0), names, calls), talk, evidence)
        for one in slots
    ]
    return Slots(
        labelled.name,
        form,
        np.array([[row[sign] for sign in SIGNS] for row in rows]).reshape(-1, len(SIGNS)),
        np.array([one.status == "swapped" for one in slots], dtype=np.bool_),
    )


def fit(found: Sequence[Slots]) -> LogisticRegression:
    """Fit on the slots of some classes."""
    signs = np.concatenate([one.signs for one in found])
    truth = np.concatenate([one.is_swapped for one in found])
    return LogisticRegression(C=STRENGTH, max_iter=2000).fit(signs, truth)


def check(found: Sequence[Slots]) -> None:
    """Judge every class by weights fitted on other classes, and print how well they tell."""
    names = sorted({one.name for one in found})
    told: dict[str, list[int]] = {one.form: [0, 0, 0] for one in found}
    for fold in range(FOLDS):
        out = set(names[fold::FOLDS])
        model = fit([one for one in found if one.name not in out])
        for one in found:
            if one.name in out and len(one.signs):
                is_told = model.decision_function(one.signs) > 0
                told[one.form][0] += int((is_told & one.is_swapped).sum())
                told[one.form][1] += int(one.is_swapped.sum())
                told[one.form][2] += int((is_told & ~one.is_swapped).sum())
    for form, (right, true, false) in told.items():
        sys.stdout.write(f"{form:7} {right} of {true} swaps told, {false} false\n")


def write(model: LogisticRegression, path: Path) -> None:
    """Write the weights, the bias first."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["feature", "swapped"])
        writer.writerow([BIAS, f"{model.intercept_[0]:.3f}"])
        for name, weight in zip(SIGNS, model.coef_[0], strict=True):
            writer.writerow([name, f"{weight:.3f}"])


def main() -> None:
    """Fit, say how well it tells, and write the weights where asked to."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("fixtures", nargs="?", type=Path, default=FIXTURES)
    parser.add_argument("--forms", default=",".join(FORMS))
    parser.add_argument("--write", action="store_true")
    options = parser.parse_args()
    lexicon = read_lexicon()
    found = [
        gather_slots(labelled, form, lexicon)
        for labelled in load_classes(options.fixtures)
        for form in options.forms.split(",")
    ]
    check(found)
    if options.write:
        write(fit(found), OUT / f"{SWAP_WEIGHTS}.csv")


if __name__ == "__main__":
    main()
