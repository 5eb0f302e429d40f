"""Judge promises that two sides, or two moves, come without a rest between them."""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.findings.claims import claims, verdict_on
from reviewkit.findings.rests import CHANGE_MS, Rest, rests_of
from reviewkit.model import HeardClass, Mark, Promise

SIDES = "no_rest_sides"
# Where two moves are named beside it, a plain "no rest" is of these as well.
PAIRS = ("no_rest_pair", "no_rest")
# How many words from a promise the moves that it is about may be named.
_NAMES_REACH = 14


def judge_joins(heard: HeardClass) -> list[Promise]:
    """Judge every promise that two things follow each other without a rest."""
    blocks = dict.fromkeys(one.block for one in heard.intervals if one.kind == "work")
    rests = rests_of(heard, tuple(blocks))
    judged = (
        _judge(mark, meant)
        for mark in claims(heard, SIDES, *PAIRS)
        if (meant := _meant(heard, mark, [one for one in rests if mark.start_ms < one.start_ms]))
    )
    return list(judged)


def _meant(heard: HeardClass, mark: Mark, rests: Sequence[Rest]) -> list[Rest]:
    """Choose the rests that a promise is about: between sides, or between two named moves."""
    named = {
        one.ref
        for one in heard.marks
        if one.kind == "move"
        and mark.first - _NAMES_REACH <= one.last
        and one.first <= mark.last + _NAMES_REACH
    }
    if mark.ref in PAIRS:
        return [
            one for one in rests if one.moves[0] != one.moves[1] and named.issuperset(one.moves)
        ]
    between = [one for one in rests if one.is_between_sides]
    return [one for one in between if one.moves[0] in named] or between


def _judge(mark: Mark, rests: Sequence[Rest]) -> Promise:
    longest_s = round(max(one.length_ms for one in rests) / 1000, 1)
    is_broken = any(one.likely_least_ms >= CHANGE_MS for one in rests)
    why = "there was a rest between them" if is_broken else ""
    return verdict_on("rest", mark, longest_s, "broken" if is_broken else "kept", why, said=0)
