"""Hear promises that have no set wording: two or three kinds of words near each other.

A cool-down is something slow and a word for the end ("something slow for the hips, and
then we're done"); a warm-up is something loosening and a word for the start; both sides
are one side, the other, and a word that makes it a rule ("whatever the left leg does,
the right leg does").
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reviewkit.marks.promise_tokens import Claim, Token
from reviewkit.marks.wording import Hit, Patterns, Spoken, find_wordings
from reviewkit.wordsets import word_set

# What is promised, the label of the thing itself, and of the words that place it.
_FRAMES = (("cool_down", "slow_thing", "closing"), ("warm_up", "loosening", "opening"))
_REACH = 7
_SIDE_REACH = 10
_RULE_REACH = 8
_NEGATIONS = word_set("no not don't without never isn't won't can't doesn't didn't nobody")
# Before a thing that must not be missed a negation is none: "don't skip the stretch".
_MISSED = word_set("skip miss forget rush leave switch")
# "At the end of your range" closes nothing, "at the end of class" does.
_WHOLES = word_set("class it this that today session workout lesson everything all practice hour")
_ARTICLES = word_set("the our this your my a")


def claim_frames(tokens: Sequence[Token], spoken: Spoken, patterns: Patterns) -> Iterator[Claim]:
    """Give the promises of a warm-up, a cool-down and both sides that frames tell."""
    for what, thing, place in _FRAMES:
        places = [
            hit for hit in find_wordings(spoken, patterns.get(place)) if _is_of_class(tokens, hit)
        ]
        for hit in find_wordings(spoken, patterns.get(thing)):
            near = next((one for one in places if _gap(hit, one) <= _REACH), None)
            if near and not _is_negated(tokens, hit):
                yield _spanning(what, hit, near)
    yield from _both_sides(spoken, patterns)


def _both_sides(spoken: Spoken, patterns: Patterns) -> Iterator[Claim]:
    """Find one side, then the other, and a word of rule around them."""
    rules = find_wordings(spoken, patterns.get("side_rule"))
    others = find_wordings(spoken, patterns.get("side_other"))
    for one in find_wordings(spoken, patterns.get("side_one")):
        for other in others:
            if not (one.last < other.first <= one.last + _SIDE_REACH):
                continue
            span = Hit(one.first, other.last, "")
            if any(_gap(span, rule) <= _RULE_REACH for rule in rules):
                yield _spanning("both_sides", one, other)
                break


def _spanning(what: str, one: Hit, other: Hit) -> Claim:
    return Claim(what, None, min(one.first, other.first), max(one.last, other.last))


def _gap(one: Hit, other: Hit) -> int:
    """Count the words between two hits; negative when they overlap."""
    return max(one.first, other.first) - min(one.last, other.last) - 1


def _is_of_class(tokens: Sequence[Token], place: Hit) -> bool:
    """Tell whether "at the end" is the class's end and not that of something else."""
    after = [token.text for token in tokens[place.last + 1 : place.last + 4]]
    if not after or after[0] not in ("of", "each", "every"):
        return True
    named = [word for word in after[1:] if word not in _ARTICLES]
    return after[0] == "of" and (not named or named[0] in _WHOLES)


def _is_negated(tokens: Sequence[Token], thing: Hit) -> bool:
    """Tell whether a thing is denied: "no stretch", but not "don't skip the stretch"."""
    before = {token.text for token in tokens[max(0, thing.first - 3) : thing.first]}
    return bool(before & _NEGATIONS) and not before & _MISSED
