"""Know a move by its name: the coach's free words against the moves of the lexicon.

A name such as "Dumbbell front squat, left" is a head noun ("squat"), what tells it from
its kin ("front"), and words that change nothing about what the move is: load, side,
manner. The list ``move_words`` says which words are which; every other word counts as
telling. Detectors of moves and rules about moves both look names up here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import log

from reviewkit.language.matching import (
    LIKELY,
    POSSIBLE,
    find_alike,
    fold_phrase,
    similarity,
    sound_key,
    stem,
)
from reviewkit.model import Lexicon, LexiconMove, Pattern, Phrase
from reviewkit.once import once_for

WORD_LIST = "move_words"

# Roles of words in a name, as labelled in the list. "everyday" words are telling in a
# plan but common in talk; the other roles never make a name on their own.
SIDES_AND_COUNTS = frozenset({"side", "count"})
DETAILS = frozenset({"load", "manner", "filler"})
WEAK = SIDES_AND_COUNTS | DETAILS | {"body", "place", "joiner", "particle", "number"}

# An unknown move is asked for this many points of its pattern.
_PATTERN_POINTS = 2
_FAIR_MATCH = 0.5
_MISSPELT = 0.9
_TELLING_SOUND = 3
# Words that many names share still make another move where they are added.
_LEAST_RARITY = 4.0

Words = tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Movebook:
    """The lexicon's moves made ready for look-up by name."""

    by_name: Mapping[Words, LexiconMove]
    by_words: Mapping[Words, LexiconMove]
    by_head: Mapping[str, tuple[Words, ...]]
    rarity: Mapping[str, float]
    roles: Mapping[str, str]
    patterns: tuple[Pattern, ...]

    def role(self, word: str) -> str:
        """Give a stemmed word's role, empty for a telling word."""
        return "count" if word.isdigit() else self.roles.get(word, "")

    def strip(self, words: Words, roles: frozenset[str]) -> Words:
        """Leave out words of the given roles; all of them stay when none would."""
        return tuple(word for word in words if self.role(word) not in roles) or words


def make_movebook(lexicon: Lexicon) -> Movebook:
    """Index a lexicon; the same lexicon gives the same book without new work."""
    return _make(lexicon.moves, lexicon.patterns, lexicon.lists.get(WORD_LIST, ()))


def known_move(name: str, lexicon: Lexicon) -> LexiconMove | None:
    """Find the lexicon's move that a name is another spelling of, and no mere relative."""
    return _known(name, make_movebook(lexicon))


# A class asks for its few moves again and again.
@lru_cache(maxsize=2_000)
def _known(name: str, book: Movebook) -> LexiconMove | None:
    said = fold_phrase(name, stem)
    words = book.strip(said, SIDES_AND_COUNTS)
    if not words:
        return None
    return book.by_name.get(said) or _same_words(words, book) or _misspelt(words, book)


def match_move(name: str, lexicon: Lexicon) -> LexiconMove | None:
    """Find the lexicon's move for a name as a coach writes it.

    Tries, in this order: the name itself, its words in any order, the name without
    load, manner and side, a small misspelling, the halves of "this to that", and last
    the names with the same head noun that share the rarest words.

    Returns:
        The move, or ``None`` when nothing is close.
    """
    book = make_movebook(lexicon)
    words = book.strip(fold_phrase(name, stem), SIDES_AND_COUNTS)
    if not words:
        return None
    return known_move(name, lexicon) or _half(words, book) or _closest(words, book)


def pattern_of(name: str, lexicon: Lexicon) -> str:
    """Give the pattern a move belongs to, by its lexicon move or by nouns in its name.

    Returns:
        A pattern's id, empty when the name says nothing.
    """
    move = match_move(name, lexicon)
    if move is not None:
        return move.pattern
    words = fold_phrase(name, stem)
    nouns = [
        (fold_phrase(noun, stem), pattern.id)
        for pattern in lexicon.patterns
        for noun in pattern.nouns
    ]
    found = [
        (len(noun), place, pattern)
        for noun, pattern in nouns
        for place in range(len(words) - len(noun) + 1)
        if words[place : place + len(noun)] == noun
    ]
    return max(found)[2] if found else ""


def essential_points(name: str, lexicon: Lexicon) -> tuple[str, ...]:
    """Give the points, by id, that a careful coach would not leave out of a move.

    For an unknown move, they are what most moves of its pattern ask for; none where the
    name says nothing.
    """
    move = match_move(name, lexicon)
    if move is not None:
        return move.points
    pattern = pattern_of(name, lexicon)
    kin = [one for one in lexicon.moves if pattern and one.pattern == pattern]
    counts = Counter(point for one in kin for point in one.points)
    return tuple(point for point, _ in counts.most_common(_PATTERN_POINTS))


def name_keys(move: LexiconMove) -> tuple[Words, ...]:
    """Give every name of a move as stemmed words, its main name first."""
    return tuple(dict.fromkeys(fold_phrase(name, stem) for name in (move.name, *move.aliases)))


@once_for(8)
def _make(
    moves: tuple[LexiconMove, ...], patterns: tuple[Pattern, ...], word_list: tuple[Phrase, ...]
) -> Movebook:
    roles = {stem(line.phrase): line.label for line in word_list}
    by_name = {key: move for move in moves for key in name_keys(move)}
    spread = Counter(word for key in by_name for word in set(key))
    by_head: dict[str, list[Words]] = {}
    for key in by_name:
        by_head.setdefault(key[-1], []).append(key)
    return Movebook(
        by_name=by_name,
        by_words={tuple(sorted(key)): move for key, move in by_name.items()},
        by_head={head: tuple(keys) for head, keys in by_head.items()},
        rarity={word: log(1 + len(by_name) / count) for word, count in spread.items()},
        roles=roles,
        patterns=patterns,
    )


def _same_words(words: Words, book: Movebook) -> LexiconMove | None:
    """Look the name up as it is, in any order, and without what changes nothing."""
    for kept in (words, book.strip(words, frozenset({"load"})), book.strip(words, DETAILS)):
        if move := book.by_name.get(kept) or book.by_words.get(tuple(sorted(kept))):
            return move
    return None


def _misspelt(words: Words, book: Movebook) -> LexiconMove | None:
    """Find the one name that differs by a letter or two, or more when it sounds the same."""
    text = " ".join(words)
    sound = sound_key(text)
    names = _names_near(len(words), book)
    # All names are looked at together, and only the few that are like it one by one.
    alike = find_alike([text], tuple(names), at_least=POSSIBLE).get(text, {})
    near = ((similarity(text, name), names[name]) for name in alike)
    score, key = max(near, default=(0.0, ()))
    is_same_sound = len(sound) >= _TELLING_SOUND and sound == sound_key(" ".join(key))
    return book.by_name[key] if score > (LIKELY if is_same_sound else _MISSPELT) else None


@lru_cache(maxsize=40)
def _names_near(length: int, book: Movebook) -> dict[str, Words]:
    """Give the names of about so many words, each written out."""
    return {" ".join(key): key for key in book.by_name if abs(len(key) - length) < 2}


def _half(words: Words, book: Movebook) -> LexiconMove | None:
    """Look up the first, then the last part of a name joined by "to", "and", "with"."""
    places = [i for i, word in enumerate(words) if book.role(word) == "joiner"]
    if not places:
        return None
    for part in (words[: places[0]], words[places[-1] + 1 :]):
        if part and any(book.role(word) not in WEAK for word in part):
            move = _same_words(part, book) or _closest(part, book)
            if move is not None:
                return move
    return None


def _closest(words: Words, book: Movebook) -> LexiconMove | None:
    """Find the name with the same head noun that shares the most of the rare words."""
    telling = [word for word in words if book.role(word) not in WEAK] or list(words[-1:])
    for head in reversed(telling):
        keys = [key for key in book.by_head.get(head, ()) if _is_kin(words, key, book)]
        score, key = max(((_likeness(words, key, book), key) for key in keys), default=(0.0, ()))
        if score >= _FAIR_MATCH:
            return book.by_name[key]
    return None


def _is_kin(words: Words, key: Words, book: Movebook) -> bool:
    """Tell whether a name shares more with a key than an everyday word."""
    shared = set(words) & set(key)
    return shared == set(key) or any(book.role(word) in ("", "body") for word in shared)


def _likeness(words: Words, key: Words, book: Movebook) -> float:
    """Weigh shared rare words against missing ones, 0 to 1.

    A word the lexicon's name adds counts in full, since it makes another move of it; a
    word only the coach's name has counts less, and least when it is a detail.
    """
    shared = sum(_weight(word, book) for word in key if word in words)
    added = sum(_weight(word, book) for word in key if word not in words)
    unmet = sum(_weight(word, book) for word in words if word not in key)
    total = shared + added + unmet / 2
    return shared / total if total else 0.0


def _weight(word: str, book: Movebook) -> float:
    """Say how telling a word is: rare ones more, details hardly."""
    factor = {"filler": 0.05, "joiner": 0.05, "load": 0.2, "manner": 0.3, "place": 0.5}
    return max(_LEAST_RARITY, book.rarity.get(word, 0.0)) * factor.get(book.role(word), 1.0)
