"""Fit the weights of ``findings/point_weights.py`` on a folder of labelled classes.

    python -m tests.fit.fit_points CLASSES [--without NAME,...] [--form words.json] [--write]

Every class is a folder with a transcript, ``plan.csv`` and ``gold.json`` (the true
intervals, and the lines said with the points each gives). Prints how well points said and
missing are told apart, each class judged by weights fitted on the others, and then the
classes left out.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from sklearn.linear_model import LogisticRegression
from sklearn.metrics import roc_auc_score

from reviewkit.findings import point_weights
from reviewkit.findings.point_features import (
    FEATURES,
    LEAD_MS,
    Candidates,
    gather_candidates,
)
from reviewkit.findings.point_summary import SUMMARY, TIMING, summarise, timing
from reviewkit.frames.utterances import split_utterances
from reviewkit.model import Edge, HeardClass, Interval, Lexicon, Plan
from reviewkit.read import read_lexicon, read_plan, read_transcript
from reviewkit.words import split_words

WEIGHTS_FILE = Path(point_weights.__file__)


@dataclass(frozen=True, slots=True)
class Case:
    """One point of the plan: its candidates and the truth."""

    name: str
    candidates: Candidates
    gives: Any
    starts: Any
    words: tuple[str, ...]
    is_said: bool
    is_late: bool

    @property
    def text(self) -> str:
        """Move and point, to show."""
        return f"{self.name} | {self.candidates.asked.move} | {self.candidates.asked.text}"


def _key(values: Sequence[Any]) -> tuple[str, ...]:
    return tuple(" ".join(str(value or "").lower().replace("-", " ").split()) for value in values)


def _interval(row: int, interval: Mapping[str, Any], move: str) -> Interval:
    def edge(seconds: float) -> Edge:
        at_ms = round(1000 * seconds)
        return Edge(at_ms, at_ms, at_ms)

    return Interval(
        id=f"i{row}",
        plan_row=row,
        block=interval["block"],
        kind="work",
        round=interval["round"] or 1,
        move=move,
        side="",
        planned_ms=None,
        status="done",
        start=edge(interval["start"]),
        end=edge(interval["end"]),
        length_low_ms=None,
        length_high_ms=None,
        timing=None,
        planned_rest_ms=None,
        rest_after_ms=None,
    )


def heard_truth(folder: Path, form: str, lexicon: Lexicon) -> tuple[HeardClass, Mapping[str, Any]]:
    """Read a labelled class with its true intervals."""
    gold = json.loads((folder / "gold.json").read_text(encoding="utf-8"))
    talk = split_words(read_transcript(folder / form))
    plan: Plan = read_plan(folder / "plan.csv")
    spans = tuple(
        _interval(row + 1, one, one["planned_move"] or one["move"])
        for row, one in enumerate(gold["intervals"])
    )
    return HeardClass(plan, talk, (), spans, lexicon), gold


def cases(folder: Path, form: str, lexicon: Lexicon) -> list[Case]:
    """Weigh every point of a class's plan and set the truth beside it."""
    heard, gold = heard_truth(folder, form, lexicon)
    utterances = split_utterances(heard.talk)
    found = []
    for one in gather_candidates(heard, utterances):
        if one.asked.point is not None:
            continue
        lines = [utterances[place].line for place in one.places]
        near = [
            (round(1000 * said["start"]), round(1000 * said["end"]))
            for said in gold["said"]
            if _key([one.asked.text]) in [_key([text]) for text in said["points"]]
            and any(
                span.move == one.asked.move
                and span.start.at_ms - LEAD_MS <= 1000 * said["start"] <= span.end.at_ms
                for span in heard.intervals
                if span.start and span.end
            )
        ]
        gives = [
            any(
                min(line.end_ms, end) - max(line.start_ms, start)
                > 0.5 * (line.end_ms - line.start_ms)
                for start, end in near
            )
            for line in lines
        ]
        first_end_ms = one.first_end_ms or 0
        first_said_ms = min((start for start, _ in near), default=0)
        found.append(
            Case(
                folder.name,
                one,
                np.array(gives, dtype=bool),
                np.array([line.start_ms for line in lines]),
                tuple(line.text for line in lines),
                is_said=bool(near),
                is_late=bool(near) and first_end_ms <= first_said_ms,
            )
        )
    return found


@dataclass(frozen=True, slots=True)
class Fit:
    """Weights on the plain scale of the features."""

    weights: Any
    bias: float

    def chances(self, features: Any) -> Any:
        """Give the chance of each row of features."""
        return 1 / (1 + np.exp(-(features @ self.weights + self.bias)))


def fit(features: Any, truth: Any) -> Fit:
    """Fit a logistic regression on evened-out features."""
    middle, spread = features.mean(axis=0), features.std(axis=0) + 1e-9
    model = LogisticRegression(C=0.3, max_iter=1000).fit((features - middle) / spread, truth)
    weights = model.coef_[0] / spread
    return Fit(weights, float(model.intercept_[0] - middle @ weights))


def fit_utterances(training: Sequence[Case]) -> Fit:
    """Fit which utterances give a point."""
    return fit(
        np.concatenate([case.candidates.features for case in training]),
        np.concatenate([case.gives for case in training]),
    )


@dataclass(frozen=True, slots=True)
class Outcome:
    """A case with its summary and its logits before the first interval ended and at all."""

    case: Case
    summary: Any
    moments: tuple[float, float]
    text: str


def outcomes(fitted: Fit, judged: Sequence[Case]) -> list[Outcome]:
    """Weigh the cases of one class with fitted weights."""
    chances = [fitted.chances(case.candidates.features) for case in judged]
    summaries = summarise([case.candidates for case in judged], chances)
    found = []
    for case, chance, summary in zip(judged, chances, summaries, strict=True):
        text = case.words[int(chance.argmax())] if len(chance) else ""
        moments = timing(case.candidates, chance, case.starts)
        found.append(Outcome(case, summary, moments, text))
    return found


# --- how well it tells ---------------------------------------------------------------


def truth_of(found: Sequence[Outcome]) -> tuple[Any, Any]:
    """Give which points were said, and which late."""
    return (
        np.array([one.case.is_said for one in found]),
        np.array([one.case.is_late for one in found]),
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
        f" right {(missing == ~said).mean():.3f},"
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
    """Choose the chances that tell missing and late points best; a false "late" costs more."""
    said, late = truth_of(found)
    options = np.linspace(0.02, 0.95, 94)
    said_from = max(options, key=lambda least: _f_score(chance < least, ~said))
    is_said = chance >= said_from
    late_from = max(
        options, key=lambda least: _f_score(is_said & (late_chance >= least), late, beta=0.75)
    )
    return float(said_from), float(late_from)


def write(fits: tuple[Fit, Fit, Fit], limits: tuple[float, float]) -> None:
    """Write the weights file from the fits of utterances, of points and of lateness."""
    utterance, summary, late = fits
    WEIGHTS_FILE.write_text(
        '"""Weights of what speaks for a point having been given, fitted on labelled classes.\n\n'
        "``python -m tests.fit.fit_points CLASSES --write`` makes this file. A chance is the\n"
        "logistic function of the weighted sum plus the bias: that an utterance gives a point\n"
        "(``WEIGHTS``), that the point was said at all (``SUMMARY_WEIGHTS``), and that a point\n"
        'said came too late (``LATE_WEIGHTS``).\n"""\n\nfrom __future__ import annotations\n\n'
        "# A point counts as said, and one that was said as late, from these chances on.\n"
        f"SAID_FROM = {limits[0]:.2f}\nLATE_FROM = {limits[1]:.2f}\n\n"
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


def _in_turn(by_class: Mapping[str, list[Case]], names: Sequence[str]) -> list[Outcome]:
    """Judge every class with weights fitted on classes of the other four fifths."""
    found = []
    for fold in range(5):
        judged = names[fold::5]
        training = [case for name in names if name not in judged for case in by_class[name]]
        fitted = fit_utterances(training)
        for name in judged:
            found += outcomes(fitted, by_class[name])
    return found


def _chances_in_turn(found: Sequence[Outcome], rows: Any, truth: Any, used: Any) -> tuple[Any, Fit]:
    """Give each point's chance by weights fitted on other classes, and the whole fit.

    ``used`` tells which points the fits may learn from.
    """
    names = [one.case.name for one in found]
    folds = np.array([sorted(set(names)).index(name) % 5 for name in names])
    chance = np.zeros(len(found))
    for fold in range(5):
        held = folds == fold
        learned = ~held & used
        chance[held] = fit(rows[learned], truth[learned]).chances(rows[held])
    return chance, fit(rows[used], truth[used])


def rows_of(found: Sequence[Outcome]) -> tuple[Any, Any]:
    """Give the rows that said and late are judged by."""
    return np.array([one.summary for one in found]), np.array([one.moments for one in found])


def main() -> None:
    """Fit, report and perhaps write."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("classes", type=Path)
    parser.add_argument("--without", default="")
    parser.add_argument("--form", default="words.json")
    parser.add_argument("--write", action="store_true")
    parser.add_argument("-v", action="store_true")
    options = parser.parse_args()
    lexicon = read_lexicon()
    folders = sorted(path.parent for path in options.classes.glob("*/gold.json"))
    by_class = {
        folder.name: cases(folder, options.form, lexicon)
        for folder in folders
        if not folder.name.startswith("_")
    }
    held_out = [name for name in options.without.split(",") if name in by_class]
    seen = [name for name in by_class if name not in held_out]
    found = _in_turn(by_class, seen)
    said, late = truth_of(found)
    rows, moments = rows_of(found)
    chance, summary = _chances_in_turn(found, rows, said, np.ones(len(found), dtype=bool))
    late_chance, lateness = _chances_in_turn(found, moments, late, said)
    limits = thresholds(found, chance, late_chance)
    title = f"left out in turn, said from {limits[0]:.2f}, late from {limits[1]:.2f}"
    report(found, chance, late_chance, title, limits)
    utterance = fit_utterances([case for name in seen for case in by_class[name]])
    rest = [one for name in held_out for one in outcomes(utterance, by_class[name])]
    if rest:
        rows, moments = rows_of(rest)
        report(rest, summary.chances(rows), lateness.chances(moments), "held out", limits)
    if options.v:
        for place in np.argsort(chance)[:70]:
            one = found[place]
            line = f"{chance[place]:.3f} {one.case.is_said} {one.case.text} | {one.text[:110]}"
            sys.stdout.write(f"{line}\n")
    if options.write:
        write((utterance, summary, lateness), limits)


if __name__ == "__main__":
    main()
