"""Labelled classes as a network of edges is given them: every word, every possible edge.

A class is heard as its transcript forms have it, mis-hearings and coarse clocks included,
and the truth is carried over from the exact words: an edge at a word goes to what was
heard in that word's place, an edge in a silence to the nearest moment of that silence.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache

import numpy as np
import numpy.typing as npt

from reviewkit.evaluate import LabelledClass
from reviewkit.language.tokens import norm
from reviewkit.marks.edge_features import Place, gather_facts, list_places
from reviewkit.marks.edge_inputs import Floats, place_facts, word_facts
from reviewkit.marks.edge_net import OUTPUTS
from reviewkit.model import Clock, Lexicon, Phrase, Talk, Transcript, Weights
from reviewkit.read import read_lexicon
from reviewkit.read.transcript import parse_transcript
from reviewkit.words import PAUSE_WEIGHTS, split_words
from tests.forms import ANY_FORM, render

Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]

# In these forms classes are heard as if nobody had given a plan, as that happens too.
PLANLESS = ("any captions", "any blocks")
# An edge this near to a word's start is at the word.
AT_WORD_MS = 150
# A word that starts this little before an edge is said after it.
EARLY_MS = 50
# In a silence an edge goes rather to a word's start or end than between them.
_KIND_MS = {"W": 0, "E": 120, "S": 200}


@dataclass(frozen=True, slots=True, eq=False)
class Sheet:
    """A class in one form as the network is given it, and the truth.

    ``at`` is the word after each place; ``edges`` (places, 2) and ``work`` (words,) are 0
    or 1.
    """

    name: str
    form: str
    clock: Clock
    tokens: tuple[str, ...]
    classes: tuple[str, ...]
    word_facts: Floats
    at: Ints
    place_facts: Floats
    edges: Floats
    work: Floats


def gather_sheets(
    classes: Sequence[LabelledClass], forms: Sequence[str], lexicon: Lexicon
) -> tuple[Sheet, ...]:
    """Hear every class in every form and lay what is heard beside the truth."""
    kept = lexicon.lists["word_classes"]
    return tuple(_sheet(labelled, form, kept) for form in forms for labelled in classes)


def hear(labelled: LabelledClass, form: str) -> Talk:
    """Give a class's talk as read from one of its forms."""
    return split_words(read_form(labelled, form), _fitted_pauses())


def read_form(labelled: LabelledClass, form: str) -> Transcript:
    """Give a class as a transcript in one of its forms."""
    text = render(labelled, form).encode()
    return parse_transcript(ANY_FORM[form].file_name, text)


@cache
def _fitted_pauses() -> Weights | None:
    return read_lexicon().weights.get(PAUSE_WEIGHTS)


def _sheet(labelled: LabelledClass, form: str, word_classes: Sequence[Phrase]) -> Sheet:
    talk = hear(labelled, form)
    facts = gather_facts(talk, word_classes, None if form in PLANLESS else labelled.plan)
    places = list_places(talk)
    heard_as = match_words(labelled, talk)
    edges = np.zeros((len(places), len(OUTPUTS)), dtype=np.float32)
    starts = [one.start_ms for one in labelled.intervals]
    ends = [one.end_ms for one in labelled.intervals]
    for output, edges_ms in enumerate((starts, ends)):
        edges[find_places(labelled, talk, places, heard_as, edges_ms), output] = 1
    return Sheet(
        labelled.name,
        form,
        talk.clock,
        facts.tokens,
        facts.classes,
        word_facts(facts),
        np.array([place.word for place in places], dtype=np.int64),
        place_facts(facts, places),
        edges,
        find_work(labelled, len(talk.words), heard_as).astype(np.float32),
    )


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
