"""Words of one stretch of talk as risky talk is listened for: wordings by label, negations."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reviewkit.language.wordsets import word_set
from reviewkit.marks.wording import Hit, Hits, gap_between

# A word that opens a new clause ends the reach of a negation before it.
CLAUSE_BREAKS = word_set("if and so but then because when just now keep")
_NEGATION_REACH = 5
# Before a call only helping words stand, so a negation may be farther off.
_CALL_REACH = 8
_BEFORE_CALLS = word_set(
    "telling tell tells asking ask asks saying say suggesting getting making wanting expecting "
    "gonna dream dreaming would i'm we're "
    "you ever just try to want anyone anybody let be have need going please simply always feel "
    "like must should a the it about of we us them that this and i i'd people"
)
# Verbs that lead to "through it": "never push on through a joint that hurts".
_CALLS = word_set("push pushing work working go going press run power train carry keep fight on")
# Labels whose wordings hold a negation of their own: "don't stop", "no need for".
_HOLD_NEGATIONS = ("go_on", "cure", "keep_in", "normal", "need_no_more", "so_what", "scorn_advice")


@dataclass(frozen=True, slots=True)
class Heard:
    """One stretch of talk and every wording of the list found in it, by label."""

    norms: tuple[str, ...]
    hits: Hits

    def of(self, *labels: str) -> tuple[Hit, ...]:
        """Give the hits of some labels in the order spoken."""
        found = [hit for label in labels for hit in self.hits.get(label, ())]
        return tuple(sorted(found, key=lambda hit: (hit.first, hit.last)))


@dataclass(frozen=True, slots=True)
class Risk:
    """A risk heard in words ``first`` to ``last`` of a stretch, and the kind of risk."""

    first: int
    last: int
    reason: str


def _own_negations(heard: Heard, hit: Hit) -> set[int]:
    """Give the negations that belong to another wording of the list ("don't stop").

    One that runs into the hit is the hit's own: "don't stop breathing" stops nothing.
    """
    return {
        at
        for one in heard.of(*_HOLD_NEGATIONS)
        for at in range(one.first, one.last + 1)
        if one == hit or not one.first < hit.first <= one.last
    }


def is_negated(heard: Heard, hit: Hit, *, beside: Hit | None = None) -> bool:
    """Tell whether a negation just before the words, in the same clause, turns them.

    A negation inside ``beside``, the other half of a frame, is that half's own. Before a
    call to go on, only helping words may stand between: "don't you push through", but not
    "don't sit down push on".
    """
    own = _own_negations(heard, hit)
    is_call = hit in heard.of("go_on", "through_pain")
    reach = _CALL_REACH if is_call else _NEGATION_REACH
    for negation in heard.of("negation"):
        between = heard.norms[negation.last + 1 : hit.first]
        if is_call and not set(between) <= _BEFORE_CALLS | _CALLS:
            continue
        if beside and beside.first <= negation.first <= beside.last:
            continue
        is_before = negation.last < hit.first and len(between) < reach
        # "Don't just yank it" is one clause; a later "just" opens another.
        clause = between[1:] if between[:1] == ("just",) else between
        if is_before and negation.first not in own and not CLAUSE_BREAKS & set(clause):
            return True
    return False


def pairs(heard: Heard, ones: Iterable[Hit], others: Iterable[Hit], near: int) -> list[Risk]:
    """Pair words of two kinds that are near each other (or overlap) and not negated."""
    others = tuple(others)
    return [
        Risk(min(one.first, other.first), max(one.last, other.last), "")
        for one in ones
        for other in others
        if gap_between(one, other) <= near and (one.first, one.last) != (other.first, other.last)
        if not is_negated(heard, one, beside=other) and not is_negated(heard, other, beside=one)
    ]
