"""Fit which words speak for which kind of movement, from what is said inside intervals.

    python -m tests.fit.fit_kinds [FIXTURES] [--write]

Prints how often the words of an interval of a class left out point to its own pattern, among
all, and against one other at random. ``--write`` writes ``lexicons/en/fitted/patterns.csv``.

Method: multinomial logistic regression (L2) of the pattern on the stems said, each counted
once; stems must come up in several classes. Weights near zero are left out.
"""

from __future__ import annotations

import argparse
import sys
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy import sparse
from sklearn.linear_model import LogisticRegression

from reviewkit.evaluate import LabelledClass
from reviewkit.language.matching import stem
from reviewkit.language.movebook import pattern_of
from reviewkit.language.tokens import norm
from reviewkit.marks.kind_words import BIAS, KIND_WEIGHTS
from reviewkit.model import Lexicon, Weights
from reviewkit.read import read_lexicon
from tests.corpus import FITTED, FIXTURES, load_classes
from tests.fit.weight_table import write_table

FOLDS = 3
STRENGTH = 0.15
STEPS = 150
LEAST_CLASSES = 3
# A pattern done more seldom is not learned.
LEAST_INTERVALS = 6
LEAST_WEIGHT = 0.015
# A word that starts this little before a start is said after it.
EARLY_MS = 200
NO_PATTERNS = frozenset({"", "rest"})


@dataclass(frozen=True, slots=True)
class Said:
    """The stems said in one interval, and the pattern of what was done."""

    name: str
    pattern: str
    stems: frozenset[str]


def said_inside(labelled: LabelledClass, lexicon: Lexicon) -> Iterator[Said]:
    """Give what was said in each interval of a class whose move has a pattern."""
    words = [(word.start_ms + EARLY_MS, stem(norm(word.text))) for word in labelled.words]
    for one in labelled.intervals:
        pattern = pattern_of(one.move, lexicon)
        stems = frozenset(word for at_ms, word in words if one.start_ms <= at_ms < one.end_ms)
        if stems and pattern not in NO_PATTERNS:
            yield Said(labelled.name, pattern, stems)


def fit_kinds(said: Sequence[Said]) -> Weights:
    """Fit the weights of stems, one output per pattern."""
    counts: dict[str, int] = defaultdict(int)
    saying = defaultdict(set)
    for one in said:
        counts[one.pattern] += 1
        for word in one.stems:
            saying[word].add(one.name)
    used = [one for one in said if counts[one.pattern] >= LEAST_INTERVALS]
    stems = sorted(word for word, names in saying.items() if len(names) >= LEAST_CLASSES)
    model = LogisticRegression(C=STRENGTH, max_iter=STEPS)
    model.fit(_matrix(used, stems), [one.pattern for one in used])
    kept = np.where(np.abs(model.coef_) >= LEAST_WEIGHT, np.round(model.coef_, 2), 0.0)
    bias = tuple(round(one, 2) for one in model.intercept_.tolist())
    rows = {word: tuple(kept[:, at].tolist()) for at, word in enumerate(stems) if kept[:, at].any()}
    return Weights(tuple(model.classes_), {BIAS: bias} | rows)


def _matrix(said: Sequence[Said], stems: Sequence[str]) -> sparse.csr_matrix:
    place = {word: at for at, word in enumerate(stems)}
    cells = [
        (row, place[word]) for row, one in enumerate(said) for word in one.stems if word in place
    ]
    at_row, at_stem = zip(*cells, strict=True)
    return sparse.csr_matrix(
        (np.ones(len(cells)), (at_row, at_stem)), shape=(len(said), len(stems))
    )


def fold_of(names: Iterable[str]) -> dict[str, int]:
    """Put each class into one of the folds."""
    return {name: at % FOLDS for at, name in enumerate(sorted(set(names)))}


def kinds_left_out(classes: Sequence[LabelledClass], lexicon: Lexicon) -> dict[str, Weights]:
    """Give for each class weights that were fitted without it."""
    folds = fold_of(labelled.name for labelled in classes)
    said = [one for labelled in classes for one in said_inside(labelled, lexicon)]
    fitted = [fit_kinds([one for one in said if folds[one.name] != fold]) for fold in range(FOLDS)]
    return {name: fitted[fold] for name, fold in folds.items()}


def check(classes: Sequence[LabelledClass], left_out: dict[str, Weights], lexicon: Lexicon) -> None:
    """Print how well the words of intervals of classes left out tell the pattern."""
    right, before, total = 0, 0.0, 0
    for labelled in classes:
        weights = left_out[labelled.name]
        for one in said_inside(labelled, lexicon):
            if one.pattern not in weights.outputs:
                continue
            said = (BIAS, *one.stems)
            sums = np.array([weights.rows[w] for w in said if w in weights.rows]).sum(axis=0)
            own = sums[weights.outputs.index(one.pattern)]
            right += int(own == sums.max())
            before += float((sums < own).sum() / (len(sums) - 1))
            total += 1
    sys.stdout.write(
        f"{total} intervals: own pattern first {right / total:.3f}, "
        f"before another {before / total:.3f}\n"
    )


def main() -> None:
    """Read the command line and fit."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    parser.add_argument("fixtures", nargs="?", type=Path, default=FIXTURES)
    parser.add_argument("--write", action="store_true")
    options = parser.parse_args()
    lexicon, classes = read_lexicon(), load_classes(options.fixtures)
    check(classes, kinds_left_out(classes, lexicon), lexicon)
    if options.write:
        said = [one for labelled in classes for one in said_inside(labelled, lexicon)]
        write_table(FITTED / f"{KIND_WEIGHTS}.csv", fit_kinds(said))


if __name__ == "__main__":
    main()
