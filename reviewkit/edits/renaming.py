"""Put right the names of planned moves that were mis-heard: "blank" where a plank is planned.

A detector has already said where a planned move was named, mis-heard or not. Here each
name is laid beside the names that the move goes by, and words that are none of them, but
sound like the one in their place, are put right. Other words stay as they were heard.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from reviewkit.edits.records import Renamed
from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.language.matching import SURE, fold_words, similarity, stem
from reviewkit.language.movebook import Movebook, known_move, make_movebook
from reviewkit.marks.moves import CONTEXT_LIST, EXACT, KIND, PLANNED
from reviewkit.model import HeardClass, Interval, Lexicon, Mark, Word
from reviewkit.once import once_for
from reviewkit.report.wording import quote
from reviewkit.times import format_clock

# A name this sure may stand anywhere; a less sure one only near an interval of its move.
SURE_WEIGHT = 0.6
LEAST_WEIGHT = 0.25
NEAR_MS = 60_000
# How like a word must be to the one in its place, and a word that coaches say all the time.
# Chosen on labelled classes: below, more was put wrong than right.
_LEAST_LIKE, _LEAST_LIKE_COMMON = 0.68, 0.78
_COMMON_FROM = 20
# A name of so many letters may be the stem of another word; one of so many may be cut short.
_LEAST_STEM, _LEAST_SHORTENED = 3, 6
# Only a long word is torn into two.
_LEAST_TORN_LETTERS = 6
_JOINT = re.compile(r"[-\u2010-\u2015/]")


@dataclass(frozen=True, slots=True)
class _NamePart:
    """One spoken part of a name: as it is compared, and as it is written."""

    folded: str
    written: str


@dataclass(frozen=True, slots=True)
class _HeardPart:
    """Words ``first`` to ``last`` (inclusive) that were heard for one part of a name."""

    folded: str
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class _Reading:
    """Words as heard laid beside a name: how like they are, and what was mis-heard in them."""

    likeness: float
    differing: tuple[tuple[_HeardPart, _NamePart], ...]


@dataclass(frozen=True, slots=True)
class _Known:
    """What coaches say: words of names, around them, and how often the lists have a word."""

    book: Movebook
    around: frozenset[str]
    often: Counter[str]

    def is_usual(self, word: str) -> bool:
        """Tell whether a word is one around names, or one that is said all the time."""
        return bool(self.book.role(word)) or self.often[word] >= _COMMON_FROM


def find_renamed(heard: HeardClass) -> tuple[Renamed, ...]:
    """Find all words that are put right, in order of place; none is put right twice."""
    names = {
        move: tuple(_names(move, heard.lexicon))
        for move in dict.fromkeys(row.move for row in heard.plan.rows)
    }
    known = _known(heard.lexicon)
    taken: set[int] = set()
    found: list[Renamed] = []
    marks = [one for one in heard.marks if one.kind == KIND and one.value == PLANNED]
    for mark in sorted(marks, key=lambda one: (-one.weight, one.first - one.last)):
        why = _why(mark, heard)
        reading = _read(mark, heard.talk.words, names.get(mark.ref, ()), known) if why else None
        if reading is None or taken & {*range(mark.first, mark.last + 1)}:
            continue
        taken.update(range(mark.first, mark.last + 1))
        found += [_renamed(*pair, heard.talk.words, mark, why) for pair in reading.differing]
    return tuple(sorted(found, key=lambda one: one.first))


def put_right(words: Sequence[Word], renamed: Sequence[Renamed]) -> list[str]:
    """Give the text of every word as put right; of words that became one the later are empty."""
    texts = [word.text for word in words]
    for one in renamed:
        texts[one.first : one.last + 1] = [one.meant, *[""] * (one.last - one.first)]
    return texts


@once_for(4)
def _known(lexicon: Lexicon) -> _Known:
    phrases = (line.phrase for lines in lexicon.lists.values() for line in lines)
    return _Known(
        make_movebook(lexicon),
        frozenset(stem(line.phrase) for line in lexicon.lists.get(CONTEXT_LIST, ())),
        Counter(word for phrase in phrases for word in phrase.split()),
    )


def _names(move: str, lexicon: Lexicon) -> Iterator[tuple[_NamePart, ...]]:
    known = known_move(move, lexicon)
    for name in dict.fromkeys((move, *((known.name, *known.aliases) if known else ()))):
        parts = tuple(part for word in name.split() for part in _parts(word))
        if parts:
            yield parts


def _parts(word: str) -> Iterator[_NamePart]:
    """Part a word of a name as talk is parted, each part as it is written."""
    bare = re.sub(r"^[^\w]+|[^\w]+$", "", word)
    folded = [part for part, _ in fold_words([bare.lower()], stem)]
    written = [piece for piece in _JOINT.split(bare) if piece]
    if len(written) != len(folded):
        written = folded
    yield from map(_NamePart, folded, written)


def _read(
    mark: Mark, words: Sequence[Word], names: Sequence[tuple[_NamePart, ...]], known: _Known
) -> _Reading | None:
    """Find what was said by the name most like it; None where the words are one as they are.

    Where two names are as like and say different things, neither is taken.
    """
    heard = [
        (part, mark.first + at)
        for part, at in fold_words([one.norm for one in words[mark.first : mark.last + 1]], stem)
    ]
    readings = [
        reading
        for name in names
        for length in (len(heard), len(heard) - 1)
        for start in range(len(name) - length + 1)
        if length and (reading := _compare(heard, name[start : start + length], known))
    ]
    if not readings or any(not one.differing for one in readings):
        return None
    forms = {part.folded for name in names for part in name}
    if any(_is_form(part.folded, forms) for one in readings for part, _ in one.differing):
        return None
    best = max(one.likeness for one in readings)
    (first, *others) = [one for one in readings if one.likeness == best]
    return None if others and any(_said(one) != _said(first) for one in others) else first


def _is_form(word: str, names: Collection[str]) -> bool:
    """Tell whether a word is a longer or a shorter form of one in a name, and the coach's own.

    "Squatties" are no squats mis-heard.
    """
    return any(
        word.startswith(name) or (len(word) >= _LEAST_SHORTENED and name.startswith(word))
        for name in names
        if len(name) >= _LEAST_STEM
    )


def _said(reading: _Reading) -> list[tuple[int, str]]:
    return [(heard.first, meant.folded) for heard, meant in reading.differing]


def _compare(
    heard: Sequence[tuple[str, int]], name: Sequence[_NamePart], known: _Known
) -> _Reading | None:
    """Lay parts beside a name of as many, or of one less where a word was torn into two."""
    parts = [_HeardPart(part, at, at) for part, at in heard]
    if len(parts) == len(name):
        return _reading(parts, name, known)
    for place, meant in enumerate(name):
        one, other = parts[place : place + 2]
        is_rare = not (known.is_usual(one.folded) and known.is_usual(other.folded))
        is_torn = is_rare and _is_torn(one.folded, other.folded, meant.folded)
        if one.first != other.first and is_torn:
            torn = _HeardPart(f"{one.folded} {other.folded}", one.first, other.last)
            return _reading([*parts[:place], torn, *parts[place + 2 :]], name, known)
    return None


def _is_torn(one: str, other: str, meant: str) -> bool:
    """Tell whether two words may be one long one, and neither that one nor a way to spell it."""
    return (
        len(meant) >= _LEAST_TORN_LETTERS
        and meant not in (one, other, f"{one}{other}".replace("'", ""))
        and similarity(f"{one} {other}", meant) >= SURE
    )


def _reading(
    parts: Sequence[_HeardPart], name: Sequence[_NamePart], known: _Known
) -> _Reading | None:
    pairs = list(zip(parts, name, strict=True))
    differing = tuple(pair for pair in pairs if pair[0].folded != pair[1].folded)
    if not all(_is_misheard(part.folded, meant.folded, known) for part, meant in differing):
        return None
    likeness = [similarity(part.folded, meant.folded) for part, meant in pairs]
    return _Reading(sum(likeness) / len(likeness), differing)


def _is_misheard(heard: str, meant: str, known: _Known) -> bool:
    """Tell whether a word may be another one mis-heard; those that names are made of are not."""
    role = known.book.role
    if heard in known.book.rarity or heard in known.around or role(heard) or role(meant) in EXACT:
        return False
    is_common = all(map(known.is_usual, heard.split()))
    return similarity(heard, meant) >= (_LEAST_LIKE_COMMON if is_common else _LEAST_LIKE)


def _renamed(
    part: _HeardPart, meant: _NamePart, words: Sequence[Word], mark: Mark, why: str
) -> Renamed:
    first, last = words[part.first], words[part.last]
    heard = " ".join(word.text for word in words[part.first : part.last + 1])
    said = meant.written if first.text[:1].isupper() else meant.written.lower()
    if first.text[:1].isupper():
        said = said[:1].upper() + said[1:]
    # Talk of several keeps its plural: "blanks" were planks.
    if last.norm.endswith("s") and stem(last.norm) != last.norm and not said.endswith("s"):
        said += "s"
    before = re.match(r"[^\w]*", first.text)
    after = re.search(r"[^\w]*$", last.text)
    text = f"{before[0] if before else ''}{said}{after[0] if after else ''}"
    reason = f"sounds like {quote(said)}, and {why}"
    return Renamed(part.first, part.last, first.start_ms, heard, text, mark.ref, reason)


def _why(mark: Mark, heard: HeardClass) -> str:
    """Say what speaks for a name here; empty where too little does."""
    if mark.weight < LEAST_WEIGHT:
        return ""
    for interval in done_intervals(heard):
        if mark.ref != interval.move or not _is_near(mark, interval):
            continue
        if start_ms(interval) <= mark.start_ms:
            return f"{quote(mark.ref)} was being done from {format_clock(start_ms(interval))}"
        return f"{quote(mark.ref)} began at {format_clock(start_ms(interval))}"
    return f"{quote(mark.ref)} is in the plan" if mark.weight >= SURE_WEIGHT else ""


def _is_near(mark: Mark, interval: Interval) -> bool:
    return start_ms(interval) - NEAR_MS <= mark.start_ms < end_ms(interval)
