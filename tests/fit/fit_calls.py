"""Fit the numbers of ``findings/call_weights.py`` on the labelled classes.

    python -m tests.fit.fit_calls [--only NAME,...] [--write]

Every whole class is heard as blocks. Prints how many wrong calls are told, and how many
right ones with them, each call judged by numbers fitted without its class. ``--write``
writes the numbers.

Method: least squares of how far out a call was on what the clock and the words make of
it. The limit rises with how unsure the moment of the call and the end of its interval are,
and is lower where the coach owns up to the call: of all such limits the one with the fewest
right calls beyond it is taken, among those whose F1 of wrong calls is within ``NEAR_BEST``
of the best. Calls between ``RIGHT_CALL_S`` and ``WRONG_CALL_S`` out may be judged either
way and are left out of the limit.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from reviewkit.evaluate import LabelledClass
from reviewkit.evaluate.judge import RIGHT_CALL_S, WRONG_CALL_S, claimed_left_s, interval_at
from reviewkit.findings import call_weights
from reviewkit.findings.coarse_calls import is_taken_back, two_views, unsure_ms
from reviewkit.findings.places import end_ms
from reviewkit.findings.time_calls import SLACK_MS, judge_time_calls
from reviewkit.model import HeardClass, Lexicon
from reviewkit.read import read_lexicon
from reviewkit.read.transcript import parse_transcript
from reviewkit.review import hear_class
from tests.corpus import is_short, load_classes
from tests.forms import FORMS, render

WEIGHTS_FILE = Path(call_weights.__file__)
FORM = "blocks"
FOLDS = 6
# How far from where it was heard a true call may be, and how far off its claim.
SLACK_S, SAME_S, SAME_SHARE = 12.0, 2.5, 0.12
# The F1 is flat around its best, and fewer false alarms are worth this much of it.
NEAR_BEST = 0.03
# By how much the limit may rise with what is unsure, and fall where a call is owned up to.
BY_UNSURE = np.arange(0, 0.5, 0.05)
OWNED_MS = range(0, 4000, 500)

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Call:
    """A call that was found: what clock and words make of it, and how far out it was.

    ``unsure_ms`` is how far its moment and the end of its interval may be off together.
    """

    name: str
    views_ms: tuple[float, float]
    unsure_ms: float
    is_owned_up: bool
    off_ms: float = 0.0

    @property
    def is_wrong(self) -> bool:
        """Tell whether it was far enough out to mislead."""
        return abs(self.off_ms) >= 1000 * WRONG_CALL_S

    @property
    def counts(self) -> bool:
        """Tell whether it was clearly right or clearly wrong."""
        return self.is_wrong or abs(self.off_ms) <= 1000 * RIGHT_CALL_S


def gather(labelled: LabelledClass, lexicon: Lexicon) -> Iterator[Call]:
    """Give the true calls of a class that were found in its blocks."""
    transcript = parse_transcript(FORMS[FORM].file_name, render(labelled, FORM).encode())
    yield from true_calls(labelled, hear_class(transcript, labelled.plan, lexicon))


def true_calls(labelled: LabelledClass, heard: HeardClass) -> Iterator[Call]:
    """Give the true calls of a class that were found in it as it was heard."""
    found = list(_found(labelled.name, heard))
    for line in labelled.said:
        interval = interval_at(labelled, line.start_ms)
        if line.claimed_left is None or interval is None:
            continue
        claim_s = claimed_left_s(line, interval)
        low_s, high_s = line.start_ms / 1000 - SLACK_S, line.end_ms / 1000 + SLACK_S
        for one in found:
            at_s, found_s, call = one
            is_same = abs(found_s - claim_s) <= max(SAME_S, SAME_SHARE * claim_s)
            if is_same and low_s <= at_s <= high_s:
                found.remove(one)
                yield replace(call, off_ms=interval.end_ms - line.end_ms - 1000 * claim_s)
                break


def _found(name: str, heard: HeardClass) -> Iterator[tuple[float, float, Call]]:
    """Give each plain call that was heard: when, what it claims, in seconds, and how it looks.

    Words that only may be a call are never judged wrong, and so left out.
    """
    intervals = {one.id: one for one in heard.intervals}
    marks = {mark.end_ms: mark for mark in heard.marks if mark.kind == "time_call"}
    words = heard.talk.words
    for call in judge_time_calls(heard):
        mark = marks.get(call.at_ms)
        if mark is None or call.claimed_left_ms is None or not call.interval:
            continue
        interval = intervals[call.interval]
        if mark.start_ms <= end_ms(interval) + SLACK_MS:
            looks = Call(
                name,
                two_views(mark, interval, call.claimed_left_ms, words),
                unsure_ms(mark, interval, words),
                is_taken_back(mark, words, heard.lexicon),
            )
            yield call.at_ms / 1000, call.claimed_left_ms / 1000, looks


def fit(calls: Sequence[Call]) -> Floats:
    """Give the weights of clock and words, and the bias in milliseconds."""
    weights: Floats = np.linalg.lstsq(
        _table(calls), np.array([one.off_ms for one in calls]), rcond=None
    )[0]
    return weights


def _table(calls: Sequence[Call]) -> Floats:
    return np.array([(*one.views_ms, 1.0) for one in calls])


def left_out(calls: Sequence[Call]) -> Floats:
    """Weigh each call by numbers fitted on classes of the other folds."""
    names = sorted({one.name for one in calls})
    folds = np.array([names.index(one.name) % FOLDS for one in calls])
    weighed = np.zeros(len(calls))
    for fold in range(FOLDS):
        weights = fit([one for one, own in zip(calls, folds, strict=True) if own != fold])
        weighed[folds == fold] = _table(calls)[folds == fold] @ weights
    return weighed


@dataclass(frozen=True, slots=True, order=True)
class Limit:
    """A limit with how many right and wrong calls lie beyond it; the least false is the least."""

    false: int
    missed: int
    from_ms: float
    by_unsure: float
    owned_ms: float


def best_limit(calls: Sequence[Call], weighed: Floats) -> Limit:
    """Give the limit with the fewest right calls beyond it of those that are nearly best."""
    wrong = sum(one.is_wrong for one in calls)
    limits = []
    for by_unsure, owned_ms in product(BY_UNSURE, OWNED_MS):
        false, missed = 0, wrong
        for size_ms, is_wrong in _sizes(calls, weighed, by_unsure, owned_ms):
            false, missed = false + (not is_wrong), missed - is_wrong
            limits.append(Limit(false, missed, size_ms, by_unsure, owned_ms))

    def f1(limit: Limit) -> float:
        return 2 * (wrong - limit.missed) / (2 * wrong - limit.missed + limit.false)

    best = max(map(f1, limits))
    return min(limit for limit in limits if f1(limit) >= best - NEAR_BEST)


def _sizes(
    calls: Sequence[Call], weighed: Floats, by_unsure: float, owned_ms: float
) -> list[tuple[float, bool]]:
    """Give how far out each call that counts seems, as the limit sees it, and if it is wrong."""
    return sorted(
        (
            (abs(off) - by_unsure * one.unsure_ms + owned_ms * one.is_owned_up, one.is_wrong)
            for off, one in zip(weighed, calls, strict=True)
            if one.counts
        ),
        reverse=True,
    )


def write(weights: Floats, limit: Limit) -> None:
    """Write the numbers."""
    clock, words, bias_ms = weights
    text = WEIGHTS_FILE.read_text(encoding="utf-8").partition("\nBY_CLOCK = ")[0]
    text += f"\nBY_CLOCK = {clock:.3f}\nBY_WORDS = {words:.3f}\nBIAS_MS = {bias_ms:.0f}\n"
    text += f"BY_UNSURE = {limit.by_unsure:.2f}\nOWNED_MS = {limit.owned_ms:.0f}\n"
    text += f"WRONG_FROM_MS = {limit.from_ms:.0f}\n"
    WEIGHTS_FILE.write_text(text, encoding="utf-8")


def main() -> None:
    """Fit, report and perhaps write."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--only", default="", help="names of classes, by commas")
    parser.add_argument("--write", action="store_true")
    options = parser.parse_args()
    only = set(filter(None, options.only.split(",")))
    lexicon = read_lexicon()
    classes = [one for one in load_classes() if not is_short(one.name)]
    chosen = [one for one in classes if not only or one.name in only]
    calls = [call for one in chosen for call in gather(one, lexicon)]
    limit = best_limit(calls, left_out(calls))
    wrong = sum(one.is_wrong for one in calls)
    told = f"{wrong - limit.missed} of {wrong} wrong calls, {limit.false} right ones with them"
    sys.stdout.write(f"told {told}\n")
    if options.write:
        write(fit(calls), limit)


if __name__ == "__main__":
    main()
