"""Judge promised lengths: the class in minutes and the work intervals in seconds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from reviewkit.findings.asked_for import confessions
from reviewkit.findings.claims import (
    belongs_elsewhere,
    blocks_meant,
    claims,
    is_for_class,
    is_of_all,
    is_of_each,
    is_similar,
    is_sworn,
    planned_otherwise,
    told_before_ms,
    verdict_on,
)
from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Interval, Mark, Promise
from reviewkit.times import MINUTE_MS

_SLIGHT = 0.1
# Allowed when the coach says "about", "just over", "give or take".
_LOOSE = 0.15
_ABOUT = word_set("about around over under roughly nearly almost ish give so something")
# "Inside of twenty minutes" is kept by a shorter class.
_AT_MOST = word_set("inside outside within under most less max maximum tops exceed longer")
_MOST_WITHIN = 3
# Minutes are told in whole ones: a class may be this much shorter.
_ROUNDED_MIN = 1.0
# "A quarter of an hour" is told in quarters.
_QUARTERS, _ROUNDED_QUARTER_MIN = word_set("quarter quarters"), 2.5
_OTHER_THING = 3.0
_WORK_LEAST_MS = 4_000
# Where one stamp covers many words, lengths must differ by more.
_COARSE_LEAST_MS = 5_000
_WORK_SHARE = 0.15
# A difference that so many of at least so many intervals share is no accident.
_HABIT_SHARE = 0.8
_HABIT_LEAST = 5
_HABIT_MS = 3_000
_HABIT_LIMIT = 0.11
# By what share every planned length is off one that the plan does not have.
_OTHER_SHARE = 0.15
# How soon after an interval that was not as sworn a coach owns up to it.
_OWNS_UP_MS = 12_000
_FAR_MS, _FAR_SHARE = 8_000, 0.25
# How it is told that a length is not of everything, so near it.
_SOME = word_set("first then block till until except bar but start starts starting or from hard")
_SOME_WITHIN, _SOME_AFTER = 8, 10
# A round all of whose intervals are off by this share was not as long as everything should be.
_ROUND_SHARE = 0.18
# What leaves no move out, so near before the length.
_EVERY, _EVERY_WITHIN = word_set("every everything everything's"), 7
# Intervals that are off alike differ among themselves by no more than this.
_ALIKE_MS = 4_000


def _misfit(claimed: float, actual: float) -> float:
    """Give by which share of the claim the truth differs from it."""
    return abs(actual - claimed) / claimed


def _class_minutes(heard: HeardClass, mark: Mark) -> tuple[float, float, float]:
    """Give three readings of the class's length: whole, from the claim on, moves only."""
    done = done_intervals(heard)
    end = heard.talk.length_ms
    moves_ms = end_ms(done[-1]) - start_ms(done[0]) if done else end
    return end / MINUTE_MS, (end - mark.start_ms) / MINUTE_MS, moves_ms / MINUTE_MS


def _judge_minutes(heard: HeardClass, mark: Mark) -> Promise:
    """Judge a promised length of the class by the readings that favour the coach."""
    claimed = mark.value or 0.0
    whole, rest_of_class, moves_only = _class_minutes(heard, mark)
    found = round(whole, 1)
    if not 1 / _OTHER_THING <= whole / claimed <= _OTHER_THING:
        why = "so far from the class's length that another thing may be meant"
        return verdict_on("minutes", mark, found, "unclear", why)
    said = set(mark.text.lower().split())
    slight = _LOOSE if _ABOUT & said else _SLIGHT
    rounded = _ROUNDED_MIN * (1.5 if _ABOUT & said else 1)
    if _QUARTERS & said:
        rounded = _ROUNDED_QUARTER_MIN
    if whole < claimed and (_AT_MOST & said or claimed - whole < rounded):
        return verdict_on("minutes", mark, found, "kept")
    if min(_misfit(claimed, whole), _misfit(claimed, rest_of_class)) < slight:
        return verdict_on("minutes", mark, found, "kept")
    if _misfit(claimed, moves_only) < _SLIGHT / 2:
        return verdict_on(
            "minutes", mark, found, "unclear", "true without the talk before and after"
        )
    return verdict_on("minutes", mark, found, "broken", f"the recording runs {found:g} minutes")


def _lengths(heard: HeardClass, planned_ms: float) -> list[Interval]:
    """Give the planned intervals of a length that were done, in order."""
    near = max(2_000.0, _SLIGHT * planned_ms)
    return [
        one
        for one in done_intervals(heard)
        if one.planned_ms is not None and abs(one.planned_ms - planned_ms) <= near
    ]


def _drifts(intervals: Sequence[Interval], claimed_ms: float) -> list[float]:
    return [(one.length_ms or 0) - claimed_ms for one in intervals]


def _alike(drifts: Sequence[float]) -> int:
    """Count the drifts near their middle: one habit, and not several accidents."""
    if not drifts:
        return 0
    middle = median(drifts)
    near = max(_ALIKE_MS, abs(middle) / 3)
    return sum(abs(drift - middle) <= near for drift in drifts)


def _is_off(drifts: Sequence[float], claimed_ms: float) -> bool:
    """Tell whether the lengths are mostly, or a third of them alike, off a claim.

    A smaller difference counts when nearly all intervals share it.
    """
    limit = max(_WORK_LEAST_MS, _WORK_SHARE * claimed_ms)
    long = _alike([drift for drift in drifts if limit < drift])
    short = _alike([drift for drift in drifts if drift < -limit])
    middle = median(drifts)
    shared = sum(abs(middle) / 2 < abs(drift) and drift * middle > 0 for drift in drifts)
    is_habit = _HABIT_SHARE * len(drifts) <= shared and len(drifts) >= _HABIT_LEAST
    return (
        limit < abs(middle)
        or max(3, len(drifts) / 3) <= max(long, short)
        or (is_habit and max(_HABIT_MS, _HABIT_LIMIT * claimed_ms) <= abs(middle))
    )


def _is_owned_up(heard: HeardClass, one: Interval) -> bool:
    """Tell whether the coach owns up to something in an interval or right after it."""
    return any(
        start_ms(one) <= mark.start_ms <= end_ms(one) + _OWNS_UP_MS for mark in confessions(heard)
    )


def _is_one_off(intervals: Sequence[Interval], claimed_ms: float) -> bool:
    """Tell whether a single length is surely off by far."""
    far = max(_FAR_MS, _FAR_SHARE * claimed_ms)
    return any(
        far <= abs((one.length_ms or 0) - claimed_ms)
        and one.start is not None
        and one.end is not None
        and not (
            one.end.low_ms - one.start.high_ms <= claimed_ms <= one.end.high_ms - one.start.low_ms
        )
        for one in intervals
    )


def _is_at_most(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether so much is the most: "a bit less than a minute"."""
    words = heard.talk.words[max(0, mark.first - _MOST_WITHIN) : mark.last + 1]
    return any(word.norm in _AT_MOST for word in words)


def _is_of_some(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether a length is of the first of several, or of one block: "then it's thirty"."""
    words = heard.talk.words[max(0, mark.first - _SOME_WITHIN) : mark.last + _SOME_AFTER]
    return not _SOME.isdisjoint(word.norm for word in words)


def _worst_part_ms(heard: HeardClass, mark: Mark) -> float | None:
    """Give the usual length of a round that is off a claim about everything, if there is one.

    All of its intervals are off to one side, by a fifth; or all of a move, where the claim is of
    "every single thing". A part of another length that was told as such before the work began is
    none: "everything's forty, the finishers are twenties".
    """
    if not is_of_all(heard, mark) or _is_of_some(heard, mark) or _is_at_most(heard, mark):
        return None
    claimed_ms = 1000 * (mark.value or 0.0)
    told = told_before_ms(heard) - {claimed_ms}
    before = heard.talk.words[max(0, mark.first - _EVERY_WITHIN) : mark.first + 1]
    is_strict = any(word.norm in _EVERY for word in before)
    parts: dict[tuple[str, int | str], list[Interval]] = {}
    for one in done_intervals(heard):
        if one.kind == "work" and one.plan_row is not None and one.planned_ms not in told:
            parts.setdefault((one.block, one.round), []).append(one)
            if is_strict:
                parts.setdefault((one.block, one.move), []).append(one)
    usual = [
        median(lengths)
        for own in parts.values()
        if len(lengths := [(one.length_ms or 0) - claimed_ms for one in own]) > 1
        and is_similar(claimed_ms + median(lengths), claimed_ms)
        and (max(lengths) < -_ROUND_SHARE * claimed_ms or _ROUND_SHARE * claimed_ms < min(lengths))
    ]
    return claimed_ms + max(usual, key=abs) if usual else None


def _is_all_off(heard: HeardClass, claimed_ms: float) -> bool:
    """Tell whether no work is planned near a length, and none was as long."""
    work = [one for one in done_intervals(heard) if one.kind == "work" and one.planned_ms]
    return bool(work) and all(
        min(_misfit(claimed_ms, one.planned_ms or 0), _misfit(claimed_ms, one.length_ms or 0))
        >= _OTHER_SHARE
        for one in work
    )


def _judge_work(heard: HeardClass, mark: Mark) -> Promise | None:
    """Judge a promised length of work by the intervals planned at that length."""
    claimed_ms = 1000 * (mark.value or 0.0)
    meant = _lengths(heard, claimed_ms)
    work_rows = [row for row in heard.plan.rows if row.kind == "work"]
    if not meant and belongs_elsewhere(heard, mark):
        return None
    otherwise = planned_otherwise(heard, mark, [(one.block, one.work_ms) for one in work_rows])
    is_rest = any(row.rest_ms == claimed_ms for row in work_rows)
    is_of_work = any(one.kind == "work" for one in meant)
    is_for_all = is_for_class(heard, mark) and is_of_all(heard, mark)
    if not is_of_work and is_for_all and _is_all_off(heard, claimed_ms):
        # What is as long lies in the warm-up or in the stretch.
        meant = []
    if is_of_work and otherwise and not is_rest:
        why = "most intervals are of another length"
        return verdict_on("work", mark, otherwise / 1000, "broken", why)
    if is_for_class(heard, mark) and (worst := _worst_part_ms(heard, mark)):
        why = "a whole round, or a move in every round, was of another length"
        return verdict_on("work", mark, round(worst / 1000, 1), "broken", why)
    if meant:
        drifts = _drifts(meant, claimed_ms)
        found = round((claimed_ms + median(drifts)) / 1000, 1)
        if median(drifts) < 0 and _is_at_most(heard, mark):
            return verdict_on("work", mark, found, "kept")
        is_sure = heard.talk.clock != "blocks" or abs(median(drifts)) > _COARSE_LEAST_MS
        owned_up = [one for one in meant if _is_owned_up(heard, one)] if is_sworn(mark) else []
        is_off = _is_off(drifts, claimed_ms) or _is_one_off(owned_up, claimed_ms)
        if is_off and is_sure:
            return verdict_on("work", mark, found, "broken", "many intervals were not that long")
        return verdict_on("work", mark, found, "kept")
    blocks = blocks_meant(heard, mark)
    work = [one for one in done_intervals(heard) if one.kind == "work" and one.block in blocks]
    if not work or not (is_for_class(heard, mark) or is_of_each(heard, mark)):
        return None
    typical_ms = median(one.length_ms or 0 for one in work)
    found = round(typical_ms / 1000, 1)
    if _misfit(claimed_ms, typical_ms) < _SLIGHT:
        return verdict_on("work", mark, found, "kept")
    planned = [one.planned_ms for one in work if one.planned_ms]
    is_none = all(_misfit(claimed_ms, ms) >= _OTHER_SHARE for ms in planned)
    if is_none and is_similar(typical_ms, claimed_ms):
        return verdict_on("work", mark, found, "broken", "the intervals are of another length")
    return verdict_on("work", mark, found, "unclear", "no interval is planned at that length")


def _settled(minutes: Sequence[Promise]) -> list[Promise]:
    """Let one length that was kept speak for the class: another is likely of another thing."""
    if all(one.verdict != "kept" for one in minutes):
        return list(minutes)
    why = "another length that was said was kept"
    return [
        replace(one, verdict="unclear", why=why) if one.verdict == "broken" else one
        for one in minutes
    ]


def judge_lengths(heard: HeardClass) -> list[Promise]:
    """Judge every promised length of the class and of its work intervals."""
    minutes = [
        _judge_minutes(heard, mark)
        for mark in claims(heard, "minutes")
        if mark.value and is_for_class(heard, mark)
    ]
    work = [_judge_work(heard, mark) for mark in claims(heard, "work") if mark.value]
    return [*_settled(minutes), *(one for one in work if one is not None)]
