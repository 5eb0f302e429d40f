"""Find the words of a text that say something about a movement, with their senses.

A term is a word or a set phrase. Its senses are the body parts and the poles (ways to be,
move or face) that the word lists give it: "bum" may be hips or glutes, "hammock" stands
for sagging. Words outside the lists are terms without senses, which only match
themselves; little words are none.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from reviewkit.language.matching import stem
from reviewkit.language.wordsets import word_set
from reviewkit.model import Lexicon, Phrase
from reviewkit.once import once_for

PARTS_LIST = "body_parts"
POLES_LIST = "poles"

_WORD = re.compile(r"[a-z0-9']+")
_ENDING = re.compile(r"'(?:s|ll|re|ve|d)$")
_LITTLE = word_set(
    "the a an and or but of to on at is it its it's it'll that that's there there's this these"
    " those them they their they're you you're your you've you'll i i'm me my we we're us our be"
    " been are was were am do does did don't not no never doesn't isn't aren't won't can't let"
    " let's so if with for from by just like what when where who how then than now um uh er oh"
    " okay ok right yeah one two three four five get got go going gone goes come comes came have"
    " has had he she him her his hers here some any all every each say said know want wants i'd"
    " you'd would could should can may might will keep keeps make makes made put puts take takes"
    " please really very bit little more much well too only even still again also about because"
    " as into don didn't wasn't couldn't wouldn't nobody somebody anybody everyone someone thing"
    " things something anything nothing that'll what's who's gonna wanna sort kind lot lots way"
    " nice lovely good great think time yourself yours mine ours myself whose which while until"
    " till via per being"
)


@dataclass(frozen=True, slots=True)
class Term:
    """A word or phrase that carries meaning: where it is, its key and its senses."""

    at: int
    length: int
    key: str
    senses: frozenset[str]


@dataclass(frozen=True, slots=True, eq=False)
class TermBook:
    """The word lists made ready: senses by stemmed phrase, and which senses are parts.

    ``beginnings`` are what phrases of several words begin with, and ``sizes`` says how many
    phrases have a sense.
    """

    senses: dict[tuple[str, ...], frozenset[str]]
    beginnings: frozenset[tuple[str, ...]]
    parts: frozenset[str]
    sizes: dict[str, int]


_NO_SENSES: frozenset[str] = frozenset()


def term_book(lexicon: Lexicon) -> TermBook:
    """Index the lists of body parts and poles; the same lists give the same book."""
    return make_book(lexicon.lists.get(PARTS_LIST, ()), lexicon.lists.get(POLES_LIST, ()))


@once_for(4)
def make_book(parts: tuple[Phrase, ...], poles: tuple[Phrase, ...]) -> TermBook:
    """Index the lines of the two lists."""
    senses: dict[tuple[str, ...], set[str]] = {}
    sizes: dict[str, int] = {}
    for line in (*parts, *poles):
        kept = senses.setdefault(tuple(map(fold, line.phrase.split())), set())
        for sense in line.label.split():
            sizes[sense] = sizes.get(sense, 0) + (sense not in kept)
            kept.add(sense)
    return TermBook(
        {key: frozenset(kept) for key, kept in senses.items()},
        frozenset(key[:end] for key in senses for end in range(1, len(key))),
        frozenset(sense for line in parts for sense in line.label.split()),
        sizes,
    )


@lru_cache(maxsize=20_000)
def fold(word: str) -> str:
    """Fold a word's ending: inflections, shortened verbs and "-ly" go."""
    folded = stem(_ENDING.sub("", word))
    return folded[:-2] if folded.endswith("ly") and len(folded) > 5 else folded


def words_of(text: str) -> list[str]:
    """Split a written text into lower-case words."""
    return _WORD.findall(text.lower().replace("\u2019", "'"))


def is_little(word: str) -> bool:
    """Tell whether a word says nothing about a movement."""
    return word in _LITTLE or word.isdigit()


def read_terms(words: Sequence[str], book: TermBook) -> tuple[Term, ...]:
    """Find every term among lower-case words, in order; phrases overlap their words."""
    return _read_once(tuple(words), book)


# One utterance is read for several points, frames and lists.
@lru_cache(maxsize=20_000)
def _read_once(words: tuple[str, ...], book: TermBook) -> tuple[Term, ...]:
    folded = [fold(word) for word in words]
    found: list[Term] = []
    for at, (word, key) in enumerate(zip(words, folded, strict=True)):
        if (key,) in book.beginnings:
            found += _phrases_at(at, folded, book)
        senses = book.senses.get((key,))
        if senses is not None:
            found.append(Term(at, 1, key, senses))
        elif not is_little(word):
            found.append(Term(at, 1, key, _NO_SENSES))
    return tuple(found)


def _phrases_at(at: int, folded: Sequence[str], book: TermBook) -> list[Term]:
    """Give the phrases of several words that start with a word, the longest first."""
    found: list[Term] = []
    for end in range(at + 2, len(folded) + 1):
        key = tuple(folded[at:end])
        if key in book.senses:
            found.append(Term(at, end - at, " ".join(key), book.senses[key]))
        if key not in book.beginnings:
            break
    return found[::-1]
