"""Tell how firmly something is promised: plainly, sworn to in words or in figures, or on oath.

Figures swear where an amount is said twice over ("three means three", "twice, and I mean
twice") or its neighbours are ruled out ("thirty, not thirty five"). Words do where nothing is
to be added, left out or cut ("no extras", "I'll not skip one").
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, pairwise

from reviewkit.language.wordsets import word_set
from reviewkit.marks.promise_tokens import Token, read_tokens
from reviewkit.marks.wording import Wordings, find_wordings, index_label
from reviewkit.model import Phrase

PLAIN, SWORN, OATH = 0.8, 0.9, 1.0
_OATH, _SWORN = "stress", "sworn"
_OATH_WORDS = word_set(
    "promise promised promising guarantee guaranteed always strict strictly exactly"
)
# "Not thirty five" rules out a neighbour of thirty: an amount no farther off than twice as much.
_NOT = word_set("not never nor")
_NEIGHBOUR = 2.0
_NEAR = 8
_JUST_BEFORE = 4
# What stands between an amount and the same again.
_AGAIN = word_set("is means mean meant mind it's that's say said saying be being stays equals")


def firmness(before: Sequence[str], after: Sequence[str], lines: tuple[Phrase, ...]) -> float:
    """Say how firm a promise is by the normalised words before it, and by its own and those after.

    What is sworn to is said first and then sworn to.
    """
    around = [*before, *after]
    if find_wordings(around, index_label(_OATH, lines)) or not _OATH_WORDS.isdisjoint(around):
        return OATH
    is_sworn = _is_sworn([*before[-_JUST_BEFORE:], *after], index_label(_SWORN, lines))
    return SWORN if is_sworn else PLAIN


def _is_sworn(around: Sequence[str], wordings: Wordings) -> bool:
    tokens = read_tokens(around)
    return (
        bool(find_wordings([token.text for token in tokens], wordings))
        or _is_said_again(tokens)
        or _rules_out_neighbours(tokens)
    )


def _is_said_again(tokens: Sequence[Token]) -> bool:
    """Tell whether an amount is said twice over: "forty is forty"."""
    amounts = [at for at, token in enumerate(tokens) if token.is_amount]
    return any(
        tokens[one].text == tokens[other].text
        and other - one <= _NEAR
        and tokens[other - 1].text in _AGAIN
        for one, other in combinations(amounts, 2)
    )


def _rules_out_neighbours(tokens: Sequence[Token]) -> bool:
    """Tell whether an amount is held against another one: "never nineteen"."""
    amounts = [at for at, token in enumerate(tokens) if token.is_amount]
    denied = [at + 1 for at, (one, _) in enumerate(pairwise(tokens)) if one.text in _NOT]
    return any(
        one != other
        and abs(one - other) <= _NEAR
        and 1 < _ratio(tokens[one].value, tokens[other].value) <= _NEIGHBOUR
        for one in amounts
        if one in denied
        for other in amounts
    )


def _ratio(one: float, other: float) -> float:
    low, high = sorted((one, other))
    return high / low if low else 0.0
