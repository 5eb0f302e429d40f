"""Every detector, in one list: a talk -> everything heard in it."""

from __future__ import annotations

from collections.abc import Callable

from reviewkit.language.lines import split_lines
from reviewkit.marks.breaches import find_breaches
from reviewkit.marks.breathing import find_breathing
from reviewkit.marks.counts import find_counts
from reviewkit.marks.departures import find_departures
from reviewkit.marks.kit import find_kit
from reviewkit.marks.labels import label_lines
from reviewkit.marks.moves import find_moves
from reviewkit.marks.points import find_points
from reviewkit.marks.promises import find_promises
from reviewkit.marks.risk import find_risky_talk
from reviewkit.marks.sides import find_side_calls
from reviewkit.marks.taken_back import find_taken_back
from reviewkit.marks.time_calls import find_time_calls
from reviewkit.model import Lexicon, Mark, Plan, Talk

DETECTORS: tuple[Callable[[Talk, Lexicon], tuple[Mark, ...]], ...] = (
    find_time_calls,
    find_breathing,
    find_promises,
    find_breaches,
    find_kit,
    find_risky_talk,
    find_side_calls,
    find_departures,
)


def find_marks(talk: Talk, plan: Plan, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Find everything that was heard, in order of place."""
    marks = (
        *find_moves(talk, plan, lexicon),
        *find_counts(talk),
        *find_taken_back(talk),
        *find_points(talk, plan, lexicon),
        *label_lines(talk, split_lines(talk), lexicon),
        *(mark for detect in DETECTORS for mark in detect(talk, lexicon)),
    )
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.last, mark.kind)))


def marks_of(kind: str, marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """Give the marks of one kind, in order."""
    return tuple(mark for mark in marks if mark.kind == kind)
