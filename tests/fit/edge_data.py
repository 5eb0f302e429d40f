"""Labelled classes as rows of named features: every moment that may be an edge, every word.

A class is heard as its transcript forms have it, mis-hearings and coarse clocks included,
and the truth is carried over from the exact words: an edge at a word goes to what was
heard in that word's place, an edge in a silence to the nearest moment of that silence.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

import numpy as np
import numpy.typing as npt
from scipy import sparse

from reviewkit.evaluate import LabelledClass
from reviewkit.language.tokens import norm
from reviewkit.marks.edge_columns import features_at, work_features
from reviewkit.marks.edge_features import Place, TalkFacts, gather_facts, list_places
from reviewkit.model import Lexicon, Phrase, Talk
from reviewkit.read.transcript import parse_transcript
from reviewkit.words import split_words
from tests.forms import FORMS, render

Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]

# An edge this near to a word's start is at the word.
AT_WORD_MS = 150
# A word that starts this little before an edge is said after it.
EARLY_MS = 50
# In a silence an edge goes rather to a word's start or end than between them.
_KIND_MS = {"W": 0, "E": 120, "S": 200}


class Names:
    """Numbers given to names, in the order in which they first come up."""

    def __init__(self) -> None:
        self.numbers: dict[str, int] = {}

    def number(self, name: str) -> int:
        """Give a name's number, a new one if it has none."""
        return self.numbers.setdefault(name, len(self.numbers))

    def listed(self) -> list[str]:
        """List all names by number."""
        return list(self.numbers)


@dataclass(frozen=True, slots=True)
class Rows:
    """Sets of feature numbers: row ``n`` holds ``features[bounds[n]:bounds[n + 1]]``."""

    features: npt.NDArray[np.int32]
    bounds: Ints


@dataclass(frozen=True, slots=True)
class Sheet:
    """A class in one form: a row and the truth for each place and for each word."""

    name: str
    form: str
    places: Rows
    words: Rows
    is_start: Flags
    is_end: Flags
    is_work: Flags


@dataclass(frozen=True, slots=True)
class Sheets:
    """All classes in all their forms, and what their features are called."""

    sheets: tuple[Sheet, ...]
    place_names: tuple[str, ...]
    word_names: tuple[str, ...]


def gather_sheets(
    classes: Sequence[LabelledClass], forms: Sequence[str], lexicon: Lexicon
) -> Sheets:
    """Hear every class in every form and lay its features beside the truth."""
    place_names, word_names = Names(), Names()
    kept = lexicon.lists["word_classes"]
    sheets = tuple(
        _sheet(labelled, form, kept, place_names, word_names)
        for labelled in classes
        for form in forms
    )
    return Sheets(sheets, tuple(place_names.listed()), tuple(word_names.listed()))


def hear(labelled: LabelledClass, form: str) -> Talk:
    """Give a class's talk as read from one of its forms."""
    text = render(labelled, form).encode()
    return split_words(parse_transcript(FORMS[form].file_name, text))


def _sheet(
    labelled: LabelledClass,
    form: str,
    word_classes: Sequence[Phrase],
    place_names: Names,
    word_names: Names,
) -> Sheet:
    talk = hear(labelled, form)
    facts: TalkFacts = gather_facts(talk, word_classes)
    places = list_places(talk)
    heard_as = match_words(labelled, talk)
    starts = [one.start_ms for one in labelled.intervals]
    ends = [one.end_ms for one in labelled.intervals]
    return Sheet(
        labelled.name,
        form,
        _rows(features_at(facts, places), place_names),
        _rows(work_features(facts), word_names),
        _flag(len(places), find_places(labelled, talk, places, heard_as, starts)),
        _flag(len(places), find_places(labelled, talk, places, heard_as, ends)),
        find_work(labelled, len(talk.words), heard_as),
    )


def _rows(found: Iterable[Iterable[str]], names: Names) -> Rows:
    features, bounds = array("i"), array("q", [0])
    for row in found:
        features.extend(sorted({names.number(name) for name in row}))
        bounds.append(len(features))
    return Rows(np.array(features, dtype=np.int32), np.array(bounds, dtype=np.int64))


def _flag(length: int, at: Iterable[int]) -> Flags:
    flags = np.zeros(length, dtype=np.bool_)
    flags[list(at)] = True
    return flags


def stack(rows: Sequence[Rows], width: int) -> sparse.csr_matrix:
    """Put rows under one another, as a matrix of ones with ``width`` columns."""
    features = np.concatenate([one.features for one in rows])
    lengths = np.concatenate([np.diff(one.bounds) for one in rows])
    bounds = np.concatenate([[0], np.cumsum(lengths)]).astype(np.int32)
    ones = np.ones(len(features), dtype=np.float64)
    return sparse.csr_matrix((ones, features, bounds), shape=(len(lengths), width))


# --- the truth, carried over to what was heard ---------------------------------------------


def match_words(labelled: LabelledClass, talk: Talk) -> Ints:
    """Give for each exact word the position of what was heard in its place.

    A word that was not heard has the position of the next one heard, which for the last
    words may be the number of words heard. Positions never fall.
    """
    exact = [norm(word.text) for word in labelled.words]
    heard = [word.norm for word in talk.words]
    positions = np.zeros(len(exact), dtype=np.int64)
    matcher = SequenceMatcher(None, exact, heard, autojunk=False)
    for _, from_exact, to_exact, from_heard, to_heard in matcher.get_opcodes():
        count = to_exact - from_exact
        steps = np.arange(count) * (to_heard - from_heard) // max(1, count)
        positions[from_exact:to_exact] = from_heard + steps
    return positions


def find_places(
    labelled: LabelledClass,
    talk: Talk,
    places: Sequence[Place],
    heard_as: Ints,
    edges_ms: Iterable[int],
) -> list[int]:
    """Give for each edge the position of its place."""
    starts = np.array([word.start_ms for word in labelled.words])
    at_ms = np.array([place.at_ms for place in places])
    kinds_ms = np.array([_KIND_MS[place.kind] for place in places])
    of_word = {place.word: at for at, place in enumerate(places) if place.kind == "W"}

    def find(edge_ms: int) -> int:
        is_silent = np.abs(starts - edge_ms).min() > AT_WORD_MS
        if is_silent and talk.clock != "blocks":
            return int(np.argmin(np.abs(at_ms - edge_ms) + kinds_ms))
        exact = int(np.searchsorted(starts, edge_ms - AT_WORD_MS))
        if exact == len(starts):
            return len(places) - 1
        return of_word.get(int(heard_as[exact]), len(places) - 1)

    return [find(edge_ms) for edge_ms in edges_ms]


def find_work(labelled: LabelledClass, heard: int, heard_as: Ints) -> Flags:
    """Tell which words heard were said during an interval."""
    starts = np.array([word.start_ms for word in labelled.words]) + EARLY_MS
    inside = np.zeros(len(starts), dtype=np.bool_)
    for one in labelled.intervals:
        inside |= (one.start_ms <= starts) & (starts < one.end_ms)
    exact = np.searchsorted(heard_as, np.arange(heard), side="right") - 1
    found: Flags = inside[np.maximum(exact, 0)]
    return found
