"""Hear that two things are promised to follow each other without a rest.

Those are two sides ("there's no gap between left and right") or two moves ("the row and
the lunge are together, there's nothing in between"); which moves, the words around it and
the plan tell.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reviewkit.language.wordsets import word_set
from reviewkit.marks.promise_frames import NEGATIONS
from reviewkit.marks.promise_tokens import Claim, Token
from reviewkit.marks.wording import Hit, Hits, gap_between

SIDES, PAIR = "no_rest_sides", "no_rest_pair"
# Labels of the word list: a rest, words that join two things, two sides, two things.
_REST, _NO_REST, _JOINED, _TWO_SIDES, _TWO_THINGS = (
    "rest_thing", "no_rest", "joined", "two_sides", "two_things",
)  # fmt: skip
_DENIALS = NEGATIONS | word_set("zero nil none nothing ain't nae")
# How far before a rest its denial may stand, and two sides or things from either.
_DENIAL_REACH, _SIDES_REACH, _THINGS_REACH = 5, 8, 6
# "Don't rest your elbow" denies no rest.
_LEANS = word_set("your the on them it his her my against")


def claim_joins(tokens: Sequence[Token], hits: Hits) -> Iterator[Claim]:
    """Give the promises that two sides, or two moves, come without a rest between them."""
    plain = hits.get(_NO_REST, ())
    denied = [
        one
        for one in _denied_rests(tokens, hits)
        if all(gap_between(one, other) >= 0 for other in plain)
    ]
    joined = [*denied, *plain, *hits.get(_JOINED, ())]
    sides = [span for one in joined if (span := _with_near(one, hits, _TWO_SIDES, _SIDES_REACH))]
    for span in sides:
        yield Claim(SIDES, None, span.first, span.last)
    for one in () if sides else denied:
        if span := _with_near(one, hits, _TWO_THINGS, _THINGS_REACH):
            yield Claim(PAIR, None, span.first, span.last)


def _denied_rests(tokens: Sequence[Token], hits: Hits) -> Iterator[Hit]:
    """Find "no pause", "not giving you any break"."""
    for rest in hits.get(_REST, ()):
        after = {token.text for token in tokens[rest.last + 1 : rest.last + 2]}
        before = {token.text for token in tokens[max(0, rest.first - 1) : rest.first]}
        if rest.text == "rest" and "the" in before:
            continue
        low = max(0, rest.first - _DENIAL_REACH)
        denials = [at for at in range(low, rest.first) if tokens[at].text in _DENIALS]
        if denials and not after & _LEANS:
            yield Hit(denials[0], rest.last, rest.text)


def _with_near(one: Hit, hits: Hits, label: str, reach: int) -> Hit | None:
    """Join a hit with the nearest one of a label, where that is near enough."""
    near = [other for other in hits.get(label, ()) if gap_between(one, other) <= reach]
    if not near:
        return None
    other = min(near, key=lambda hit: gap_between(one, hit))
    return Hit(min(one.first, other.first), max(one.last, other.last), one.text)
