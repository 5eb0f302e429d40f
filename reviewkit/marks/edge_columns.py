"""Name what can be seen around every moment that may be an edge, and at every word.

Each fact is a named feature; a fitted linear model weighs them. The names are short
because there are many: ``R1go`` says that the first word to the right is "go", ``L`` is
left, ``c`` a word's class, ``k`` the kind of moment. All moments of a talk are looked at
together, as columns of one thing seen each.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest

import numpy as np
from numpy.typing import NDArray

from reviewkit.marks.edge_features import BUCKETS_MS, Place, TalkFacts, bucket, ends_sentence
from reviewkit.model import Weights

Indexes = NDArray[np.intp]
Floats = NDArray[np.float64]

BIAS = "bias"
KINDS = "WES"
_NOT_SEEN = -1
_OUTSIDE = "$"
_NO_CLASS = ""
# The talk before the first and after the last word counts as a silence this long.
_ENDLESS_MS = 20_000
_LONGEST_RUN = 7
_MOST_STEPS = 9


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """One thing seen: ``names`` of what it may be, and which of them it is at each place.

    ``at`` is -1 where nothing is seen.
    """

    names: Sequence[str]
    at: Indexes


def features_at(facts: TalkFacts, places: Sequence[Place]) -> list[list[str]]:
    """Name everything seen around each place."""
    found: list[list[str]] = [[] for _ in places]
    for own, columns in _by_kind(facts, places):
        for place, names in zip(own.tolist(), names_of(columns, len(own)), strict=True):
            found[place] = names
    return found


def weigh_places(facts: TalkFacts, places: Sequence[Place], weights: Weights) -> Floats:
    """Add up the weights of everything seen around each place: places by outputs."""
    sums = np.zeros((len(places), len(weights.outputs)))
    for own, columns in _by_kind(facts, places):
        sums[own] = _sums_of(columns, len(own), weights)
    return sums


def work_features(facts: TalkFacts) -> list[list[str]]:
    """Name what says of each word whether it is talk during work or between intervals."""
    return names_of(_work_columns(facts), len(facts.words))


def weigh_words(facts: TalkFacts, weights: Weights) -> Floats:
    """Add up the weights of what is seen at each word: words by outputs."""
    return _sums_of(_work_columns(facts), len(facts.words), weights)


def names_of(columns: Iterable[Column], count: int) -> list[list[str]]:
    """Give the names of what columns see at each of so many places."""
    found: list[list[str]] = [[] for _ in range(count)]
    for column in columns:
        for names, at in zip(found, column.at.tolist(), strict=True):
            if at != _NOT_SEEN:
                names.append(column.names[at])
    return found


def _sums_of(columns: Iterable[Column], count: int, weights: Weights) -> Floats:
    nothing = (0.0,) * len(weights.outputs)
    sums = np.tile(np.array(weights.rows.get(BIAS, nothing)), (count, 1))
    names: Sequence[str] = ()
    table = np.zeros((0, len(nothing)))
    for column in columns:
        # What is seen at several distances has the same names at each of them.
        if column.names is not names:
            names = column.names
            table = np.array([*(weights.rows.get(name, nothing) for name in names), nothing])
        sums += table[column.at]
    return sums


def _by_kind(
    facts: TalkFacts, places: Sequence[Place]
) -> Iterator[tuple[Indexes, Iterator[Column]]]:
    """Look at the places of each kind: their numbers, and what is seen at them."""
    for kind in KINDS:
        own = [number for number, place in enumerate(places) if place.kind == kind]
        if own:
            yield np.array(own), _place_columns(facts, kind, [places[one] for one in own])


def _place_columns(facts: TalkFacts, kind: str, places: Sequence[Place]) -> Iterator[Column]:
    said = _Said(facts, np.array([place.word for place in places], dtype=np.intp))
    at_ms = np.array([place.at_ms for place in places], dtype=np.intp)
    yield from _silence_columns(facts, kind, said.words, at_ms)
    yield from _word_columns(facts, said) if kind == "W" else _silent_columns(kind, said)
    yield from said.each("LB", said.tokens, range(-10, -3))
    yield from said.each("LC", said.classes, range(-8, -2))
    yield from _listed([_number_features(facts, place) for place in places])
    yield from _pace_columns(facts, at_ms)


def _work_columns(facts: TalkFacts) -> Iterator[Column]:
    said = _Said(facts, np.arange(len(facts.words)))
    yield said.together("0", said.tokens, 0)
    yield said.together("-", said.tokens, -1, 0)
    yield said.together("0c", said.classes, 0)
    yield from (said.together("a", said.tokens, by) for by in range(-6, 0))
    yield from (said.together("b", said.tokens, by) for by in range(1, 7))
    yield from said.each("c", said.classes, (*range(-6, 0), *range(1, 7)), again=True)


# --- words around --------------------------------------------------------------------


@dataclass(frozen=True, slots=True, eq=False)
class _Values:
    """A talk's words as numbers of the different values they have; 0 stands for none."""

    names: tuple[str, ...]
    numbers: Indexes

    @classmethod
    def of(cls, values: Sequence[str], none: str) -> _Values:
        places = {none: 0}
        numbers = [places.setdefault(value, len(places)) for value in values]
        return cls(tuple(places), np.array(numbers, dtype=np.intp))

    def at(self, words: Indexes) -> Indexes:
        """Give the numbers of words, which may lie outside the talk."""
        inside = (words >= 0) & (words < len(self.numbers))
        found = np.zeros(len(words), dtype=np.intp)
        found[inside] = self.numbers[words[inside]]
        return found


class _Said:
    """What is said around some words, by how far from each of them."""

    def __init__(self, facts: TalkFacts, words: Indexes) -> None:
        self.words = words
        self.tokens = _Values.of(facts.tokens, _OUTSIDE)
        self.classes = _Values.of(facts.classes, _NO_CLASS)

    def together(self, name: str, values: _Values, *offsets: int) -> Column:
        """See the values at some distances as one thing."""
        first, *others = (values.at(self.words + by) for by in offsets)
        if not others:
            return Column([name + value for value in values.names], first)
        width, code = len(values.names), first
        for other in others:
            code = code * width + other
        codes, at = np.unique(code, return_inverse=True)
        numbers = [codes // width**nth % width for nth in range(len(others), -1, -1)]
        rows = zip(*(of.tolist() for of in numbers), strict=True)
        return Column([name + " ".join(values.names[one] for one in row) for row in rows], at)

    def each(
        self, name: str, values: _Values, offsets: Iterable[int], *, again: bool = False
    ) -> Iterator[Column]:
        """See every value at some distances, one that comes up again only if asked to."""
        names, seen = [name + value for value in values.names], list[Indexes]()
        for by in offsets:
            found = values.at(self.words + by)
            is_none = found == 0
            for other in () if again else seen:
                is_none |= found == other
            seen.append(found)
            yield Column(names, np.where(is_none, _NOT_SEEN, found))


def _word_columns(facts: TalkFacts, said: _Said) -> Iterator[Column]:
    tokens, classes = said.tokens, said.classes
    for nth in range(3):
        yield said.together(f"R{nth + 1}", tokens, nth)
        yield said.together(f"L{nth + 1}", tokens, -nth - 1)
    yield said.together("RP", tokens, 0, 1)
    yield said.together("RQ", tokens, 1, 2)
    yield said.together("LP", tokens, -2, -1)
    yield said.together("LR", tokens, -1, 0)
    yield said.together("RT", tokens, 0, 1, 2)
    yield said.together("Rc1", classes, 0)
    yield said.together("Lc1", classes, -1)
    yield said.together("Rc2", classes, 1)
    yield from _line_columns(facts, said.words)
    yield from said.each("RB", tokens, range(3, 8))
    yield from said.each("RC", classes, range(2, 8))


def _line_columns(facts: TalkFacts, words: Indexes) -> Iterator[Column]:
    """Say where in its line a word is, and whether a sentence ends before it."""
    left, right = (
        np.minimum(np.array(side, dtype=np.intp)[words], _LONGEST_RUN)
        for side in (facts.line_left, facts.line_right)
    )
    runs = range(_LONGEST_RUN + 1)
    yield Column([f"{facts.clock}ll{run}" for run in runs], left)
    yield Column([f"{facts.clock}lr{run}" for run in runs], np.where(left == 0, right, 0))
    if facts.has_stops:
        stops = np.array([True, *map(ends_sentence, facts.words)])
        yield Column(["st0", "st1"], stops[words].astype(np.intp))


def _silent_columns(kind: str, said: _Said) -> Iterator[Column]:
    tokens, classes = said.tokens, said.classes
    yield said.together(f"{kind}1", tokens, -1)
    yield said.together(f"{kind}2", tokens, -2)
    yield said.together(f"{kind}P", tokens, -2, -1)
    yield said.together("SR1", tokens, 0)
    yield said.together("SR2", tokens, 1)
    yield said.together("SRP", tokens, 0, 1)
    yield said.together(f"{kind}c1", classes, -1)
    yield said.together("Sc1", classes, 0)


def _silence_columns(
    facts: TalkFacts, kind: str, words: Indexes, at_ms: Indexes
) -> Iterator[Column]:
    """Say what kind of moment it is, and how much silence lies before and after it."""
    clock = facts.clock
    ends_ms = np.array([0, *(word.end_ms for word in facts.words)])
    starts_ms = np.array([*facts.starts_ms, 0])
    before = np.where(words > 0, at_ms - ends_ms[words], _ENDLESS_MS)
    after = np.where(words < len(facts.words), starts_ms[words] - at_ms, _ENDLESS_MS)
    yield Column([f"k{kind}{clock}"], np.zeros(len(words), dtype=np.intp))
    for side, silence in (("b", before), ("a", after)):
        names = [f"{clock}{kind}{side}{size}" for size in range(len(BUCKETS_MS) + 1)]
        yield Column(names, np.searchsorted(BUCKETS_MS, silence, side="right"))


# --- how busy the talk is ------------------------------------------------------------

# Seconds before and after a place, and words or numbers to a step.
_WORD_WINDOWS = ((4, 1), (10, 4), (25, 10))
_NUMBER_WINDOWS = ((5, 1), (12, 1), (30, 1))


def _pace_columns(facts: TalkFacts, at_ms: Indexes) -> Iterator[Column]:
    """Say how much talk (``d``), and how much counting (``n``), there is close by."""
    yield from _near("d", facts.starts_ms, at_ms, _WORD_WINDOWS)
    yield from _near("n", facts.number_starts_ms, at_ms, _NUMBER_WINDOWS)


def _near(
    name: str, starts_ms: Sequence[int], at_ms: Indexes, windows: Iterable[tuple[int, int]]
) -> Iterator[Column]:
    """Count, in steps, what starts in windows before and after each moment."""
    starts = np.array(starts_ms, dtype=np.intp)
    here = np.searchsorted(starts, at_ms)
    for window_s, step in windows:
        before = here - np.searchsorted(starts, at_ms - 1000 * window_s)
        after = np.searchsorted(starts, at_ms + 1000 * window_s) - here
        for side, count in (("l", before), ("r", after)):
            names = [f"{name}{side}{window_s} {steps}" for steps in range(_MOST_STEPS + 1)]
            yield Column(names, np.minimum(count // step, _MOST_STEPS))


# --- numbers -------------------------------------------------------------------------


def _listed(found: Sequence[Sequence[str]]) -> Iterator[Column]:
    """See what is listed for each place."""
    places: dict[str, int] = {}
    numbers = [[places.setdefault(name, len(places)) for name in names] for names in found]
    for nth in zip_longest(*numbers, fillvalue=_NOT_SEEN):
        yield Column(tuple(places), np.array(nth, dtype=np.intp))


def _number_features(facts: TalkFacts, place: Place) -> list[str]:
    """Say how counts and claims of seconds left bear on this place."""
    found: list[str] = []
    at = place.word
    last = facts.values[at - 1] if at else None
    if last is not None and place.kind != "S":
        since = bucket(place.at_ms - facts.words[at - 1].start_ms)
        found += [
            f"cd{min(facts.down[at - 1], 5)} {min(last, 3)}",
            f"cu{min(facts.up[at - 1], 4)}",
            f"cs{since}",
        ]
    following = facts.values[at] if at < len(facts.values) else None
    if following is not None:
        found.append(f"cn{min(following, 6)}")
    found += _count_done(facts, place)
    found += _claims_due(facts, place)
    return found


def _count_done(facts: TalkFacts, place: Place) -> list[str]:
    """Say how long ago, in steps of two seconds, the last count came down to one."""
    nth = bisect_left(facts.counted_down, place.word)
    if not nth:
        return []
    since = place.at_ms - facts.words[facts.counted_down[nth - 1]].start_ms
    return [f"cc{since // 2000}"] if since < 14_000 else []


def _claims_due(facts: TalkFacts, place: Place) -> list[str]:
    """Say how far off the place is from the end of each "ten seconds" said before it."""
    found: list[str] = []
    for nth in range(bisect_left(facts.claims, (place.word,)) - 1, -1, -1):
        claim, claimed_s = facts.claims[nth]
        since = place.at_ms - facts.words[claim].end_ms
        if since >= 35_000:
            break
        off = since / 1000 - claimed_s
        if -3 < off < 3:
            found.append(f"cl{min(claimed_s, 15)} {int(off // 1)}")
    return found
