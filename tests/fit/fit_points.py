"""Fit the weights of ``findings/point_weights.py`` and the tables of words behind them.

    python -m tests.fit.fit_points [--forms words,blocks] [-v] [--write]

The weights are fitted on exact words, with the true intervals; the limits from which a
chance tells are chosen for each form of transcript, since a coarse clock blurs all of
them. Prints how well points said, late and missing are told in each form, each class
judged by weights and words fitted on the others and without the lines gathered in it.
Whether a point was said at all is fitted on whole classes: in a short one the least of so
few points tells less, and the limits are for whole ones as well.

Method: logistic regression (L2); for utterances the conditional one, in which each gives
one point of its move or none (D. McFadden, 1974, Conditional logit analysis).
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from scipy.optimize import minimize
from sklearn.linear_model import LogisticRegression
from sklearn.metrics import roc_auc_score

from reviewkit.evaluate import LabelledClass
from reviewkit.findings import point_weights
from reviewkit.findings.point_features import FEATURES
from reviewkit.findings.point_summary import (
    MOST_ODDS,
    SUMMARY,
    TIMING,
    share_out,
    summarise,
    timing,
)
from reviewkit.findings.points import meant_odds
from reviewkit.frames.meant import MEANT_WEIGHTS
from reviewkit.model import Lexicon
from reviewkit.read import read_lexicon
from tests.corpus import is_short, load_classes
from tests.fit.point_data import Case, gather_cases
from tests.fit.point_meant import fit_meant
from tests.fit.point_words import with_words_of, write_words

WEIGHTS_FILE = Path(point_weights.__file__)
FOLDS = 5
# Of the weights of utterances: a larger one lets them grow larger.
STRENGTH = 1.0
# Limits tried, and how many on either side are evened out with each.
_LIMITS = np.linspace(0.02, 0.95, 94)
_NEIGHBOURS = 3
# Limits whose scores are this near to the best one's are as good.
_AS_GOOD = 0.01
# The form that is fitted on, and the one whose limits are its own; others share the first's.
FITTED, COARSE = "words", "blocks"


@dataclass(frozen=True, slots=True)
class Fit:
    """Weights on the plain scale of the features."""

    weights: Any
    bias: float

    def odds(self, features: Any) -> Any:
        """Give the log-odds of each row of features."""
        return features @ self.weights + self.bias

    def chances(self, features: Any) -> Any:
        """Give the chance of each row of features."""
        return 1 / (1 + np.exp(-self.odds(features)))


def fit(features: Any, truth: Any) -> Fit:
    """Fit a logistic regression on evened-out features."""
    middle, spread = features.mean(axis=0), features.std(axis=0) + 1e-9
    model = LogisticRegression(C=1.0, max_iter=1000).fit((features - middle) / spread, truth)
    weights = model.coef_[0] / spread
    return Fit(weights, float(model.intercept_[0] - middle @ weights))


def fit_utterances(training: Sequence[Case]) -> Fit:
    """Fit which point of its move, if any, each utterance gives."""
    features = np.concatenate([case.candidates.features for case in training])
    gives = np.concatenate([case.gives for case in training]).astype(float)
    middle, spread = features.mean(axis=0), features.std(axis=0) + 1e-9
    found = _fit_shared((features - middle) / spread, gives, _utterances(training))
    weights = found[:-1] / spread
    return Fit(weights, float(found[-1] - middle @ weights))


def _utterances(cases: Sequence[Case]) -> Any:
    """Number the utterances of each move of each class: the points of a move share them."""
    firsts: dict[tuple[str, str, str], int] = {}
    numbers, total = [], 0
    for case in cases:
        key = (case.name, case.form, case.candidates.asked.move)
        if key not in firsts:
            firsts[key] = total
            total += len(case.gives)
        numbers.append(firsts[key] + np.arange(len(case.gives)))
    return np.concatenate(numbers)


def _fit_shared(features: Any, gives: Any, utterance: Any) -> Any:
    """Fit the conditional logit; gives the weights, and the bias last."""
    given = np.bincount(utterance, gives)
    truth = gives / np.maximum(1, given)[utterance]

    def loss(weights: Any) -> tuple[float, Any]:
        odds = features @ weights[:-1] + weights[-1]
        weight = np.exp(np.minimum(odds, MOST_ODDS))
        total = 1 + np.bincount(utterance, weight)
        off = weight / total[utterance] - truth
        shrunk = weights[:-1] / STRENGTH
        value = np.log(total).sum() - truth @ odds + shrunk @ weights[:-1] / 2
        return value, np.append(features.T @ off + shrunk, off.sum())

    start = np.zeros(features.shape[1] + 1)
    return minimize(loss, start, jac=True, method="L-BFGS-B", options={"maxiter": 300}).x


@dataclass(frozen=True, slots=True)
class Outcome:
    """A case with its summary and its logits before the first interval ended and at all."""

    case: Case
    summary: Any
    moments: tuple[float, ...]
    text: str


def outcomes(fitted: Fit, judged: Sequence[Case], lexicon: Lexicon) -> list[Outcome]:
    """Weigh the cases of one class with fitted weights, and words of the lexicon's."""
    candidates = [case.candidates for case in judged]
    odds = [fitted.odds(one.features) for one in candidates]
    utterances = judged[0].utterances if judged else ()
    chances = share_out(candidates, meant_odds(candidates, odds, utterances, lexicon))
    summaries = summarise(candidates, chances)
    found = []
    for case, chance, summary in zip(judged, chances, summaries, strict=True):
        best = case.candidates.places[int(chance.argmax())] if len(chance) else None
        text = "" if best is None else case.utterances[int(best)].line.text
        moments = timing(case.candidates, chance, case.starts)
        found.append(Outcome(case, summary, moments, text))
    return found


# --- how well it tells ---------------------------------------------------------------


def truth_of(found: Sequence[Outcome]) -> tuple[Any, Any]:
    """Give which points were said, and which late."""
    return (
        np.array([one.case.verdict != "missing" for one in found]),
        np.array([one.case.verdict == "late" for one in found]),
    )


def report(
    found: Sequence[Outcome],
    chance: Any,
    late_chance: Any,
    title: str,
    limits: tuple[float, float],
) -> None:
    """Print how well said, late and missing are told."""
    said, late = truth_of(found)
    missing = chance < limits[0]
    is_late = ~missing & (late_chance >= limits[1])
    sys.stdout.write(
        f"{title}: {len(found)} points, AUC {roc_auc_score(said, chance):.3f},"
        f" right {((missing == ~said) & (is_late == late)).mean():.3f},"
        f" missing P {_share(missing & ~said, missing)} R {_share(missing & ~said, ~said)},"
        f" late P {_share(is_late & late, is_late)} R {_share(is_late & late, late)}\n"
    )


def _share(part: Any, whole: Any) -> str:
    return f"{part.sum()}/{whole.sum()}"


def _f_score(called: Any, truth: Any, *, beta: float = 1.0) -> float:
    """Weigh precision and recall into one figure; ``beta`` below 1 favours precision."""
    hits = (called & truth).sum()
    total = beta**2 * truth.sum() + called.sum()
    return float((1 + beta**2) * hits / max(1, total))


def thresholds(found: Sequence[Outcome], chance: Any, late_chance: Any) -> tuple[float, float]:
    """Choose the chances that tell missing and late points best; a false "late" costs more.

    Of neighbouring limits the mean counts, so that no lucky one is chosen; of limits as
    good as the best, the one from which about as many points are missing as truly are.
    """
    said, late = truth_of(found)
    scores = _evened(
        [_f_score(chance < least, ~said) + ((chance < least) == ~said).mean() for least in _LIMITS]
    )
    good = _LIMITS[scores >= scores.max() - _AS_GOOD]
    said_from = min(good, key=lambda least: abs((chance < least).sum() - (~said).sum()))
    is_said = chance >= said_from
    late_scores = [_f_score(is_said & (late_chance >= least), late, beta=0.75) for least in _LIMITS]
    return float(said_from), float(_LIMITS[_evened(late_scores).argmax()])


def _evened(scores: Sequence[float]) -> Any:
    edges = np.pad(scores, _NEIGHBOURS, mode="edge")
    return np.convolve(edges, np.ones(2 * _NEIGHBOURS + 1) / (2 * _NEIGHBOURS + 1), mode="valid")


def write(fits: tuple[Fit, Fit, Fit], limits: Mapping[str, tuple[float, float]]) -> None:
    """Write the weights file from the fits of utterances, of points and of lateness."""
    utterance, summary, late = fits
    WEIGHTS_FILE.write_text(
        '"""Weights of what speaks for a point having been given, fitted on labelled classes.\n\n'
        "``python -m tests.fit.fit_points --write`` makes this file. A chance is the\n"
        "logistic function of the weighted sum plus the bias: that an utterance gives a point\n"
        "(``WEIGHTS``), that the point was said at all (``SUMMARY_WEIGHTS``), and that a point\n"
        'said came too late (``LATE_WEIGHTS``).\n"""\n\nfrom __future__ import annotations\n\n'
        "# A point counts as said, and one that was said as late, from these chances on, by the\n"
        "# talk's clock.\n"
        f"SAID_FROM: dict[str, float] = {{\n{_limits(limits, 0)}}}\n"
        f"LATE_FROM: dict[str, float] = {{\n{_limits(limits, 1)}}}\n\n"
        f"BIAS = {utterance.bias:.3f}\n\nWEIGHTS: dict[str, float] = {{\n"
        f"{_rows(FEATURES, utterance)}}}\n\n"
        f"SUMMARY_BIAS = {summary.bias:.3f}\n\nSUMMARY_WEIGHTS: dict[str, float] = {{\n"
        f"{_rows(SUMMARY, summary)}}}\n\n"
        f"LATE_BIAS = {late.bias:.3f}\n\nLATE_WEIGHTS: dict[str, float] = {{\n"
        f"{_rows(TIMING, late)}}}\n",
        encoding="utf-8",
    )


def _rows(names: Sequence[str], fitted: Fit) -> str:
    pairs = zip(names, fitted.weights, strict=True)
    return "".join(f'    "{name}": {weight:.3f},\n' for name, weight in pairs)


def _limits(limits: Mapping[str, tuple[float, float]], place: int) -> str:
    forms = {"words": FITTED, "captions": FITTED, "blocks": COARSE}
    return "".join(
        f'    "{clock}": {limits.get(form, limits[FITTED])[place]:.2f},\n'
        for clock, form in forms.items()
    )


def _folds(names: Sequence[str]) -> dict[str, int]:
    return {name: place % FOLDS for place, name in enumerate(sorted(set(names)))}


def _fold_of(found: Sequence[Outcome]) -> Any:
    folds = _folds([one.case.name for one in found])
    return np.array([folds[one.case.name] for one in found])


def _gather(
    classes: Sequence[LabelledClass], forms: Sequence[str], lexicon: Lexicon
) -> dict[tuple[str, str], list[Case]]:
    """Weigh the points of every class with words that were fitted on other classes."""
    folds = _folds([one.name for one in classes])
    cases = {}
    for fold in range(FOLDS):
        learned = with_words_of([one for one in classes if folds[one.name] != fold], lexicon)
        for labelled in classes:
            if folds[labelled.name] == fold:
                for form in forms:
                    cases[labelled.name, form] = gather_cases(labelled, form, learned)
    return cases


def _in_turn(cases: Mapping[tuple[str, str], list[Case]], lexicon: Lexicon) -> list[Outcome]:
    """Judge every class with weights fitted on classes of the other four fifths."""
    folds = _folds([name for name, _ in cases])
    found = []
    for fold in range(FOLDS):
        training = [
            case
            for (name, form), many in cases.items()
            if folds[name] != fold and form == FITTED
            for case in many
        ]
        fitted = fit_utterances(training)
        learned = with_meant(training, fitted, lexicon)
        for (name, _), many in cases.items():
            if folds[name] == fold:
                found += outcomes(fitted, many, learned)
    return found


def with_meant(training: Sequence[Case], fitted: Fit, lexicon: Lexicon) -> Lexicon:
    """Give the lexicon with the table of what is meant, fitted on top of the odds."""
    odds = [fitted.odds(case.candidates.features) for case in training]
    table = fit_meant(training, odds, lexicon)
    return replace(lexicon, weights={**lexicon.weights, MEANT_WEIGHTS: table})


def _chances_in_turn(found: Sequence[Outcome], rows: Any, truth: Any, used: Any) -> tuple[Any, Fit]:
    """Give each point's chance by weights fitted on other classes, and the whole fit.

    ``used`` tells which points the fits may learn from.
    """
    folds = _fold_of(found)
    chance = np.zeros(len(found))
    for fold in range(FOLDS):
        held = folds == fold
        learned = ~held & used
        chance[held] = fit(rows[learned], truth[learned]).chances(rows[held])
    return chance, fit(rows[used], truth[used])


def rows_of(found: Sequence[Outcome]) -> tuple[Any, Any]:
    """Give the rows that said and late are judged by."""
    return np.array([one.summary for one in found]), np.array([one.moments for one in found])


def wholes(found: Sequence[Outcome]) -> Any:
    """Tell which points are of a whole class."""
    return np.array([not is_short(one.case.name) for one in found])


def _report_forms(
    found: Sequence[Outcome], chance: Any, late_chance: Any, forms: Sequence[str]
) -> dict[str, tuple[float, float]]:
    """Choose and give the limits of the forms that have their own; report every form."""
    of_form = np.array([one.case.form for one in found])
    is_whole = wholes(found)
    limits = {}
    for form in forms:
        own = np.flatnonzero(of_form == form)
        judged = [found[place] for place in map(int, own)]
        if form in (FITTED, COARSE):
            whole = np.flatnonzero((of_form == form) & is_whole)
            limited = [found[place] for place in map(int, whole)]
            limits[form] = thresholds(limited, chance[whole], late_chance[whole])
        used = limits.get(form, limits[FITTED])
        title = f"{form}, left out in turn, said from {used[0]:.2f}, late from {used[1]:.2f}"
        report(judged, chance[own], late_chance[own], title, used)
    return limits


def main() -> None:
    """Fit, report and perhaps write."""
    parser = argparse.ArgumentParser(description="Fit what speaks for a point having been given.")
    parser.add_argument("--forms", default=f"{FITTED},vtt,{COARSE}")
    parser.add_argument("--write", action="store_true")
    parser.add_argument("-v", action="store_true", help="show the points least sure to be said")
    options = parser.parse_args()
    forms = options.forms.split(",")
    if forms[0] != FITTED:
        raise SystemExit(f"the first form has to be {FITTED}: it is what is fitted on")
    classes, lexicon = load_classes(), read_lexicon()
    cases = _gather(classes, forms, lexicon)
    found = _in_turn(cases, lexicon)
    said, late = truth_of(found)
    rows, moments = rows_of(found)
    is_fitted = np.array([one.case.form == FITTED for one in found])
    chance, summary = _chances_in_turn(found, rows, said, is_fitted & wholes(found))
    late_chance, lateness = _chances_in_turn(found, moments, late, is_fitted & said)
    limits = _report_forms(found, chance, late_chance, forms)
    if options.v:
        for place in np.argsort(chance)[:70]:
            one = found[place]
            line = f"{chance[place]:.3f} {one.case.verdict} {one.case.text} | {one.text[:110]}"
            sys.stdout.write(f"{line}\n")
    if options.write:
        exact = [case for (_, form), many in cases.items() if form == FITTED for case in many]
        fitted = fit_utterances(exact)
        write((fitted, summary, lateness), limits)
        write_words(with_meant(exact, fitted, with_words_of(classes, lexicon)))


if __name__ == "__main__":
    main()
