"""List the names that a plan's moves go by in talk, and how sure each one is.

Coaches shorten ("rows" for "Single-arm row"), use another name of the trade ("RDLs"),
or drop what is plain anyway ("alternating", "dumbbell"). A short form counts only as
far as it cannot mean another move of the same plan.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from reviewkit.language.matching import fold_phrase, stem
from reviewkit.language.movebook import (
    DETAILS,
    SIDES_AND_COUNTS,
    WEAK,
    Movebook,
    Words,
    known_move,
    make_movebook,
    name_keys,
)
from reviewkit.model import Lexicon

WHOLE = 1.0
ALIAS = 0.9
PLAIN = 0.85
TAIL = 0.75
HEAD_RUN = 0.6
ONE_WORD = 0.65
EVERYDAY_WORD = 0.3
WEAK_WORD = 0.2

# Whole names of everyday words only ("Hill", "Side step") are said for other reasons too.
_EVERYDAY_FACTOR = 0.5
# "Brisk" is all the name it has.
_LEAST_WHOLE = 0.35
_SHARED_FACTOR = 0.5
_MOST_SHARERS = 3


@dataclass(frozen=True, slots=True)
class MoveName:
    """Stemmed words that mean a plan's move, with ``weight`` 0 to 1 for how sure."""

    words: Words
    move: str
    weight: float


def plan_names(moves: Iterable[str], lexicon: Lexicon) -> tuple[MoveName, ...]:
    """List every name of each planned move, the surest weight for each.

    Args:
        moves: The plan's moves in the plan's spelling, each once.
        lexicon: Where aliases and the roles of words come from.

    Returns:
        Names with different words or moves. Words that could mean several moves belong
        to the one that is called just that, or else, with less weight, to up to three.
    """
    book = make_movebook(lexicon)
    claims: dict[Words, dict[str, float]] = {}
    for move in moves:
        for words, weight in _names_of(move, lexicon, book):
            claim = claims.setdefault(words, {})
            claim[move] = max(claim.get(move, 0.0), weight)
    return tuple(
        MoveName(words, move, weight)
        for words, claim in claims.items()
        for move, weight in _settle(claim)
    )


def _settle(claim: dict[str, float]) -> Iterator[tuple[str, float]]:
    """Share words between the moves that claim them."""
    best = max(claim.values())
    owners = [move for move, weight in claim.items() if weight >= min(best, ALIAS) - 0.1]
    if len(owners) == 1:
        yield owners[0], claim[owners[0]]
    elif len(owners) <= _MOST_SHARERS:
        yield from ((move, claim[move] * _SHARED_FACTOR) for move in owners)


def _names_of(move: str, lexicon: Lexicon, book: Movebook) -> Iterator[tuple[Words, float]]:
    """Give the names of one move with their weights, before they are shared."""
    said = fold_phrase(move, stem)
    whole = book.strip(said, SIDES_AND_COUNTS)
    if not whole:
        return
    yield said, max(_LEAST_WHOLE, WHOLE * _factor(said, book))
    yield whole, max(_LEAST_WHOLE, WHOLE * _factor(whole, book))
    known = known_move(move, lexicon)
    for words in name_keys(known) if known else ():
        yield words, ALIAS * _factor(words, book)
    plain = book.strip(whole, DETAILS | {"place"})
    if len(plain) > 1 and _is_telling(plain, book):
        yield plain, PLAIN * _factor(plain, book)
    for length in range(2, len(whole)):
        for run, weight in ((whole[-length:], TAIL), (whole[:length], HEAD_RUN)):
            if _is_telling(run, book) and book.role(run[0]) not in ("joiner", "filler"):
                yield run, weight * _factor(run, book)
    for word in whole:
        yield from _one_word(word, book)


def _one_word(word: str, book: Movebook) -> Iterator[tuple[Words, float]]:
    """Give a word of a longer name as a name of its own, when it can be one."""
    role = book.role(word)
    if role == "everyday":
        yield (word,), EVERYDAY_WORD
    elif role not in WEAK:
        yield (word,), ONE_WORD


def _is_telling(words: Sequence[str], book: Movebook) -> bool:
    """Tell whether some word says more than load, side, manner, place or body part."""
    return any(book.role(word) not in WEAK for word in words)


def _factor(words: Sequence[str], book: Movebook) -> float:
    """Say how much a name counts by how ordinary its words are."""
    roles = [book.role(word) for word in words]
    if any(not role for role in roles):
        return 1.0
    if len(words) == 1:
        return _EVERYDAY_FACTOR if roles[0] == "everyday" else WEAK_WORD
    return 0.9 if "everyday" in roles else _EVERYDAY_FACTOR
