"""The whole talk as a prompt script: lines with their times and what was heard in them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from reviewkit.model import Interval, Mark, Review, Word
from reviewkit.report.document import in_class_order
from reviewkit.report.heard import heard_marks

LINE_GAP_MS = 1_200
LINE_WORDS = 32


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of thing heard: its name for people and the letter that marks it."""

    kind: str
    letter: str
    name: str


# In order of weight: the first one heard in a word decides how it is underlined.
KINDS: tuple[Kind, ...] = (
    Kind("risky_talk", "!", "risky talk"),
    Kind("safety", "S", "safety"),
    Kind("form", "F", "form"),
    Kind("breathing", "B", "breathing"),
    Kind("option", "O", "easier or harder way"),
    Kind("time_call", "T", "time call"),
    Kind("promise", "P", "promise"),
    Kind("motivation", "E", "encouragement"),
    Kind("move", "M", "move named"),
)


@dataclass(frozen=True, slots=True)
class Stretch:
    """Words of a line in which the same kinds of things were heard, maybe none."""

    text: str
    kinds: tuple[Kind, ...]


@dataclass(frozen=True, slots=True)
class SpokenLine:
    """Words without a pause."""

    at_ms: int
    stretches: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True)
class Passage:
    """The talk of one interval, or that between two intervals."""

    interval: Interval | None
    number: int | None
    lines: tuple[SpokenLine, ...]


def script(review: Review) -> tuple[Passage, ...]:
    """Set out the whole talk in passages; every word appears exactly once, in order."""
    words = review.heard.talk.words
    kinds = _kinds_of_words(heard_marks(review), len(words))
    places = _places(review)
    passages = []
    starts = [start for start, _, _ in places]
    position = 0
    for at, (_, interval, number) in enumerate(places):
        until_ms = starts[at + 1] if at + 1 < len(starts) else None
        first = position
        while position < len(words) and (until_ms is None or words[position].start_ms < until_ms):
            position += 1
        lines = tuple(_lines(words, kinds, first, position))
        if lines or interval:
            passages.append(Passage(interval, number, lines))
    return tuple(passages)


def _places(review: Review) -> list[tuple[int, Interval | None, int | None]]:
    """Give the start of every passage, its interval and number; talk before comes first."""
    places: list[tuple[int, Interval | None, int | None]] = [(0, None, None)]
    for number, (interval, _) in enumerate(in_class_order(review), 1):
        if interval.start and interval.end:
            places.append((interval.start.at_ms, interval, number))
            places.append((interval.end.at_ms, None, None))
    # An interval may begin before the one before it ends: its own start counts.
    return [
        place
        for at, place in enumerate(places)
        if place[1] or not (at + 1 < len(places) and places[at + 1][0] <= place[0])
    ]


def _kinds_of_words(marks: Sequence[Mark], words: int) -> list[tuple[Kind, ...]]:
    heard: list[set[str]] = [set() for _ in range(words)]
    for mark in marks:
        for at in range(max(mark.first, 0), min(mark.last + 1, words)):
            heard[at].add(mark.kind)
    return [tuple(kind for kind in KINDS if kind.kind in found) for found in heard]


def _lines(
    words: Sequence[Word], kinds: Sequence[tuple[Kind, ...]], first: int, end: int
) -> Iterator[SpokenLine]:
    begun = first
    for at in range(first, end):
        is_last = at + 1 == end
        is_full = at + 1 - begun >= LINE_WORDS
        if is_last or is_full or words[at + 1].start_ms - words[at].end_ms >= LINE_GAP_MS:
            yield SpokenLine(words[begun].start_ms, _stretches(words, kinds, begun, at + 1))
            begun = at + 1


def _stretches(
    words: Sequence[Word], kinds: Sequence[tuple[Kind, ...]], first: int, end: int
) -> tuple[Stretch, ...]:
    runs = groupby(range(first, end), key=lambda at: kinds[at])
    return tuple(Stretch(" ".join(words[at].text for at in run), found) for found, run in runs)
