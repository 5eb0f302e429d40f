"""Compare spoken words with written wordings that leave room for how people talk.

A wording is a few lower-case words. ``*`` stands for up to three words, a ``~`` for any
letters ("melt~", "~ing"), ``a|b`` for either word. Little words such as "the" and
"your" may be missing from the talk, because recognisers drop them, or stand where the
wording has none. ``{t}`` stands for a length of time and ``{n}`` for a number, when the
words were read with ``as_amounts``.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import attrgetter

from reviewkit.language.wordsets import word_set
from reviewkit.model import Phrase
from reviewkit.once import once

LITTLE = word_set("a an the to and of in it is your that on")
# Little words that may stand between any two words of a wording, and how many of them.
_SLIPPED_IN = LITTLE - {"and"}
_MOST_SLIPPED_IN = 2
_ANY = "*"
_MOST_ANY = 3
# A word of a wording, or a "*", takes no more with the little words after it.
_MOST_TAKEN = _MOST_ANY + _MOST_SLIPPED_IN
# For so many words at once it is looked up what is said there and soon after.
_LOOK_AHEAD = 32
_AMOUNT = "#"
_SLOTS = {"{t}": re.compile(r"#t[\d.]+"), "{n}": re.compile(r"#n[\d.]+")}
_OPEN = "~"


@dataclass(frozen=True, slots=True)
class Hit:
    """A wording heard in words ``first`` to ``last`` (inclusive) of the words given."""

    first: int
    last: int
    text: str


def gap_between(one: Hit, other: Hit) -> int:
    """Count the words between two hits; negative when they overlap."""
    return max(one.first, other.first) - min(one.last, other.last) - 1


Hits = Mapping[str, tuple[Hit, ...]]


@dataclass(frozen=True, slots=True)
class _Piece:
    """A place in a wording: the words and shapes of words that fit it, and whether it may be
    passed over.

    ``is_any`` stands for a few words, whatever they are.
    """

    words: frozenset[str]
    shape: re.Pattern[str] | None
    may_miss: bool
    is_any: bool

    def fits(self, word: str) -> bool:
        """Tell whether a spoken word may stand here."""
        return word in self.words or bool(self.shape and self.shape.fullmatch(word))


@dataclass(frozen=True, slots=True)
class _Wording:
    """One wording of a label; of those that fit at one word, the least ``rank`` counts.

    It begins in one of the ways ``beginnings`` (see ``_beginnings``). Besides a word of the
    set under which it stands it has one out of each of the sets ``needed``.
    """

    rank: int
    label: str
    pieces: tuple[_Piece, ...]
    beginnings: frozenset[str]
    needed: tuple[frozenset[str], ...]


_ByBeginning = Mapping[str, Sequence[_Wording]]


@dataclass(frozen=True, slots=True)
class Wordings:
    """The wordings of a list made ready, each under the words of which it needs one.

    ``always`` are those that need none, by how they begin. None of them takes more than
    ``reach`` words.
    """

    labels: tuple[str, ...]
    by_needed: Mapping[str, tuple[_Wording, ...]]
    always: _ByBeginning
    reach: int


@once
def index_wordings(lines: tuple[Phrase, ...]) -> Wordings:
    """Make the wordings of a list ready; the same list gives the same without new work.

    Of a label's wordings that fit at one word the longest counts, as written.
    """
    return _index(lines)


@once
def index_label(label: str, lines: tuple[Phrase, ...]) -> Wordings:
    """Make the wordings of one label ready, as ``index_wordings`` does with all."""
    return _index([line for line in lines if line.label == label])


def _index(lines: Sequence[Phrase]) -> Wordings:
    by_needed: dict[str, list[_Wording]] = {}
    always: dict[str, list[_Wording]] = {}
    longest_first = sorted(lines, key=lambda line: (-len(line.phrase), line.phrase))
    often = Counter(word for line in lines for word in line.phrase.replace("|", " ").split())
    for rank, line in enumerate(longest_first):
        pieces = _pieces(line.phrase)
        beginnings = frozenset(_beginnings(line.phrase.partition(" ")[0]))
        needed = _needed(pieces, often)
        wording = _Wording(rank, line.label, pieces, beginnings, needed[1:])
        for word in needed[0] if needed else ():
            by_needed.setdefault(word, []).append(wording)
        for beginning in () if needed else beginnings:
            always.setdefault(beginning, []).append(wording)
    return Wordings(
        tuple(dict.fromkeys(line.label for line in lines)),
        {word: tuple(own) for word, own in by_needed.items()},
        {beginning: tuple(own) for beginning, own in always.items()},
        _MOST_TAKEN * max((len(line.phrase.split()) for line in lines), default=0),
    )


def _beginnings(first: str) -> Iterator[str]:
    """Say what talk must begin with for a wording's first word: a word, or its first letter.

    The letter is followed by ``~``; where nothing is known, ``~`` stands alone.
    """
    if first in _SLOTS:
        yield _AMOUNT + _OPEN
    elif first == _ANY:
        yield _OPEN
    else:
        for choice in first.split("|"):
            yield choice if _OPEN not in choice else choice.partition(_OPEN)[0][:1] + _OPEN


def _pieces(phrase: str) -> tuple[_Piece, ...]:
    """Read a wording word by word.

    Little words inside it may be missing when two other words hold it together; its first
    and last word never are.
    """
    words = phrase.split()
    is_held = sum(word not in LITTLE and word not in (_ANY, *_SLOTS) for word in words) >= 2
    return tuple(
        _piece(word, may_miss=is_held and 0 < at < len(words) - 1 and word in LITTLE)
        for at, word in enumerate(words)
    )


def _needed(pieces: Sequence[_Piece], often: Mapping[str, int]) -> tuple[frozenset[str], ...]:
    """Give the words of every piece that cannot be missing, those that tell most first."""
    sure = (one for one in pieces if not (one.shape or one.may_miss or one.is_any))
    return tuple(
        sorted((one.words for one in sure), key=lambda own: sum(often[word] for word in own))
    )


# Thousands of wordings share the words they are made of.
@lru_cache(maxsize=20_000)
def _piece(word: str, *, may_miss: bool) -> _Piece:
    if word in _SLOTS:
        return _Piece(frozenset(), _SLOTS[word], may_miss, is_any=False)
    choices = word.split("|")
    shapes = [
        ".*".join(map(re.escape, choice.split(_OPEN))) for choice in choices if _OPEN in choice
    ]
    exact = frozenset(choice for choice in choices if _OPEN not in choice)
    shape = re.compile("|".join(shapes)) if shapes else None
    return _Piece(exact, shape, may_miss, is_any=word == _ANY)


def find_wordings(words: Sequence[str], wordings: Wordings) -> Hits:
    """Find every place where a wording of a list is heard, none of a label overlapping.

    Args:
        words: Normalised words, in the order spoken.
        wordings: What to listen for.

    Returns:
        The hits of every label that was heard, in the order spoken; labels as the list has
        them.
    """
    found: dict[str, list[Hit]] = {}
    for first in range(0, len(words), _LOOK_AHEAD):
        last = min(len(words), first + _LOOK_AHEAD)
        may_be = _that_may_be_in(words[first : last + wordings.reach], wordings)
        for at in range(first, last) if may_be else ():
            for wording in _that_may_begin_with(words[at], may_be):
                own = found.get(wording.label)
                if own and at <= own[-1].last:
                    continue
                end = _end(wording.pieces, 0, words, at)
                if end is not None:
                    hit = Hit(at, end - 1, " ".join(words[at:end]))
                    found.setdefault(wording.label, []).append(hit)
    return {label: tuple(found[label]) for label in wordings.labels if label in found}


def _that_may_be_in(words: Sequence[str], wordings: Wordings) -> _ByBeginning:
    """Give the wordings that have all they need among some words, by how they begin.

    Those that need nothing are always among them.
    """
    said = frozenset(words)
    may_be = {
        wording.rank: wording
        for word in said & wordings.by_needed.keys()
        for wording in wordings.by_needed[word]
        if not any(map(said.isdisjoint, wording.needed))
    }
    if not may_be:
        return wordings.always
    begun = said.union((word[:1] + _OPEN for word in said), (_OPEN,))
    found: dict[str, Sequence[_Wording]] = dict(wordings.always)
    for wording in may_be.values():
        for beginning in wording.beginnings & begun:
            found[beginning] = (*found.get(beginning, ()), wording)
    return found


def _that_may_begin_with(word: str, table: _ByBeginning) -> list[_Wording]:
    found = [
        *table.get(word, ()), *table.get(word[:1] + _OPEN, ()), *table.get(_OPEN, ()),
    ]  # fmt: skip
    return sorted(found, key=attrgetter("rank")) if len(found) > 1 else found


def _end(pieces: Sequence[_Piece], nth: int, words: Sequence[str], at: int) -> int | None:
    """Give the place after the words that the pieces from the ``nth`` on take, if they fit.

    Of several ways the one that takes the most words first is given.
    """
    piece = pieces[nth]
    if piece.is_any:
        for after in range(_past_any(words, at), at - 1, -1):
            if (end := _end_after(pieces, nth, words, after)) is not None:
                return end
        return None
    end = None
    if at < len(words) and piece.fits(words[at]):
        end = _end_after(pieces, nth, words, at + 1)
    if end is None and piece.may_miss:
        end = _end_after(pieces, nth, words, at)
    return end


def _end_after(pieces: Sequence[_Piece], nth: int, words: Sequence[str], at: int) -> int | None:
    """Give the end as ``_end`` does, once the ``nth`` piece has taken its words."""
    if nth + 1 == len(pieces):
        return at
    for after in range(_past_little(words, at), at - 1, -1):
        if (end := _end(pieces, nth + 1, words, after)) is not None:
            return end
    return None


def _past_little(words: Sequence[str], at: int) -> int:
    """Give the place after the little words that may have slipped in here."""
    last = min(len(words), at + _MOST_SLIPPED_IN)
    while at < last and words[at] in _SLIPPED_IN:
        at += 1
    return at


def _past_any(words: Sequence[str], at: int) -> int:
    """Give the place after the words that ``*`` may stand for.

    Never over an amount: "forty five on fifteen off" has no forty five off.
    """
    last = min(len(words), at + _MOST_ANY)
    while at < last and words[at] and not words[at].startswith(_AMOUNT):
        at += 1
    return at
