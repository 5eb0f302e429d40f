"""Read talk with every amount as one word, the way promises are listened for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reviewkit.language.numbers import find_lengths, find_numbers
from reviewkit.language.wordsets import word_set

_HOURS = (
    (("three", "quarters", "of", "an", "hour"), 2700),
    (("a", "quarter", "of", "an", "hour"), 900),
    (("quarter", "of", "an", "hour"), 900),
    (("quarter", "of", "hour"), 900),
    (("an", "hour", "and", "a", "half"), 5400),
    (("half", "an", "hour"), 1800),
    (("half", "hour"), 1800),
    (("an", "hour"), 3600),
)
_ONE = ["one"]
# Intervals by their length, of all there are: "they're all forties", "the lot of them thirties".
_TENS = {
    "twenties": 20, "thirties": 30, "forties": 40, "fifties": 50, "sixties": 60, "nineties": 90,
}  # fmt: skip
_ALL, _ALL_REACH = word_set("all both every each everything lot of"), 3
_TIMES = {"twice": 2, "thrice": 3}
_OWNED = {
    "minute's": "minute",
    "minutes'": "minutes",
    "minuter": "minutes",
    "second's": "second",
    "seconds'": "seconds",
}


@dataclass(frozen=True, slots=True)
class Token:
    """One word, or one amount written ``#t45`` (seconds) or ``#n3``, and its words."""

    text: str
    first: int
    last: int

    @property
    def is_length(self) -> bool:
        """Tell whether this is a length of time with its unit."""
        return self.text.startswith("#t")

    @property
    def is_number(self) -> bool:
        """Tell whether this is a number without a unit."""
        return self.text.startswith("#n")

    @property
    def is_amount(self) -> bool:
        """Tell whether this is a length or a number."""
        return self.is_length or self.is_number

    @property
    def value(self) -> float:
        """The amount, in seconds or as a number; 0 for a word."""
        return float(self.text[2:]) if self.is_amount else 0.0


@dataclass(frozen=True, slots=True)
class Claim:
    """A claim in tokens ``first`` to ``last``; ``amount`` is the place of its amount."""

    what: str
    value: float | None
    first: int
    last: int
    amount: int | None = None


def _hours(norms: Sequence[str]) -> list[Token]:
    """Find lengths in hours, which coaches use for whole classes."""
    if "hour" not in norms:
        return []
    found, at = [], 0
    while at < len(norms):
        for words, seconds in _HOURS:
            if tuple(norms[at : at + len(words)]) == words:
                found.append(Token(f"#t{seconds}", at, at + len(words) - 1))
                at += len(words) - 1
                break
        at += 1
    return found


def _amounts(norms: list[str]) -> dict[int, Token]:
    """Find every amount, by its first word; the longer reading of a word wins.

    A lone "one" counts nothing ("one leg", "the other one"), and "zero" is a kind of "no".
    """
    found = _hours(norms)
    found += [Token(f"#t{one.seconds:g}", one.first, one.last) for one in find_lengths(norms)]
    found += [
        Token(f"#n{one.value:g}", one.first, one.last)
        for one in find_numbers(norms)
        if norms[one.first : one.last + 1] != _ONE and one.value
    ]
    found += [
        Token(f"#t{_TENS[norm]}", at, at)
        for at, norm in enumerate(norms)
        if norm in _TENS and not _ALL.isdisjoint(norms[max(0, at - _ALL_REACH) : at])
    ]
    taken: dict[int, Token] = {}
    used: set[int] = set()
    for token in found:
        span = set(range(token.first, token.last + 1))
        if not span & used:
            used |= span
            taken[token.first] = token
    return taken


def read_tokens(words: Sequence[str]) -> tuple[Token, ...]:
    """Read normalised words with every amount as one token; "twice" is "2 times"."""
    norms = [_OWNED.get(word, word) for word in words]
    amounts = _amounts(norms)
    tokens: list[Token] = []
    at = 0
    while at < len(norms):
        token = amounts.get(at)
        if token is not None:
            tokens.append(token)
            at = token.last + 1
            continue
        if norms[at] in _TIMES:
            tokens.append(Token(f"#n{_TIMES[norms[at]]}", at, at))
            tokens.append(Token("times", at, at))
        else:
            tokens.append(Token(norms[at], at, at))
        at += 1
    return tuple(tokens)
