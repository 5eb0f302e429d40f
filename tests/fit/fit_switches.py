"""Fit which line inside an interval for both sides calls the change.

    python -m tests.fit.fit_switches [FIXTURES] [--only NAME,...] [-v] [--write]

Every whole class is heard in several forms with its true intervals. Prints for how many
moves with uneven sides that is told, and for how many others, at several limits, each class
judged by weights fitted on classes of the other folds; ``-v`` names them. ``--write``
writes ``lexicons/en/fitted/switches.csv``.

Method: logistic regression (L2) over lines. Where sides are even the change was called
about the middle, and where they are not the truth tells how long each side got; of the
lines said about then the likeliest one is taken for the call, unless none is likely, and
the fit begun anew with it (multiple-instance learning: Andrews, Tsochantaridis and Hofmann,
"Support vector machines for multiple-instance learning", 2002).
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from numpy.typing import NDArray
from sklearn.linear_model import LogisticRegression

from reviewkit.evaluate import LabelledClass
from reviewkit.findings.switch_lines import (
    SWITCH_WEIGHTS,
    SwitchLine,
    chances_of,
    find_switch_lines,
)
from reviewkit.findings.switches import is_even
from reviewkit.findings.weighing import odds_of
from reviewkit.language.lines import split_lines
from reviewkit.listen import find_marks
from reviewkit.model import Interval, Weights
from reviewkit.read import read_lexicon
from tests.corpus import FITTED
from tests.fit.fit_contradictions import heard_truth
from tests.fit.sign_table import as_matrix, as_weights
from tests.fit.weight_table import write_table
from tests.fit.whole_classes import chosen_classes, left_out, parse_options

FORMS = ("words", "vtt")
FOLDS = 6
SMOOTHING = 0.3
ROUNDS = 4
# How far from the change its call may be, and how unlikely the likeliest line there.
NEAR_MS, NEAR_SHARE = 2_500, 0.06
LEAST_LIKELY = -2.5
# How often a sign must come, and how much it must tell.
LEAST_SEEN = 10
LEAST_TOLD = 0.05
LIMITS = (0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6)

Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Case:
    """An interval for both sides in one form, its lines, and what is true of it.

    ``change_ms`` is when the sides truly changed, None where that is not known.
    """

    name: str
    form: str
    move: str
    interval: Interval
    lines: Sequence[SwitchLine]
    change_ms: float | None
    is_uneven: bool

    def may_call(self) -> Flags:
        """Tell of each line whether it was said about when the sides changed."""
        if self.change_ms is None:
            return np.zeros(len(self.lines), dtype=bool)
        near = max(NEAR_MS, NEAR_SHARE * (self.interval.length_ms or 0))
        offs = [
            min(abs(one.turn_ms - self.change_ms), abs(one.line.start_ms - self.change_ms))
            for one in self.lines
        ]
        return np.array(offs) <= near


def hear_cases(form: str, labelled: LabelledClass) -> list[Case]:
    """Hear a class and give its intervals for both sides that were done."""
    if all(row.side != "each" for row in labelled.plan.rows):
        return []
    # Sent along with every class, it would be made ready for each anew.
    lexicon = read_lexicon()
    heard = heard_truth(labelled, form, lexicon)
    heard = replace(heard, marks=find_marks(heard.talk, heard.plan, lexicon))
    lines = split_lines(heard.talk)
    return [
        Case(
            labelled.name, form, one.move.lower(), one, find_switch_lines(heard, one, lines),
            *_truth(labelled, one),
        )
        for one in heard.intervals
        if one.side == "each" and one.status == "done"
    ]  # fmt: skip


def _truth(labelled: LabelledClass, interval: Interval) -> tuple[float | None, bool]:
    """Give when sides changed in an interval, if it is known, and whether that was uneven."""
    uneven = [
        one.details
        for one in labelled.anomalies
        if one.kind == "side_imbalance"
        and str(one.details.get("move", "")).lower() == interval.move.lower()
    ]
    own = [one for one in uneven if one.get("round") in (None, interval.round)]
    start_ms, length_ms = interval.start.at_ms if interval.start else 0, interval.length_ms or 0
    if not own:
        return (None if uneven else start_ms + length_ms / 2), False
    left, right = own[0].get("left"), own[0].get("right")
    if not isinstance(left, int | float) or not isinstance(right, int | float) or left + right == 0:
        return None, True
    return start_ms + length_ms * left / (left + right), True


def fit(cases: Sequence[Case]) -> Weights:
    """Fit the weights of what is said in a line."""
    known = [case for case in cases if case.change_ms is not None and case.lines]
    seen = Counter(name for case in known for one in case.lines for name in one.signs)
    rows = [
        {name: value for name, value in one.signs.items() if seen[name] >= LEAST_SEEN}
        for case in known
        for one in case.lines
    ]
    table, values = as_matrix(rows)
    may = [case.may_call() for case in known]
    truth = np.concatenate(may)
    for _ in range(ROUNDS):
        model = LogisticRegression(C=SMOOTHING, max_iter=2000).fit(values, truth)
        odds = model.decision_function(values)
        truth = np.zeros(len(odds), dtype=bool)
        at = 0
        for own in may:
            likely = np.where(own, odds[at : at + len(own)], -np.inf)
            truth[at + int(likely.argmax())] = likely.max() > LEAST_LIKELY
            at += len(own)
    return as_weights(table, model, "calls", LEAST_TOLD)


def chance_of_uneven(case: Case, weights: Weights) -> float:
    """Give the chance that the change of an interval was called far from its middle."""
    if not case.lines:
        return 0.0
    odds = np.array([odds_of(one.signs, weights) for one in case.lines])
    is_off = np.array([not is_even(case.interval, one.turn_ms) for one in case.lines])
    return float((chances_of(odds, ~is_off) * is_off).sum())


def main() -> None:
    """Fit, report and perhaps write."""
    options = parse_options(__doc__ or "")
    classes = chosen_classes(options)
    cases: list[Case] = []
    with ProcessPoolExecutor(options.processes) as pool:
        for form in FORMS:
            heard = pool.map(partial(hear_cases, form), classes, chunksize=8)
            cases += [one for own in heard for one in own]
    chances = left_out(cases, FOLDS, fit, chance_of_uneven)
    for form in FORMS:
        best: dict[tuple[str, str], float] = {}
        uneven: set[tuple[str, str]] = set()
        for case, chance in zip(cases, chances, strict=True):
            key = case.name, case.move
            if case.form == form:
                best[key] = max(best.get(key, 0.0), chance)
                uneven |= {key} if case.is_uneven else set()
        sys.stdout.write(f"{form}: {len(uneven)} of {len(best)} moves\n")
        for limit in LIMITS:
            told = {key for key, chance in best.items() if chance >= limit}
            sys.stdout.write(f"  {limit:.2f}  {len(told & uneven)} + {len(told - uneven)}\n")
        if options.v and form == "words":
            for key in sorted({key for key in best if best[key] >= LIMITS[2]} ^ uneven):
                sys.stdout.write(f"{'missed' if key in uneven else 'false'} {' '.join(key)}\n")
    if options.write:
        write_table(FITTED / f"{SWITCH_WEIGHTS}.csv", fit(cases))


if __name__ == "__main__":
    main()
