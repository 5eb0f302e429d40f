"""Fit which kit a class came to need, and which it was told to get ready and never used.

    python -m tests.fit.fit_kit [FIXTURES] [--only NAME,...] [-v] [--write]

Every whole class is heard in several forms with its true intervals. Prints in how many
classes such kit is found, and in how many others some is, at several limits, each class
judged by weights fitted on classes of the other folds; ``-v`` names them. ``--write``
writes ``kit_needed.csv`` and ``kit_unused.csv``.

Method: logistic regression (L2) over mentions of kit. The truth tells what was needed in a
class but not which mention sent for it, so the likeliest one of a class is taken, and those
about as likely, and the fit begun anew with them (multiple-instance learning: Andrews,
Tsochantaridis and Hofmann, "Support vector machines for multiple-instance learning", 2002).
The limit is the one of the best F1 of classes among those that are right often enough.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray
from sklearn.linear_model import LogisticRegression

from reviewkit.evaluate import LabelledClass
from reviewkit.evaluate.judge import promise_name
from reviewkit.findings.kit_needed import NEEDED_WEIGHTS, Mention, find_mentions
from reviewkit.findings.kit_unused import UNUSED_WEIGHTS, Readied, find_readied
from reviewkit.findings.weighing import BIAS, odds_of
from reviewkit.language.matching import stem
from reviewkit.listen import find_marks
from reviewkit.model import HeardClass, Weights
from reviewkit.read import read_lexicon
from tests.corpus import FITTED
from tests.fit.fit_contradictions import heard_truth
from tests.fit.sign_table import as_matrix, as_weights
from tests.fit.weight_table import write_table
from tests.fit.whole_classes import Floats, chosen_classes, left_out, parse_options

FORMS = ("words", "vtt", "blocks")
FOLDS = 8
SMOOTHING = 0.15
ROUNDS = 3
# How much less likely than the likeliest mention of a class another true one may be.
ABOUT_AS_LIKELY = 1.0
# In how many classes a word must be said beside kit to count.
LEAST_CLASSES = 6
LEAST_TOLD = 0.02
# How often what is told must be right: less where little is to be found.
LEAST_PRECISION = {NEEDED_WEIGHTS: 0.8, UNUSED_WEIGHTS: 0.65}
LIMITS = np.arange(-2.5, 1.01, 0.25)
WORDS = ("before: ", "after: ")

# How the truth says of kit that it was not used.
_NEVER = re.compile(r"\b(never|not used|unused|untouched|not needed|stays? )", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Case:
    """A class in one form: signs of each mention of kit, which may be true, and whether one is."""

    name: str
    form: str
    mentions: Sequence[Mapping[str, float]]
    is_actual: Sequence[bool]
    is_broken: bool


def hear_case(form: str, labelled: LabelledClass) -> dict[str, Case]:
    """Hear a class and find its mentions of kit, by what may be wrong with them."""
    # Sent along with every class, it would be made ready for each anew.
    lexicon = read_lexicon()
    heard = heard_truth(labelled, form, lexicon)
    heard = replace(heard, marks=find_marks(heard.talk, heard.plan, lexicon))
    broken = [
        one.details
        for one in labelled.anomalies
        if one.kind == "broken_promise" and promise_name(one.details["what"]) == "equipment"
    ]
    unused = [one for one in broken if _NEVER.search(str(one.get("actual", "")))]
    needed = [one for one in broken if one not in unused]
    readied, mentions = find_readied(heard), find_mentions(heard)
    return {
        NEEDED_WEIGHTS: _case(heard, form, labelled.name, mentions, needed, ("actual", "text")),
        UNUSED_WEIGHTS: _case(heard, form, labelled.name, readied, unused, ("promised", "actual")),
    }


def _case(
    heard: HeardClass,
    form: str,
    name: str,
    mentions: Sequence[Mention | Readied],
    broken: Sequence[Mapping[str, Any]],
    told_by: Sequence[str],
) -> Case:
    told = " ".join(str(one.get(key, "")) for one in broken for key in told_by)
    actual = {stem(word) for word in told.lower().split()}
    words = [
        {stem(word.norm) for word in heard.talk.words[one.mark.first : one.mark.last + 1]}
        for one in mentions
    ]
    named = [not own.isdisjoint(actual) for own in words]
    is_actual = named if any(named) else [bool(broken)] * len(named)
    return Case(name, form, [one.signs for one in mentions], is_actual, bool(broken))


def fit(cases: Sequence[Case]) -> Weights:
    """Fit the weights of signs and words; 0 is even odds for a mention."""
    seen = Counter(
        name
        for _, name in {
            (case.name, name) for case in cases for one in case.mentions for name in one
        }
    )
    rows = [
        {
            name: value
            for name, value in one.items()
            if not name.startswith(WORDS) or seen[name] >= LEAST_CLASSES
        }
        for case in cases
        for one in case.mentions
    ]
    table, values = as_matrix(rows)
    truth = np.array([is_true for case in cases for is_true in case.is_actual])
    for _ in range(ROUNDS):
        model = LogisticRegression(C=SMOOTHING, max_iter=1000).fit(values, truth)
        truth = _likeliest(cases, model.decision_function(values))
    return as_weights(table, model, "odds", LEAST_TOLD)


def _likeliest(cases: Sequence[Case], odds: Floats) -> NDArray[np.bool_]:
    """Take the likeliest true mention of each class, and those about as likely."""
    truth: list[bool] = []
    for case in cases:
        own = odds[len(truth) : len(truth) + len(case.mentions)]
        may = np.array(case.is_actual, dtype=bool)
        best = own[may].max() if may.any() else np.inf
        truth += list(may & (own >= best - ABOUT_AS_LIKELY))
    return np.array(truth)


def best_odds(case: Case, weights: Weights) -> float:
    """Give the odds of a class's likeliest mention."""
    return max((odds_of(one, weights) for one in case.mentions), default=-np.inf)


def tallies(truth: Any, odds: Floats) -> dict[float, tuple[int, int]]:
    """Give how many classes are rightly, and how many falsely, above each limit."""
    return {
        float(limit): (int(np.sum(truth & (odds > limit))), int(np.sum(~truth & (odds > limit))))
        for limit in LIMITS
    }


def best_limit(truth: Any, told: Mapping[float, tuple[int, int]], least: float) -> float:
    """Give the limit of the best F1 among those with a precision; the highest without one."""
    precise = [
        limit for limit, (hits, false) in told.items() if hits and hits >= least * (hits + false)
    ]
    f1 = {limit: told[limit][0] / (sum(told[limit]) + truth.sum()) for limit in precise}
    return max(f1, key=lambda limit: f1[limit]) if f1 else max(told)


def report(cases: Sequence[Case], odds: Floats, least: float, *, is_named: bool) -> float:
    """Print what is found at which limit, and give the limit that is taken."""
    truth = np.array([case.is_broken for case in cases])
    limit = best_limit(truth, tallies(truth, odds), least)
    for form in FORMS:
        own = np.array([case.form == form for case in cases])
        sys.stdout.write(f"{form}: {truth[own].sum()} of {own.sum()} classes\n")
        for at, (hits, false) in tallies(truth[own], odds[own]).items():
            mark = "  <- limit" if at == limit else ""
            sys.stdout.write(f"  {at:5.2f}  {hits:3d} + {false}{mark}\n")
    for case, own_odds in zip(cases, odds, strict=True):
        if is_named and case.form == "words" and case.is_broken != (own_odds > limit):
            sys.stdout.write(f"{'missed' if case.is_broken else 'false'} {case.name}\n")
    return limit


def main() -> None:
    """Fit, report and perhaps write."""
    options = parse_options(__doc__ or "")
    classes = chosen_classes(options)
    heard: list[dict[str, Case]] = []
    with ProcessPoolExecutor(options.processes) as pool:
        for form in FORMS:
            heard += pool.map(partial(hear_case, form), classes, chunksize=8)
    for table in (NEEDED_WEIGHTS, UNUSED_WEIGHTS):
        cases = [one[table] for one in heard]
        sys.stdout.write(f"{table}\n")
        limit = report(
            cases,
            left_out(cases, FOLDS, fit, best_odds),
            LEAST_PRECISION[table],
            is_named=options.v,
        )
        if options.write:
            weights = fit(cases)
            bias = round(weights.rows[BIAS][0] - limit, 2)
            write_table(
                FITTED / f"{table}.csv",
                Weights(weights.outputs, {**weights.rows, BIAS: (bias,)}),
            )


if __name__ == "__main__":
    main()
