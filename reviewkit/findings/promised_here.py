"""Judge a length given to a rest as it begins: "two whole minutes now to catch yourself"."""

from __future__ import annotations

from itertools import pairwise

from reviewkit.findings.claims import claims, verdict_on
from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.language.wordsets import word_set
from reviewkit.model import Edge, HeardClass, Mark, Promise

# What may be said of the rest one stands in, by which words so near it, and what is of others.
_RESTS = ("rest", "rest_rounds")
_LENGTHS = ("length", "work", "maybe_rest", "cool_length", "maybe_cool_length")
_HERE = word_set(
    "rest rests breather break sip drink water catch breath sit walk recover here now breathe blow"
)
_ELSEWHERE = word_set("between instead each every")
_BEFORE, _AFTER = 6, 7
# "Stop a minute, my sandwich is falling", "in two minutes", "two minutes of work".
_FIGURE_OF_SPEECH, _WHEN, _WORK, _WORK_WITHIN = ["a", "minute"], ["in"], "work", 2
# How soon in a rest it is said, and how long a rest may be.
_EDGE_MS, _BEGINNING_MS = 2_500, 20_000
_LEAST_MS, _MOST_MS = 20_000, 240_000
# By how much a rest, at its likeliest longest or shortest, breaks what was said of it.
_OFF_MS, _OFF_SHARE = 12_000, 0.35


def judge_here(heard: HeardClass) -> list[Promise]:
    """Judge every length that was given to the rest it was said in."""
    judged = (_judge(heard, mark) for mark in claims(heard, *_RESTS, *_LENGTHS))
    return [one for one in judged if one is not None]


def _judge(heard: HeardClass, mark: Mark) -> Promise | None:
    """Judge a length by the rest around it; what that still has from there on will do."""
    edges = _rest_around(heard, mark)
    claimed_ms = 1000 * (mark.value or 0.0)
    if edges is None or not _LEAST_MS <= claimed_ms <= _MOST_MS or not _is_of_rest(heard, mark):
        return None
    begin, end = edges
    off_ms = max(_OFF_MS, _OFF_SHARE * claimed_ms)
    low_ms, high_ms = end.low_ms - begin.high_ms, end.high_ms - begin.low_ms
    left_ms = end.at_ms - mark.end_ms
    is_kept = low_ms - off_ms < claimed_ms < high_ms + off_ms or abs(left_ms - claimed_ms) < off_ms
    found = round((end.at_ms - begin.at_ms) / 1000, 1)
    why = "" if is_kept else "the rest it was said in was of another length"
    return verdict_on("rest", mark, found, "kept" if is_kept else "broken", why)


def _is_of_rest(heard: HeardClass, mark: Mark) -> bool:
    """Tell a length of this rest from one of work, of other rests, and from a way of speaking."""
    norms = [word.norm for word in heard.talk.words]
    first, last = mark.first, mark.last + 1
    near = norms[max(0, first - _BEFORE) : last + _AFTER]
    is_rest = mark.ref in _RESTS or not _HERE.isdisjoint(near)
    is_other = (
        norms[first:last] == _FIGURE_OF_SPEECH
        or norms[max(0, first - 1) : first] == _WHEN
        or _WORK in norms[first : last + _WORK_WITHIN]
        or not _ELSEWHERE.isdisjoint(near)
    )
    is_planned_work = any(row.work_ms == 1000 * (mark.value or 0.0) for row in heard.plan.rows)
    return is_rest and not is_other and not is_planned_work


def _rest_around(heard: HeardClass, mark: Mark) -> tuple[Edge, Edge] | None:
    """Give the edges of the rest between planned neighbours that a claim was said early in."""
    work = [one for one in done_intervals(heard) if one.kind == "work"]
    for before, after in pairwise(work):
        since_ms = mark.start_ms - end_ms(before)
        is_within = -_EDGE_MS <= since_ms <= _BEGINNING_MS and mark.start_ms < start_ms(after)
        is_planned = before.plan_row is not None and after.plan_row == before.plan_row + 1
        if is_within and is_planned and before.end is not None and after.start is not None:
            return before.end, after.start
    return None
