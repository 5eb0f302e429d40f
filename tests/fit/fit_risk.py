"""Fit the words of ``fitted/risk.csv`` on the labelled classes and on single lines.

    python -m tests.fit.fit_risk [--false-per-class N] [-v] [--write]

Reads the lines said in all labelled classes and those of ``fixtures/lines/risk.csv``.
Prints how many risky lines are told, and how many others with them, each line by words
fitted without its own class or voice; ``-v`` names those told wrongly. ``--write`` writes
the table, its bias such that ``--false-per-class`` lines of a whole class are told wrongly.

Method: logistic regression (L2); a risky line weighs as much as ``WEIGHT`` others. What
the word list's own rules are worth is set and not fitted: they were written on many of
these classes, so they seem better there than they are. To this comes what the network of
labels tells, which ``tests.fit.fit_labels`` has fitted before: for the lines left out it is
trained without their voices, which takes ten minutes and PyTorch.
"""

from __future__ import annotations

import argparse
import csv
import sys
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from sklearn.linear_model import LogisticRegression

from reviewkit.evaluate import LabelledClass
from reviewkit.marks.label_net import RISK, hear_lines, label_net
from reviewkit.marks.risk import find_frames, hear_risks
from reviewkit.marks.risk_signs import BIAS, FRAMED, risk_features
from reviewkit.model import Lexicon
from reviewkit.read import read_lexicon
from tests.corpus import FITTED, is_short, load_classes
from tests.fit.label_examples import (
    FOLDS,
    RISKS,
    Example,
    deal_folds,
    read_examples,
    risky_starts,
    split,
    train_net,
)
from tests.fit.sign_table import as_matrix

TABLE_FILE = FITTED / "risk.csv"
SMOOTHING = 0.1
WEIGHT = 8
FRAMED_WEIGHT = 2.5
LEAST_SEEN = 3
LEAST_TOLD = 0.03

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Line:
    """A line said: in which class or voice, whether it is risky, what is weighed of it."""

    voice: str
    is_of_class: bool
    text: str
    words: tuple[str, ...]
    is_risky: bool
    is_framed: bool
    features: frozenset[str]


def gather(classes: Sequence[LabelledClass], lexicon: Lexicon) -> list[Line]:
    """Give the lines said in classes."""
    lines = []
    for labelled in classes:
        risky = set(risky_starts(labelled))
        lines += [
            _line(labelled.name, said.text, said.start_ms in risky, lexicon, is_of_class=True)
            for said in labelled.said
        ]
    return lines


def read_lines(lexicon: Lexicon) -> list[Line]:
    """Give the single lines."""
    with RISKS.open(encoding="utf-8", newline="") as file:
        return [
            _line(row["voice"], row["text"], bool(row["verdict"]), lexicon, is_of_class=False)
            for row in csv.DictReader(file)
        ]


def _line(voice: str, text: str, is_risky: bool, lexicon: Lexicon, *, is_of_class: bool) -> Line:
    words = split(text)
    heard = hear_risks(words, lexicon)
    return Line(
        voice,
        is_of_class,
        text,
        words,
        is_risky,
        bool(find_frames(heard)),
        risk_features(words, lexicon, heard.hits),
    )


def fit(lines: Sequence[Line]) -> dict[str, float]:
    """Fit a weight for every feature that is not rare, and the bias."""
    seen = Counter(feature for line in lines for feature in line.features)
    kept = {feature for feature, count in seen.items() if count >= LEAST_SEEN}
    table, values = as_matrix(dict.fromkeys(sorted(line.features & kept), 1) for line in lines)
    model = LogisticRegression(
        C=SMOOTHING, solver="liblinear", class_weight={True: WEIGHT, False: 1}
    )
    model.fit(values, np.array([line.is_risky for line in lines]))
    names = table.get_feature_names_out()
    weights = {name: float(w) for name, w in zip(names, model.coef_[0], strict=True)}
    told = {name: weight for name, weight in weights.items() if abs(weight) >= LEAST_TOLD}
    return {BIAS: float(model.intercept_[0]), FRAMED: FRAMED_WEIGHT, **told}


def weigh(lines: Sequence[Line], weights: dict[str, float]) -> Floats:
    """Give the log-odds of lines by fitted weights."""
    return np.array(
        [
            weights[BIAS]
            + weights[FRAMED] * line.is_framed
            + sum(weights.get(feature, 0.0) for feature in line.features)
            for line in lines
        ]
    )


def left_out(lines: Sequence[Line], examples: Sequence[Example], lexicon: Lexicon) -> Floats:
    """Give each line's log-odds by weights and networks fitted without its class or voice.

    Args:
        lines: The lines.
        examples: What networks are trained on; lines are left out with the examples of their
            voice.
        lexicon: Holds the lists.
    """
    dealt = deal_folds(examples)
    fold_of = {
        (one.source == "class", one.voice): fold for one, fold in zip(examples, dealt, strict=True)
    }
    folds = np.array([fold_of[line.is_of_class, line.voice] for line in lines])
    odds = np.zeros(len(lines))
    for fold in range(FOLDS):
        training = [line for line, own in zip(lines, folds, strict=True) if own != fold]
        testing = [line for line, own in zip(lines, folds, strict=True) if own == fold]
        others = [one for one, own in zip(examples, dealt, strict=True) if own != fold]
        net = label_net(*train_net(others, lexicon))
        told = hear_lines(net, [line.words for line in testing], lexicon, (RISK,))[:, 0]
        odds[folds == fold] = weigh(testing, fit(training)) + told
    return odds


def least_odds(lines: Sequence[Line], odds: Floats, false_per_class: float) -> float:
    """Give the log-odds above which so many lines of a whole class are told wrongly."""
    whole = {line.voice for line in lines if line.is_of_class and not is_short(line.voice)}
    false = sorted(
        (
            odd
            for line, odd in zip(lines, odds, strict=True)
            if line.is_of_class and line.voice in whole and not line.is_risky
        ),
        reverse=True,
    )
    return float(false[int(false_per_class * len(whole))])


def _report(name: str, lines: Sequence[Line], odds: Floats, least: float, *, names: bool) -> None:
    told = [odd > least for odd in odds]
    hits = sum(line.is_risky for line, is_told in zip(lines, told, strict=True) if is_told)
    framed = [line for line in lines if line.is_framed]
    by_rules = sum(line.is_risky for line in framed)
    sys.stdout.write(
        f"{name}: told {hits} of {sum(line.is_risky for line in lines)}, {sum(told) - hits} false;"
        f" rules alone {by_rules}, {len(framed) - by_rules} false\n"
    )
    for line, odd, is_told in zip(lines, odds, told, strict=True):
        if names and is_told != line.is_risky:
            sys.stdout.write(f"  {odd - least:+.1f} {line.voice}: {line.text}\n")


def write(weights: dict[str, float], least: float) -> None:
    """Write the table; its bias holds from where on a line is told."""
    shifted = {**weights, BIAS: weights[BIAS] - least}
    with TABLE_FILE.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["feature", "risk"])
        writer.writerows([name, f"{weight:.2f}"] for name, weight in sorted(shifted.items()))


def main() -> None:
    """Fit, report and perhaps write."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--false-per-class", type=float, default=0.3)
    parser.add_argument("--write", action="store_true")
    parser.add_argument("-v", action="store_true")
    options = parser.parse_args()
    lexicon = read_lexicon()
    classes = load_classes()
    lines = gather(classes, lexicon) + read_lines(lexicon)
    odds = left_out(lines, read_examples(classes), lexicon)
    least = least_odds(lines, odds, options.false_per_class)
    for name, is_of_class in (("classes", True), ("single lines", False)):
        chosen = np.array([line.is_of_class is is_of_class for line in lines])
        own = [line for line, is_own in zip(lines, chosen, strict=True) if is_own]
        _report(name, own, odds[chosen], least, names=options.v)
    if options.write:
        write(fit(lines), least)


if __name__ == "__main__":
    main()
