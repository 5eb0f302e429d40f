"""Hear how long a warm-up or a cool-down will be, by what fills it and by where it stands.

"Three minutes of limbering", "four minutes in the annealer, lying on your backs": a length
and something loosening is a warm-up, a length and something slow a cool-down. A word for the
start or the end of class alone ("the first two minutes") leaves it to the plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from reviewkit.language.wordsets import word_set
from reviewkit.marks.promise_frames import is_of_class
from reviewkit.marks.promise_tokens import Claim, Token
from reviewkit.marks.wording import Hits

# Lengths that a part can have, in seconds.
_SENSIBLE_S = (30, 600)
_REACH, _PLACE_REACH = 7, 5
# What is told of such a length by other wordings gives way.
_GIVES_WAY = ("minutes", "maybe_work", "maybe_rest", "length")
# So does one that is long for work or rest, where what fills it and its place both tell the part:
# "we start with two minutes of dancing to get warm".
_INTERVALS, _LONG_S = ("work", "rest"), 90
_BY_WHEN = ("in", "within")
_ENDS = word_set("finish end bottom")
_THINGS = {"warm_length": ("loosening", "warm_up"), "cool_length": ("slow_thing", "cool_down")}
_PLACES = {"warm_length": ("opening",), "cool_length": ("closing", "ending")}


def part_lengths(
    tokens: Sequence[Token], hits: Hits, claimed: Mapping[int, Claim]
) -> dict[int, Claim]:
    """Say of lengths, by their places, which are those of a warm-up or a cool-down."""
    low, high = _SENSIBLE_S
    found: dict[int, Claim] = {}
    for at, token in enumerate(tokens):
        told = claimed[at].what if at in claimed else "length"
        if not token.is_length or not low <= token.value <= high:
            continue
        if _is_by_when(tokens, at) or _is_whole(tokens, at):
            continue
        is_long = told in _INTERVALS and token.value >= _LONG_S
        what = _part(tokens, hits, at, is_sure=is_long) if told in _GIVES_WAY or is_long else ""
        if what:
            found[at] = Claim(what, token.value, at, at, at)
    return found


def _is_by_when(tokens: Sequence[Token], at: int) -> bool:
    """Tell when something will be so from how long it takes: "we'll be warm in five minutes"."""
    return at > 0 and tokens[at - 1].text in _BY_WHEN


def _is_whole(tokens: Sequence[Token], at: int) -> bool:
    """Tell the class from a part of it: "eight minutes start to finish"."""
    behind = [token.text for token in tokens[at + 2 : at + 5]]
    return any(word == "to" and end in _ENDS for word, end in pairwise(behind))


def _part(tokens: Sequence[Token], hits: Hits, at: int, *, is_sure: bool) -> str:
    """Name the part that a length is of, as ``maybe_`` where only its place tells it.

    With ``is_sure`` its place and what fills it must both tell it.
    """
    things = _nearest(tokens, hits, at, _THINGS, _REACH)
    places = _nearest(tokens, hits, at, _PLACES, _PLACE_REACH)
    if len(places) == 1 and things:
        return places[0]
    if is_sure:
        return ""
    if things:
        return things[0]
    return f"maybe_{places[0]}" if len(places) == 1 else ""


def _nearest(
    tokens: Sequence[Token],
    hits: Hits,
    at: int,
    cues: Mapping[str, Sequence[str]],
    reach: int,
) -> list[str]:
    """Give the parts that have a cue within reach, no other length between, nearest first."""
    gaps: dict[str, int] = {}
    for what, labels in cues.items():
        for hit in (hit for label in labels for hit in hits.get(label, ())):
            if not is_of_class(tokens, hit):
                continue
            between = range(min(at, hit.last) + 1, max(at, hit.first))
            if len(between) <= reach and not any(tokens[one].is_length for one in between):
                gaps[what] = min(gaps.get(what, reach), len(between))
    return sorted(gaps, key=lambda what: gaps[what])
