"""Judge promised rests: between moves, between rounds, and "no rest at all"."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from reviewkit.findings.claims import (
    belongs_elsewhere,
    blocks_meant,
    claims,
    is_for_class,
    is_sworn,
    planned_otherwise,
    verdict_on,
)
from reviewkit.findings.rests import CHANGE_MS, Rest, rests_of
from reviewkit.language.wordsets import word_set
from reviewkit.model import HeardClass, Mark, Promise

_NONE_ALLOWS_MS = 20_000
# By what share of a claim made with stress a rest may differ.
_FIRM_SHARE = 0.2
# By what share one between rounds is off by its best guess, where all others are as planned.
_FEW_SHARE = 0.4
_MANY_RESTS = 4
# So many rests lie so near the plan by their best guess where it holds.
_STEADY_MS, _STEADY_SHARE = 3_000, 0.6
_HABIT_SHARE = 0.25
# How a rest after each move is told, so near it.
_EACH = word_set("each every")
_MOVES = word_set("exercise move station lift job thing item effort hold drill")
_EACH_BEFORE, _EACH_AFTER = 4, 7
# What a rest is called, so near its length.
_NAMES, _NAMED_WITHIN = word_set("rest break breather recover recovery drink water rests"), 5


def _meant(rests: Sequence[Rest], claimed_ms: float) -> list[Rest]:
    """Choose the rests a claim is about: planned at that length, or at the usual one."""
    near = [
        one
        for one in rests
        if one.planned_ms is not None
        and abs(one.planned_ms - claimed_ms) <= max(1_000, 0.1 * claimed_ms)
    ]
    if near:
        return near
    usual = Counter(one.planned_ms for one in rests).most_common(1)
    return [one for one in rests if usual and one.planned_ms == usual[0][0]]


def _surely_off_ms(rest: Rest, claimed_ms: float) -> float:
    """Give how far a rest surely lies from a claim: long above 0, short below."""
    slack = 500 if rest.high_ms - rest.low_ms > 2_000 else 0
    if claimed_ms < rest.low_ms - slack:
        return rest.length_ms - claimed_ms
    return rest.length_ms - claimed_ms if rest.high_ms + slack < claimed_ms else 0.0


def _likely_off_ms(rests: Sequence[Rest], rest: Rest, claimed_ms: float) -> float:
    """Give how far a rest lies from a claim, where the others are as planned by their best guess.

    Unsure rests are drawn to the plan: only the talk can have moved the one that is not.
    """
    others = [one for one in rests if one is not rest and one.planned_ms is not None]
    steady = sum(abs(one.length_ms - (one.planned_ms or 0)) <= _STEADY_MS for one in others)
    is_steady = len(others) >= _MANY_RESTS and steady >= _STEADY_SHARE * len(others)
    return rest.length_ms - claimed_ms if is_steady else _surely_off_ms(rest, claimed_ms)


def _least_off_ms(rest: Rest, claimed_ms: float) -> float:
    """Give by how much a rest is off a claim at the least; below 0 where it may be as claimed."""
    return max(rest.low_ms - claimed_ms, claimed_ms - rest.high_ms)


def _robbed_ms(rests: int, claimed_ms: float, *, is_strict: bool) -> float:
    """Give by how much one rest may be short: less of a firm claim, and of many rests."""
    if is_strict:
        return max(6_000, 0.4 * claimed_ms)
    most = max(20_000, 0.35 * claimed_ms)
    return min(most, max(6_000, claimed_ms / 2)) if rests >= _MANY_RESTS else most


def _is_broken(rests: Sequence[Rest], claimed_ms: float, *, is_strict: bool) -> bool:
    """Tell whether rests break a claim: mostly, several alike, or one by far.

    One that is cut short by half, or by 20 s, is by far; of a claim made with stress, one that
    is short by two fifths. One long rest between rounds breaks only a claim
    made with stress ("I promise"), and such a claim is broken by less.
    """
    offs = [_surely_off_ms(one, claimed_ms) for one in rests]
    likely_offs = [_likely_off_ms(rests, one, claimed_ms) for one in rests]
    some = max(5_000, 0.35 * claimed_ms)
    far = max(12_000, claimed_ms / 2 if is_strict else 0.9 * claimed_ms)
    surely_far = max(9_500, (0.48 if is_strict else 0.55) * claimed_ms)
    several = max(2, 0.2 * len(offs))
    mostly = max(3_500, 0.3 * claimed_ms) <= abs(median(offs)) or _is_habit(rests, claimed_ms)
    is_robbed = min(offs) <= -_robbed_ms(len(offs), claimed_ms, is_strict=is_strict)
    alike = several <= max(sum(some <= off for off in offs), sum(off <= -some for off in offs))
    return (
        mostly
        or is_robbed
        or alike
        or any(
            (far <= abs(off) or surely_far <= _least_off_ms(one, claimed_ms) or far <= likely)
            and (is_strict or not one.is_between_rounds)
            for one, off, likely in zip(rests, offs, likely_offs, strict=True)
        )
    )


def _longest_beyond(rests: Sequence[Rest], claimed_ms: float) -> int:
    """Give the longest rest inside a round that is by far longer than sworn and than planned.

    "Never longer than that between any of them" is about rests the plan has longer as well.
    """
    return max(
        (
            one.length_ms
            for one in rests
            if not one.is_between_rounds
            and max(12_000, claimed_ms / 2)
            <= _likely_off_ms(rests, one, max(claimed_ms, one.planned_ms or 0))
        ),
        default=0,
    )


def _is_habit(rests: Sequence[Rest], claimed_ms: float) -> bool:
    """Tell whether many rests are off alike, where the range of each alone would hold the claim.

    Unsure rests are drawn to the plan: if it has the claim, only the talk can have moved them.
    """
    is_planned = rests[0].planned_ms == claimed_ms
    off_ms = median(one.length_ms for one in rests) - claimed_ms
    return (
        is_planned
        and len(rests) >= _MANY_RESTS
        and max(4_000, _HABIT_SHARE * claimed_ms) <= abs(off_ms)
    )


def _worst_s(rests: Sequence[Rest], claimed_ms: float) -> float:
    """Give the usual rest in seconds, or the one furthest off when the usual one holds."""
    usual = median(one.length_ms for one in rests)
    if abs(usual - claimed_ms) > max(3_500, 0.3 * claimed_ms):
        return round(usual / 1000, 1)
    worst = max(rests, key=lambda one: abs(one.length_ms - claimed_ms))
    return round(worst.length_ms / 1000, 1)


def _judge_between_moves(heard: HeardClass, mark: Mark) -> Promise | None:
    claimed_ms = 1000 * (mark.value or 0.0)
    rests = rests_of(heard, blocks_meant(heard, mark))
    meant = _meant(rests, claimed_ms)
    if not meant or (
        meant[0].planned_ms != claimed_ms and mark.ref == "rest" and belongs_elsewhere(heard, mark)
    ):
        return None
    if not is_for_class(heard, mark) and not any(one.planned_ms == claimed_ms for one in meant):
        return None
    between = [one for one in rests if one.is_between_rounds]
    if not _is_comparable(meant, claimed_ms) and between and _is_comparable(between, claimed_ms):
        # "I'll give you a break, two minutes": that can only be between rounds.
        return _judge_few(mark, between, rests) if _is_named_rest(heard, mark) else None
    if not _is_comparable(meant, claimed_ms):
        return verdict_on("rest", mark, None, "unclear", "no rest is planned near that length")
    if all(one.is_between_rounds for one in meant):
        inside_round = [one for one in rests if not one.is_between_rounds]
        if not (inside_round and _is_of_each_move(heard, mark)):
            return _judge_few(mark, meant, rests)
        # "A minute's rest after each exercise", where the plan has one after each round.
        meant = inside_round
    inside = [
        (row.block, row.rest_ms)
        for row, after in pairwise(heard.plan.rows)
        if row.kind == after.kind == "work" and row.round == after.round
    ]
    if otherwise := planned_otherwise(heard, mark, inside):
        why = "most rests are of another length"
        return verdict_on("rest", mark, otherwise / 1000, "broken", why)
    is_strict = is_sworn(mark)
    if is_strict and (longest := _longest_beyond(rests, claimed_ms)):
        why = "a rest was longer than that and than planned"
        return verdict_on("rest", mark, round(longest / 1000, 1), "broken", why)
    if _is_broken(meant, claimed_ms, is_strict=is_strict):
        found = _worst_s(meant, claimed_ms)
        return verdict_on("rest", mark, found, "broken", "rests were not that long")
    return verdict_on("rest", mark, round(median(one.length_ms for one in meant) / 1000, 1), "kept")


def _is_of_each_move(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether a rest is promised after each move by that word."""
    low = max(0, mark.first - _EACH_BEFORE)
    said = [word.norm for word in heard.talk.words[low : mark.last + 1 + _EACH_AFTER]]
    return any(one in _EACH and other in _MOVES for one, other in pairwise(said))


def _is_named_rest(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether a length is said to be of a rest by that word."""
    low = max(0, mark.first - _NAMED_WITHIN)
    said = {word.norm for word in heard.talk.words[low : mark.last + 1 + _NAMED_WITHIN]}
    return not _NAMES.isdisjoint(said)


def _is_comparable(rests: Sequence[Rest], claimed_ms: float) -> bool:
    """Tell whether a claim can be about these rests: not a quarter or four times as long."""
    planned = rests[0].planned_ms or median(one.length_ms for one in rests)
    return claimed_ms / 4 <= planned <= claimed_ms * 4


def _judge_boundaries(heard: HeardClass, mark: Mark) -> Promise | None:
    """Judge rests between rounds (and blocks) or between sides."""
    claimed_ms = 1000 * (mark.value or 0.0)
    blocks = dict.fromkeys(one.block for one in heard.intervals if one.kind == "work")
    is_sides = mark.ref == "rest_sides"
    measured = rests_of(heard, tuple(blocks))
    rests = [
        one for one in measured if (one.is_between_sides if is_sides else one.is_between_rounds)
    ]
    planned_so = [one for one in rests if one.planned_ms and one.planned_ms >= 0.8 * claimed_ms]
    rests = planned_so or rests
    if not rests:
        return verdict_on("rest", mark, None, "unclear", "no such rest was found")
    return _judge_few(mark, rests, measured)


def _judge_few(mark: Mark, rests: Sequence[Rest], beside: Sequence[Rest]) -> Promise:
    """Judge rests of which a class has only a few: one that differs is enough.

    ``beside`` are all rests: where they are as planned, a best guess far off is believed.
    """
    claimed_ms = 1000 * (mark.value or 0.0)
    offs = [_surely_off_ms(one, claimed_ms) for one in rests]
    found = _worst_s(rests, claimed_ms)
    share = _FIRM_SHARE if is_sworn(mark) else 0.24
    likely = [_likely_off_ms(beside, one, claimed_ms) for one in rests]
    is_far = max(12_000, _FEW_SHARE * claimed_ms) <= max(abs(off) for off in likely)
    if is_far or max(8_000, share * claimed_ms) <= max(abs(off) for off in offs):
        return verdict_on("rest", mark, found, "broken", "a rest between rounds or sides differs")
    return verdict_on("rest", mark, found, "kept")


def _judge_none(heard: HeardClass, mark: Mark) -> Promise | None:
    """Judge "no rest": broken by one rest that nobody could take for a change of move.

    Rests that are planned (between rounds, mostly) were never meant.
    """
    rests = rests_of(heard, blocks_meant(heard, mark))
    meant = [one for one in rests if (one.planned_ms or 0) < _NONE_ALLOWS_MS]
    if not rests:
        return None
    longest_s = round(max(one.length_ms for one in meant or rests) / 1000, 1)
    if not meant:
        return verdict_on("rest", mark, longest_s, "unclear", "rests are planned", said=0)
    is_broken = any(
        one.likely_least_ms >= (_NONE_ALLOWS_MS if one.planned_ms else CHANGE_MS) for one in meant
    )
    return verdict_on("rest", mark, longest_s, "broken" if is_broken else "kept", said=0)


def judge_rests(heard: HeardClass) -> list[Promise]:
    """Judge every promised rest."""
    judged = [
        *(_judge_between_moves(heard, mark) for mark in claims(heard, "rest")),
        *(_judge_boundaries(heard, mark) for mark in claims(heard, "rest_rounds", "rest_sides")),
        *(
            _judge_none(heard, mark)
            for mark in claims(heard, "no_rest")
            if is_for_class(heard, mark)
        ),
    ]
    return [one for one in judged if one is not None]
