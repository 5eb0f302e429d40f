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
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from sklearn.linear_model import LogisticRegression
from sklearn.metrics import roc_auc_score

from reviewkit.findings import point_features as points
from reviewkit.frames.utterances import split_utterances
from reviewkit.model import Edge, HeardClass, Interval, Lexicon, Plan
from reviewkit.read import read_lexicon, read_plan, read_transcript
from reviewkit.words import split_words

WEIGHTS_FILE = Path(points.__file__).with_name("point_weights.py")


@dataclass(frozen=True, slots=True)
class Case:
    """One point of the plan: the features of its utterances and the truth."""

    name: str
    move: str
    text: str
    features: Any
    gives: Any
    starts: Any
    words: tuple[str, ...]
    is_said: bool
    is_late: bool
    first_end_ms: int


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
    for one in points.gather_candidates(heard, utterances):
        if one.asked.point is not None:
            continue
        lines = [utterances[place].line for place in one.places]
        near = [
            (round(1000 * said["start"]), round(1000 * said["end"]))
            for said in gold["said"]
            if _key([one.asked.text]) in [_key([text]) for text in said["points"]]
            and any(
                span.move == one.asked.move
                and span.start.at_ms - points.LEAD_MS <= 1000 * said["start"] <= span.end.at_ms
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
        found.append(
            Case(
                folder.name,
                one.asked.move,
                one.asked.text,
                one.features,
                np.array(gives, dtype=bool),
                np.array([line.start_ms for line in lines]),
                tuple(line.text for line in lines),
                bool(near),
                bool(near) and first_end_ms <= min(start for start, _ in near),
                first_end_ms,
            )
        )
    return found


@dataclass(frozen=True, slots=True)
class Fit:
    """Weights on the plain scale of the features."""

    weights: Any
    bias: float

    def chances(self, case: Case) -> Any:
        """Give each utterance's chance of giving the point."""
        return 1 / (1 + np.exp(-(case.features @ self.weights + self.bias)))


def fit(training: Sequence[Case]) -> Fit:
    """Fit a logistic regression over all utterances of the cases."""
    features = np.concatenate([case.features for case in training])
    gives = np.concatenate([case.gives for case in training])
    middle, spread = features.mean(axis=0), features.std(axis=0) + 1e-9
    model = LogisticRegression(C=0.3, max_iter=1000).fit((features - middle) / spread, gives)
    weights = model.coef_[0] / spread
    return Fit(weights, float(model.intercept_[0] - middle @ weights))


@dataclass(frozen=True, slots=True)
class Outcome:
    """A case with the best chance at any time and before the first interval ended."""

    case: Case
    best: float
    early: float
    text: str


def outcomes(fitted: Fit, judged: Sequence[Case]) -> list[Outcome]:
    """Judge cases with fitted weights."""
    found = []
    for case in judged:
        chance = fitted.chances(case)
        early = chance[case.starts < case.first_end_ms].max(initial=0)
        text = case.words[int(chance.argmax())] if len(chance) else ""
        found.append(Outcome(case, float(chance.max(initial=0)), float(early), text))
    return found


def report(found: Sequence[Outcome], title: str, said_from: float, late_from: float) -> None:
    """Print how well said, late and missing are told."""
    said = np.array([one.case.is_said for one in found])
    best = np.array([one.best for one in found])
    late = np.array([one.case.is_late for one in found])
    early = np.array([one.early for one in found])
    missing = best < said_from
    called_late = ~missing & (early < np.minimum(late_from, best))
    print(
        f"{title}: {len(found)} points, AUC {roc_auc_score(said, best):.3f},"
        f" right {(missing == ~said).mean():.3f},"
        f" missing P {_share(missing & ~said, missing)} R {_share(missing & ~said, ~said)},"
        f" late P {_share(called_late & late, called_late)} R {_share(called_late & late, late)}"
    )


def _share(part: Any, whole: Any) -> str:
    return f"{part.sum()}/{whole.sum()}"


def best_threshold(found: Sequence[Outcome]) -> float:
    """Choose the chance that tells most points right."""
    said = np.array([one.case.is_said for one in found])
    best = np.array([one.best for one in found])
    options = np.linspace(0.02, 0.9, 89)
    return float(max(options, key=lambda least: ((best >= least) == said).mean()))


def best_late_threshold(found: Sequence[Outcome], said_from: float) -> float:
    """Choose the chance before the first end that tells most late points right."""
    found = [one for one in found if said_from <= one.best]
    late = np.array([one.case.is_late for one in found])
    early = np.array([one.early for one in found])
    best = np.array([one.best for one in found])
    options = np.linspace(0.02, 0.9, 89)
    return float(max(options, key=lambda least: ((early < np.minimum(least, best)) == late).mean()))


def write(fitted: Fit, said_from: float, late_from: float) -> None:
    """Write the weights file."""
    lines = "".join(
        f'    "{name}": {weight:.3f},\n'
        for name, weight in zip(points.FEATURES, fitted.weights, strict=True)
    )
    WEIGHTS_FILE.write_text(
        '"""Weights of what speaks for a point having been given, fitted on labelled classes.\n\n'
        "``python -m tests.fit.fit_points CLASSES --write`` makes this file. The chance that an\n"
        "utterance gives a point is the logistic function of the weighted sum plus ``BIAS``.\n"
        '"""\n\nfrom __future__ import annotations\n\n'
        "# A point counts as said from this chance of its best utterance on, and as late when no\n"
        "# utterance before the end of the first interval reaches the second.\n"
        f"SAID_FROM = {said_from:.2f}\nLATE_FROM = {late_from:.2f}\n\n"
        f"BIAS = {fitted.bias:.3f}\n\nWEIGHTS: dict[str, float] = {{\n{lines}}}\n",
        encoding="utf-8",
    )


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
    held_out = options.without.split(",")
    folders = sorted(path.parent for path in options.classes.glob("*/gold.json"))
    folders = [folder for folder in folders if not folder.name.startswith("_")]
    by_class = {folder.name: cases(folder, options.form, lexicon) for folder in folders}
    seen = [name for name in by_class if name not in held_out]
    found = []
    for fold in range(5):
        judged = seen[fold::5]
        training = [case for name in seen if name not in judged for case in by_class[name]]
        found += outcomes(fit(training), [case for name in judged for case in by_class[name]])
    said_from = best_threshold(found)
    late_from = best_late_threshold(found, said_from)
    report(
        found,
        f"left out in turn, said from {said_from:.2f}, late from {late_from:.2f}",
        said_from,
        late_from,
    )
    fitted = fit([case for name in seen for case in by_class[name]])
    rest = outcomes(
        fitted, [case for name in held_out if name in by_class for case in by_class[name]]
    )
    if rest:
        report(rest, "held out", said_from, late_from)
    if options.v:
        for one in sorted(found, key=lambda one: one.best)[:70]:
            print(
                f"{one.best:.3f} {one.case.is_said} {one.case.name} | {one.case.move} | {one.case.text} | {one.text[:110]}"
            )
        for one in found:
            called = said_from <= one.best and one.early < min(late_from, one.best)
            if called != one.case.is_late:
                print(
                    f"late {one.case.is_late} best {one.best:.2f} early {one.early:.2f} {one.case.name} | {one.case.move} | {one.case.text} | {one.text[:110]}"
                )
    if options.write:
        write(fitted, said_from, late_from)


if __name__ == "__main__":
    main()
