"""Fit the weights of ``findings/contradiction_weights.py`` on the labelled classes.

    python -m tests.fit.fit_contradictions [FIXTURES] [-v] [--write]

Every class is heard in several forms with its true intervals and the points truly given.
Prints how many true contradictions are found and how many false ones come with them, each
class judged by weights fitted on classes of the other folds; ``-v`` names them.
``--write`` writes the weights, with the chance that lets ``FALSE_PER_CLASS`` false ones
through.

Method: logistic regression (L2) over pairs of cues; all true pairs of a class together
weigh as much as one, so that cues said often do not count for more.
"""

from __future__ import annotations

import argparse
import csv
import sys
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from sklearn.linear_model import LogisticRegression

from reviewkit.evaluate import LabelledClass, SaidLine
from reviewkit.findings import contradiction_weights
from reviewkit.findings.cue_pairs import FEATURES, Pair, find_pairs
from reviewkit.findings.cues import Cue
from reviewkit.findings.given_points import Given
from reviewkit.frames.cue_words import BIAS, TURN_WEIGHTS, cue_features
from reviewkit.language.tokens import norm
from reviewkit.model import Edge, HeardClass, Interval, Lexicon, Weights
from reviewkit.read import read_lexicon
from reviewkit.read.transcript import parse_transcript
from reviewkit.words import PAUSE_WEIGHTS, split_words
from tests.corpus import FIXTURES, load_classes
from tests.fit.sign_table import as_matrix
from tests.forms import FORMS, render

TURNS_FILE = FIXTURES.parent / "lexicons" / "en" / "fitted" / "turns.csv"
WEIGHTS_FILE = Path(contradiction_weights.__file__)
FINE_FORMS = ("words", "vtt", "rollup")
BLOCK_FORMS = ("blocks",)
# How many false ones a class may have: more where fewer true ones stand out.
FALSE_PER_CLASS = {"FINE": 0.2, "BLOCKS": 0.3}
FOLDS = 5
SMOOTHING = 0.1
# How many other lines a line that goes back on something weighs; which features are kept.
TURN_WEIGHT = 20
LEAST_SEEN = 3
LEAST_TOLD = 0.05
LEAST_SPREAD = 1e-6


@dataclass(frozen=True, slots=True)
class Case:
    """A pair of cues and whether it is a true contradiction; None when half of it is."""

    name: str
    form: str
    move: str
    pair: Pair
    is_true: bool | None


# --- the pairs and their truth ---------------------------------------------------------


def heard_truth(labelled: LabelledClass, form: str, lexicon: Lexicon) -> HeardClass:
    """Hear a class in one form, with its true intervals."""
    transcript = parse_transcript(FORMS[form].file_name, render(labelled, form).encode())
    spans = true_intervals(labelled)
    return HeardClass(
        labelled.plan,
        split_words(transcript, lexicon.weights.get(PAUSE_WEIGHTS)),
        (),
        spans,
        lexicon,
    )


def true_intervals(labelled: LabelledClass) -> tuple[Interval, ...]:
    """Give what was done as intervals without a doubt."""
    return tuple(
        Interval(
            id=f"i{number}",
            plan_row=one.plan_row,
            block=one.block,
            kind="work",
            round=one.round or 1,
            move=one.asked_move,
            side=one.side,
            planned_ms=one.planned_ms,
            status=one.status,
            start=Edge(one.start_ms, one.start_ms, one.start_ms),
            end=Edge(one.end_ms, one.end_ms, one.end_ms),
            length_low_ms=None,
            length_high_ms=None,
            timing=None,
            planned_rest_ms=None,
            rest_after_ms=None,
            done_instead=one.move if one.status == "swapped" else "",
        )
        for number, one in enumerate(labelled.intervals, 1)
    )


def true_given(labelled: LabelledClass) -> tuple[Given, ...]:
    """Give where the points of the plan were given, each for the moves that ask for it."""
    moves: dict[str, set[str]] = {}
    for one in labelled.intervals:
        if one.plan_row:
            for point in labelled.plan.rows[one.plan_row - 1].must_say:
                moves.setdefault(point, set()).add(one.asked_move)
    return tuple(
        Given(move, point, line.start_ms, line.end_ms)
        for line in labelled.said
        for point in line.points
        for move in sorted(moves.get(point, ()))
    )


def truths(labelled: LabelledClass) -> list[tuple[str, SaidLine | None, SaidLine]]:
    """Give move and both lines of each true contradiction; the first may be unknown."""
    found = [one.details for one in labelled.anomalies if one.kind == "contradiction"]
    return [
        (
            one["move"].lower(),
            _said(labelled, one["first"]) if "first" in one else None,
            _said(labelled, one.get("second") or one["text"]),
        )
        for one in found
    ]


def _said(labelled: LabelledClass, text: str) -> SaidLine:
    """Find the line said that shares most words with a text."""
    wanted = _words(text)
    return max(
        labelled.said,
        key=lambda line: len(_words(line.text) & wanted) / len(_words(line.text) | wanted),
    )


def _words(text: str) -> set[str]:
    return set("".join(sign if sign.isalnum() else " " for sign in text.lower()).split())


def _is_said(cue: Cue, line: SaidLine | None) -> bool:
    """Tell whether a cue and a line share more than half of the shorter one's time."""
    if line is None:
        return False
    return Given("", "", line.start_ms, line.end_ms).shares_time(cue.utterance.line)


def gather(
    classes: Iterable[LabelledClass], forms: Sequence[str], lexicons: Mapping[int, Lexicon]
) -> list[Case]:
    """Give all pairs of all classes in all forms, each class by the lexicon of its fold."""
    cases = []
    for number, labelled in enumerate(classes):
        true, given = truths(labelled), true_given(labelled)
        for form in forms:
            heard = heard_truth(labelled, form, lexicons[number % FOLDS])
            for move, pairs in find_pairs(heard, given).items():
                own = [one for one in true if one[0] == move.lower()]
                cases += [
                    Case(labelled.name, form, move.lower(), pair, _truth(pair, own))
                    for pair in pairs
                ]
    return cases


def _truth(pair: Pair, own: Sequence[tuple[str, SaidLine | None, SaidLine]]) -> bool | None:
    hits = [
        (_is_said(pair.first, first), _is_said(pair.second, second)) for _, first, second in own
    ]
    if any(all(hit) for hit in hits):
        return True
    return None if any(any(hit) for hit in hits) else False


# --- the words of going back on something -----------------------------------------------


def fit_turns(classes: Sequence[LabelledClass]) -> Weights:
    """Fit how much words sound like going back on something, on the lines said.

    Method: logistic regression (L2); the true second lines weigh as much as so many others.
    """
    rows, truth = [], []
    for labelled in classes:
        second = {line.start_ms for _, _, line in truths(labelled)}
        for line in labelled.said:
            words = [word for word in map(norm, line.text.split()) if word]
            rows.append(dict.fromkeys(cue_features(words), 1))
            truth.append(line.start_ms in second)
    seen = Counter(feature for row in rows for feature in row)
    kept = {feature for feature, count in seen.items() if count >= LEAST_SEEN}
    table, values = as_matrix({f: 1 for f in row if f in kept} for row in rows)
    model = LogisticRegression(
        C=SMOOTHING, solver="liblinear", class_weight={True: TURN_WEIGHT, False: 1}
    )
    model.fit(values, np.array(truth))
    weights = zip(table.get_feature_names_out(), model.coef_[0], strict=True)
    fitted = {name: (float(w),) for name, w in weights if abs(w) >= LEAST_TOLD}
    return Weights(("turns",), {BIAS: (float(model.intercept_[0]),), **fitted})


def lexicons_of_folds(classes: Sequence[LabelledClass], lexicon: Lexicon) -> dict[int, Lexicon]:
    """Give for each fold the lexicon with the words fitted on the other folds."""
    return {
        fold: with_turns(
            lexicon, fit_turns([one for at, one in enumerate(classes) if at % FOLDS != fold])
        )
        for fold in range(FOLDS)
    }


def with_turns(lexicon: Lexicon, turns: Weights) -> Lexicon:
    """Put fitted words into a lexicon."""
    return replace(lexicon, weights={**lexicon.weights, TURN_WEIGHTS: turns})


# --- the fit ---------------------------------------------------------------------------


def fit(cases: Sequence[Case]) -> tuple[Any, float]:
    """Fit weights on the plain scale of the features, and the bias."""
    used = [case for case in cases if case.is_true is not None]
    rows = np.array([case.pair.features for case in used])
    truth = np.array([case.is_true for case in used], dtype=bool)
    counts = Counter((case.name, case.form) for case in used if case.is_true)
    weights = [1 / counts[case.name, case.form] if case.is_true else 1 for case in used]
    middle, spread = rows.mean(axis=0), rows.std(axis=0)
    # What never varies tells nothing: it gets no weight.
    spread[spread < LEAST_SPREAD] = np.inf
    model = LogisticRegression(C=SMOOTHING, max_iter=2000)
    model.fit((rows - middle) / spread, truth, sample_weight=weights)
    plain = model.coef_[0] / spread
    return plain, float(model.intercept_[0] - middle @ plain)


def left_out(cases: Sequence[Case], folds: Mapping[str, int]) -> Any:
    """Give each case's chance by weights fitted on classes of the other folds."""
    fold = np.array([folds[case.name] for case in cases])
    rows = np.array([case.pair.features for case in cases])
    chances = np.zeros(len(cases))
    for one in range(FOLDS):
        training = [case for case, own in zip(cases, fold, strict=True) if own != one]
        plain, bias = fit(training)
        chances[fold == one] = 1 / (1 + np.exp(-(rows[fold == one] @ plain + bias)))
    return chances


def picked(cases: Sequence[Case], chances: Any) -> list[tuple[float, Case]]:
    """Give what would be flagged at any chance, the likeliest first: each move's best pair."""
    best: dict[tuple[str, str, str], tuple[float, Case]] = {}
    for case, chance in zip(cases, chances, strict=True):
        key = case.name, case.form, case.move
        if key not in best or best[key][0] < chance:
            best[key] = float(chance), case
    return sorted(best.values(), key=lambda pick: pick[0], reverse=True)


def least_chance(
    picks: Sequence[tuple[float, Case]], true: Mapping[str, set[str]], most_false: float
) -> float:
    """Give the chance from which on so many false ones are flagged."""
    false = [chance for chance, case in picks if case.move not in true[case.name]]
    return false[int(most_false)] if most_false < len(false) else 0.0


def _report(
    picks: Sequence[tuple[float, Case]], true: Mapping[str, set[str]], least: float, form: str
) -> None:
    own = [case for chance, case in picks if case.form == form and chance > least]
    hits = {(case.name, case.move) for case in own if case.move in true[case.name]}
    total = sum(map(len, true.values()))
    false = sum(case.move not in true[case.name] for case in own)
    sys.stdout.write(f"{form}: found {len(hits)} of {total}, {false} false in {len(true)}\n")


def _rows(plain: Any) -> str:
    pairs = zip(FEATURES, plain, strict=True)
    return "".join(f'        "{name}": {weight:.3f},\n' for name, weight in pairs)


def write(fits: Mapping[str, tuple[Any, float, float]]) -> None:
    """Write the weights file."""
    text = WEIGHTS_FILE.read_text(encoding="utf-8").partition("\nFINE = ")[0]
    for name, (plain, bias, least) in fits.items():
        text += f"\n{name} = PairWeights(\n    least={least:.3f},\n    bias={bias:.3f},\n"
        text += f"    by_feature={{\n{_rows(plain)}    }},\n)\n"
    WEIGHTS_FILE.write_text(text, encoding="utf-8")


def write_turns(turns: Weights) -> None:
    """Write the words, those that tell most for or against first by name."""
    with TURNS_FILE.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["feature", *turns.outputs])
        for name, (weight,) in sorted(turns.rows.items()):
            writer.writerow([name, f"{weight:.2f}"])


def main() -> None:
    """Fit, report and perhaps write."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("classes", type=Path, nargs="*", default=[FIXTURES])
    parser.add_argument("--write", action="store_true")
    parser.add_argument("-v", action="store_true")
    options = parser.parse_args()
    classes = [one for folder in options.classes for one in load_classes(folder)]
    classes.sort(key=lambda one: one.name)
    lexicons = lexicons_of_folds(classes, read_lexicon())
    true = {one.name: {move for move, _, _ in truths(one)} for one in classes}
    folds = {one.name: at % FOLDS for at, one in enumerate(classes)}
    fits = {}
    for name, forms in (("FINE", FINE_FORMS), ("BLOCKS", BLOCK_FORMS)):
        cases = gather(classes, forms, lexicons)
        picks = picked(cases, left_out(cases, folds))
        least = least_chance(picks, true, FALSE_PER_CLASS[name] * len(classes) * len(forms))
        fits[name] = (*fit(cases), least)
        for form in forms:
            _report(picks, true, least, form)
        for chance, case in picks if options.v else ():
            if chance > least / 2:
                verdict = "true" if case.move in true[case.name] else "false"
                lines = [cue.utterance.line.text for cue in (case.pair.first, case.pair.second)]
                sys.stdout.write(f"{chance:.3f} {verdict} {case.form} {case.name} {lines}\n")
    if options.write:
        write(fits)
        write_turns(fit_turns(classes))


if __name__ == "__main__":
    main()
