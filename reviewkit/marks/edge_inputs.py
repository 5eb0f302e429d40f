"""What the network of edges is given: a row of numbers for every word, one for every place.

Times enter as logarithms, because a tenth of a second tells as much among short pauses as
a second does among long ones. Everything stays within a few units of zero.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from reviewkit.marks.edge_features import Place, TalkFacts, ends_sentence

Floats = NDArray[np.float32]
Times = NDArray[np.int64]

WORD_FACTS = (
    "silence before", "silence after", "since the word before", "lasts", "pause before",
    "pause after", "number", "value", "counted down", "counted up", "counted to one",
    "words since pause", "words until pause", "written with stops", "ends a sentence",
    "in captions", "in blocks", "in a planned name", "in a planned point",
)  # fmt: skip
PLACE_FACTS = (
    "at a word", "at a word's end", "in silence", "silence before", "silence after",
    "since a count to one", "right after a count to one", "claim due", "claim near",
    "words 4 s before", "words 4 s after", "words 10 s before", "words 10 s after",
    "words 25 s before", "words 25 s after", "numbers 4 s before", "numbers 4 s after",
    "numbers 10 s before", "numbers 10 s after", "numbers 25 s before",
    "numbers 25 s after", "in captions", "in blocks",
)  # fmt: skip
KINDS = "WES"

# The talk before the first word and after the last counts as a silence this long.
_ENDLESS_MS = 20_000
_PAUSE_MS = 150
_LONGEST_RUN = 10
_WINDOWS_S = (4, 10, 25)
_MOST_IN_WINDOW = 60
# A claim of seconds left tells of an edge within this many seconds of when it falls due.
_CLAIM_REACH_S = 6.0


def word_facts(facts: TalkFacts) -> Floats:
    """Give each word's facts, shape (words, ``WORD_FACTS``)."""
    starts, ends, _ = _times(facts)
    if not len(starts):
        return np.zeros((0, len(WORD_FACTS)), dtype=np.float32)
    gaps = np.concatenate([[_ENDLESS_MS], starts[1:] - ends[:-1], [_ENDLESS_MS]])
    values = np.array([-1 if value is None else value for value in facts.values])
    down, up = np.array(facts.down), np.array(facts.up)
    ones = np.ones(len(starts))
    return _columns(
        _log(gaps[:-1]),
        _log(gaps[1:]),
        _log(np.concatenate([[_ENDLESS_MS], np.diff(starts)])),
        _log(ends - starts),
        gaps[:-1] >= _PAUSE_MS,
        gaps[1:] >= _PAUSE_MS,
        values >= 0,
        np.clip(values, 0, 20) / 10,
        np.minimum(down, 6) / 3,
        np.minimum(up, 6) / 3,
        _counted_to_one(facts),
        np.minimum(facts.line_left, _LONGEST_RUN) / 5,
        np.minimum(facts.line_right, _LONGEST_RUN) / 5,
        facts.has_stops * ones,
        [ends_sentence(word) for word in facts.words],
        (facts.clock == "c") * ones,
        (facts.clock == "b") * ones,
        facts.named,
        facts.asked,
    )


def place_facts(facts: TalkFacts, places: Sequence[Place]) -> Floats:
    """Give each place's facts, shape (places, ``PLACE_FACTS``)."""
    starts, ends, numbers = _times(facts)
    at = np.array([place.at_ms for place in places], dtype=np.int64)
    word = np.array([place.word for place in places], dtype=np.int64)
    kind = np.array([KINDS.index(place.kind) for place in places], dtype=np.int64)
    before = at - np.concatenate([at[:1] - _ENDLESS_MS, ends])[word]
    after = np.concatenate([starts, [0]])[word] - at
    after[word == len(starts)] = _ENDLESS_MS
    since = _since_count(starts[np.flatnonzero(_counted_to_one(facts))], at)
    due = _nearest_due(facts, ends, at)
    is_near = np.abs(due) < _CLAIM_REACH_S
    ones = np.ones(len(at))
    return _columns(
        *(kind == number for number in range(len(KINDS))),
        _log(before),
        _log(after),
        np.exp(-since / 3),
        (since >= 0.5) & (since < 3),
        np.where(is_near, due / 3, 0),
        is_near,
        *_busy(starts, at),
        *_busy(numbers, at),
        (facts.clock == "c") * ones,
        (facts.clock == "b") * ones,
    )


def _columns(*columns: object) -> Floats:
    return np.stack([np.asarray(column, dtype=np.float32) for column in columns], axis=1)


def _times(facts: TalkFacts) -> tuple[Times, Times, Times]:
    """Give when words start and end, and when numbers start, in milliseconds."""
    return (
        np.array(facts.starts_ms, dtype=np.int64),
        np.array([word.end_ms for word in facts.words], dtype=np.int64),
        np.array(facts.number_starts_ms, dtype=np.int64),
    )


def _log(length_ms: Times) -> NDArray[np.float64]:
    logs: NDArray[np.float64] = np.log1p(np.maximum(length_ms, 0) / 200) / 3
    return logs


def _counted_to_one(facts: TalkFacts) -> NDArray[np.bool_]:
    counted = np.zeros(len(facts.words), dtype=np.bool_)
    counted[list(facts.counted_down)] = True
    return counted


def _since_count(counted: Times, at: Times) -> NDArray[np.float64]:
    """Give how many seconds ago the last count came down to one; endless where none did."""
    shown = np.concatenate([[-10 * _ENDLESS_MS], counted])
    since: NDArray[np.float64] = (at - shown[np.searchsorted(counted, at, side="right")]) / 1000
    return since


def _nearest_due(facts: TalkFacts, ends: Times, at: Times) -> NDArray[np.float64]:
    """Give how many seconds after the nearest end of a claim of seconds left each place is."""
    nearest = np.full(len(at), 1.5 * _CLAIM_REACH_S)
    for word, claimed_s in facts.claims:
        off = (at - ends[word]) / 1000 - claimed_s
        is_nearer = (off > -claimed_s) & (np.abs(off) < np.abs(nearest))
        nearest[is_nearer] = off[is_nearer]
    return nearest


def _busy(starts: Times, at: Times) -> list[NDArray[np.float64]]:
    """Give how much starts in windows before and after each place, as shares of much."""
    here = np.searchsorted(starts, at)
    found: list[NDArray[np.float64]] = []
    for window_s in _WINDOWS_S:
        before = here - np.searchsorted(starts, at - 1000 * window_s)
        after = np.searchsorted(starts, at + 1000 * window_s) - here
        found += [
            np.minimum(count, _MOST_IN_WINDOW) / (1.5 * window_s) for count in (before, after)
        ]
    return found
