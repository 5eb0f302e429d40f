"""Fit the weights of ``findings/point_weights.py``, and the words and network behind them.

    python -m tests.fit.fit_points [--forms words,blocks] [-v] [--write]

The weights of utterances are fitted on exact words, with the true intervals; those of
whole points, and the limits from which a chance tells, on blocks as well, with the intervals
that are found, since a coarse clock blurs all of them. Other forms are judged as exact words
are. Prints how well points said, late and missing are told in each form, each class judged
by weights, words and a network fitted on the others and without the lines gathered in it.
It needs PyTorch, and most of an hour of one core.
Whether a point was said at all is fitted on whole classes: in a short one the least of so
few points tells less, and the limits are for whole ones as well.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from sklearn.metrics import roc_auc_score

from reviewkit.evaluate import LabelledClass
from reviewkit.findings import point_weights
from reviewkit.findings.point_features import FEATURES
from reviewkit.findings.point_summary import (
    SUMMARY,
    TIMING,
    share_out,
    summarise,
    time_all,
)
from reviewkit.findings.points import meant_odds
from reviewkit.frames.around import AROUND
from reviewkit.frames.meant import MEANT_WEIGHTS
from reviewkit.frames.point_net import POINT_TABLES
from reviewkit.model import Lexicon
from reviewkit.read import read_lexicon
from tests.corpus import is_short, load_classes
from tests.fit.point_data import COARSE, Case, gather_cases, without_lines_of
from tests.fit.point_fits import Fit, fit, fit_utterances, odds_of
from tests.fit.point_lessons import with_point_net, without_point_net
from tests.fit.point_meant import fit_meant
from tests.fit.point_words import FITTED_FOLDER, with_words_of, write_words
from tests.fit.weight_table import write_table

WEIGHTS_FILE = Path(point_weights.__file__)
FOLDS = 5
# Limits tried, and how many on either side are evened out with each.
_LIMITS = np.linspace(0.02, 0.95, 94)
_NEIGHBOURS = 3
# Limits whose scores are this near to the best one's are as good.
_AS_GOOD = 0.01
# The form that is fitted on; the coarse one's whole points are judged by weights of its own.
FITTED = "words"


@dataclass(frozen=True, slots=True)
class Outcome:
    """A case with its summary and what tells when it was given."""

    case: Case
    summary: Any
    moments: Any
    text: str


def outcomes(fitted: Fit, judged: Sequence[Case], lexicon: Lexicon) -> list[Outcome]:
    """Weigh the cases of one class with fitted weights, and words of the lexicon's."""
    candidates = [case.candidates for case in judged]
    odds = [odds_of(fitted, one) for one in candidates]
    utterances = judged[0].utterances if judged else ()
    chances = share_out(candidates, meant_odds(candidates, odds, utterances, lexicon))
    summaries = summarise(candidates, chances)
    moments = time_all(candidates, chances, [case.starts for case in judged])
    found = []
    for case, chance, summary, moment in zip(judged, chances, summaries, moments, strict=True):
        best = case.candidates.places[int(chance.argmax())] if len(chance) else None
        text = "" if best is None else case.utterances[int(best)].line.text
        found.append(Outcome(case, summary, moment, text))
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


def _f_score(called: Any, truth: Any) -> float:
    """Weigh precision and recall into one figure."""
    hits = (called & truth).sum()
    return float(2 * hits / max(1, truth.sum() + called.sum()))


def thresholds(found: Sequence[Outcome], chance: Any, late_chance: Any) -> tuple[float, float]:
    """Choose the chances that tell missing and late points best."""
    said, late = truth_of(found)
    missing = [chance < least for least in _LIMITS]
    rights = [(one == ~said).mean() for one in missing]
    said_from = _limit(missing, ~said, [_f_score(one, ~said) for one in missing], rights)
    is_late = [(chance >= said_from) & (late_chance >= least) for least in _LIMITS]
    return said_from, _limit(is_late, late, [_f_score(one, late) for one in is_late])


def _limit(called: Sequence[Any], truth: Any, *scores: Sequence[float]) -> float:
    """Choose the limit by what each of ``_LIMITS`` calls so, and its scores, added up.

    Of neighbouring limits the mean counts, so that no lucky one is chosen; of limits as
    good as the best, the one that calls about as many points so as truly are.
    """
    evened = _evened(np.sum(scores, axis=0))
    good = np.flatnonzero(evened >= evened.max() - _AS_GOOD).tolist()
    nearest = min(good, key=lambda place: abs(called[place].sum() - truth.sum()))
    return float(_LIMITS[nearest])


def _evened(scores: Sequence[float]) -> Any:
    edges = np.pad(scores, _NEIGHBOURS, mode="edge")
    return np.convolve(edges, np.ones(2 * _NEIGHBOURS + 1) / (2 * _NEIGHBOURS + 1), mode="valid")


def write(models: Mapping[str, tuple[Fit, Fit, Fit, tuple[float, float]]]) -> None:
    """Write the weights file from each fitted form's fits and limits.

    The fits are those of utterances, of points and of lateness.
    """
    WEIGHTS_FILE.write_text(
        '"""Weights of what speaks for a point having been given, fitted on labelled classes.\n\n'
        "``python -m tests.fit.fit_points --write`` makes this file: a model of each talk's\n"
        'clock.\n"""\n\nfrom __future__ import annotations\n\n'
        "from reviewkit.findings.point_model import PointModel, Weighing\n"
        "from reviewkit.model import Clock\n"
        + "".join(f"\n_{form.upper()} = {_model(*one)}" for form, one in models.items())
        + "\nMODELS: dict[Clock, PointModel] = {\n"
        + "".join(
            f'    "{clock}": _{(form if form in models else FITTED).upper()},\n'
            for clock, form in {"words": FITTED, "captions": FITTED, "blocks": COARSE}.items()
        )
        + "}\n",
        encoding="utf-8",
    )


def _model(utterance: Fit, said: Fit, late: Fit, limits: tuple[float, float]) -> str:
    return (
        f"PointModel(\n    utterance={_weighing(FEATURES, utterance)},\n"
        f"    said={_weighing(SUMMARY, said)},\n    late={_weighing(TIMING, late)},\n"
        f"    said_from={limits[0]:.2f},\n    late_from={limits[1]:.2f},\n)\n"
    )


def _weighing(names: Sequence[str], fitted: Fit) -> str:
    pairs = zip(names, fitted.weights, strict=True)
    rows = "".join(f'            "{name}": {weight:.3f},\n' for name, weight in pairs)
    return f"Weighing(\n        {fitted.bias:.3f},\n        {{\n{rows}        }},\n    )"


def _folds(names: Sequence[str]) -> dict[str, int]:
    return {name: place % FOLDS for place, name in enumerate(sorted(set(names)))}


def _fold_of(found: Sequence[Outcome]) -> Any:
    folds = _folds([one.case.name for one in found])
    return np.array([folds[one.case.name] for one in found])


def _gather(
    classes: Sequence[LabelledClass], forms: Sequence[str], lexicon: Lexicon
) -> dict[tuple[str, str], list[Case]]:
    """Weigh the points of every class with words, lines and a network of other classes."""
    folds = _folds([one.name for one in classes])
    plain, learned = without_point_net(lexicon), {}
    for fold in range(FOLDS):
        held = {one.name for one in classes if folds[one.name] == fold}
        others = with_words_of([one for one in classes if one.name not in held], plain)
        learned[fold] = without_lines_of(held, others)
    unheard = {one.name: gather_cases(one, FITTED, learned[folds[one.name]]) for one in classes}
    cases = {}
    for fold in range(FOLDS):
        lessons = [case for name, many in unheard.items() if folds[name] != fold for case in many]
        hearing = with_point_net(lessons, learned[fold])
        for labelled in classes:
            if folds[labelled.name] == fold:
                for form in forms:
                    # Short classes teach words and utterances, which exact words are for.
                    if form == FITTED or not is_short(labelled.name):
                        cases[labelled.name, form] = gather_cases(labelled, form, hearing)
    return cases


def _kind(form: str) -> str:
    """Give the fitted form that a form is judged as."""
    return COARSE if form == COARSE else FITTED


def _in_turn(cases: Mapping[tuple[str, str], list[Case]], lexicon: Lexicon) -> list[Outcome]:
    """Judge every class with weights fitted on classes of the other four fifths."""
    folds = _folds([name for name, _ in cases])
    found = []
    for fold in range(FOLDS):
        training = _training({key: many for key, many in cases.items() if folds[key[0]] != fold})
        fits = _fit_kinds(training)
        learned = with_meant(training, fits[FITTED], lexicon)
        for (name, form), many in cases.items():
            if folds[name] == fold:
                found += outcomes(fits[_kind(form)], many, learned)
    return found


def _training(cases: Mapping[tuple[str, str], list[Case]]) -> list[Case]:
    return [case for (_, form), many in cases.items() if form == FITTED for case in many]


def _fit_kinds(training: Sequence[Case]) -> dict[str, Fit]:
    """Fit utterances for each kind of form; what stands around them is unknown in blocks."""
    return {FITTED: fit_utterances(training), COARSE: fit_utterances(training, leave_out=AROUND)}


def with_meant(training: Sequence[Case], fitted: Fit, lexicon: Lexicon) -> Lexicon:
    """Give the lexicon with the table of what is meant, fitted on top of the odds."""
    odds = [odds_of(fitted, case.candidates) for case in training]
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


def _judge_kind(
    found: Sequence[Outcome], forms: Sequence[str]
) -> tuple[Fit, Fit, tuple[float, float], Any]:
    """Fit what is told of whole points of some forms, of which the first is fitted on.

    Reports every form; gives the fits of said and late, the limits, and all chances.
    """
    said, late = truth_of(found)
    rows, moments = rows_of(found)
    of_form = np.array([one.case.form for one in found])
    own = of_form == forms[0]
    chance, summary = _chances_in_turn(found, rows, said, own & wholes(found))
    late_chance, lateness = _chances_in_turn(found, moments, late, own & said)
    limited = np.flatnonzero(own & wholes(found))
    whole = [found[place] for place in map(int, limited)]
    limits = thresholds(whole, chance[limited], late_chance[limited])
    for form in forms:
        at = np.flatnonzero(of_form == form)
        title = f"{form}, left out in turn, said from {limits[0]:.2f}, late from {limits[1]:.2f}"
        judged = [found[place] for place in map(int, at)]
        report(judged, chance[at], late_chance[at], title, limits)
    return summary, lateness, limits, chance


def _show_least(found: Sequence[Outcome], chance: Any) -> None:
    """Print the points least sure to be said."""
    for place in np.argsort(chance)[:70]:
        one = found[place]
        line = f"{chance[place]:.3f} {one.case.verdict} {one.case.text} | {one.text[:110]}"
        sys.stdout.write(f"{line}\n")


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
    conclude(_gather(classes, forms, lexicon), classes, forms, lexicon, options)


def conclude(
    cases: Mapping[tuple[str, str], list[Case]],
    classes: Sequence[LabelledClass],
    forms: Sequence[str],
    lexicon: Lexicon,
    options: argparse.Namespace,
) -> None:
    """Fit on the cases, report, and write what is asked for."""
    found = _in_turn(cases, lexicon)
    judged = {}
    for kind in filter(forms.__contains__, (FITTED, COARSE)):
        own = [one for one in found if _kind(one.case.form) == kind]
        alike = (kind, *(form for form in forms if form != kind and _kind(form) == kind))
        said, late, limits, chance = _judge_kind(own, alike)
        judged[kind] = said, late, limits
        if options.v:
            _show_least(own, chance)
    if options.write:
        training = _training(cases)
        fits = _fit_kinds(training)
        write({kind: (fits[kind], *own) for kind, own in judged.items()})
        learned = with_point_net(training, with_words_of(classes, lexicon))
        write_words(with_meant(training, fits[FITTED], learned))
        for name in POINT_TABLES:
            write_table(FITTED_FOLDER / f"{name}.csv", learned.weights[name])


if __name__ == "__main__":
    main()
