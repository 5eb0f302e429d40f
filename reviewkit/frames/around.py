"""Measure what is said around an utterance: is a story told, is something said anew?

A window over "our second officer had arms like a crane, such ears that we could hang two
lanterns from them" may hold all words of "arms by the ears" and nothing of the story, so
the words beside it are looked at as well, up to a pause. The first time a point is given
takes many words, and later ones few ("heels heavy still").
"""

from __future__ import annotations

from collections.abc import Sequence
from math import log

import numpy as np
from numpy.typing import NDArray

from reviewkit.frames.utterances import Utterance
from reviewkit.language.lines import split_lines
from reviewkit.language.wordsets import word_set
from reviewkit.model import Talk

AROUND = ("length", "told", "again", "anew")

# Words on either side that belong to the same talk, unless a pause lies between.
_BESIDE_WORDS, _PAUSE_MS = 12, 1_200
_MOST = 4
_PAST = word_set(
    "was were had did said told asked went came took gave got fell ran saw knew thought kept made"
    " found brought bought taught caught met sat stood wore won lost broke spoke wrote drove rode"
    " grew threw blew flew drew swam sang rang began drank ate slept swept wept crept dug stuck"
    " struck shook woke chose froze stole tore swore hid slid spent sent lent paid sold laid led"
    " heard meant learned used couldn't wouldn't didn't wasn't weren't i'd he'd she'd they'd we'd"
)
_SUBJECTS = word_set("i he she we they who it nobody everybody somebody one")
_AGAIN = word_set("again still same already remember always more")
_ANEW = word_set(
    "now this never forgot forgotten forget omitted missed new should've meant first watching"
)


def look_around(utterances: Sequence[Utterance], talk: Talk) -> NDArray[np.float64]:
    """Look at the talk around each utterance.

    Returns:
        A row for each, columns as in ``AROUND``: the logarithm of the length, in words, of
        the line that its middle lies in; past verbs in it and beside it; and its words of
        something said again, and for the first time. Counts are capped at 4.
    """
    lengths = _line_lengths(talk)
    past = np.cumsum([0, *_past_verbs(talk)])
    starts = _stretch_starts(talk)
    rows = np.zeros((len(utterances), len(AROUND)))
    for row, one in enumerate(utterances):
        first, last = one.line.first, one.line.last
        begin = max(first - _BESIDE_WORDS, starts[first])
        after = range(last + 1, min(last + 1 + _BESIDE_WORDS, len(talk.words)))
        end = next((at for at in after if starts[at] == at), after.stop)
        rows[row] = (
            lengths[(first + last) // 2],
            min(_MOST, past[end] - past[begin]),
            min(_MOST, sum(word in _AGAIN for word in one.words)),
            min(_MOST, sum(word in _ANEW for word in one.words)),
        )
    return rows


def _line_lengths(talk: Talk) -> list[float]:
    """Give for each word the logarithm of how many words its line has."""
    return [
        log(line.last + 1 - line.first)
        for line in split_lines(talk)
        for _ in range(line.first, line.last + 1)
    ]


def _past_verbs(talk: Talk) -> list[bool]:
    """Tell which words are verbs in the past: known ones, and "-ed" close after who did it."""
    words = [word.norm for word in talk.words]
    return [
        word in _PAST
        or (word.endswith("ed") and not _SUBJECTS.isdisjoint(words[max(0, at - 2) : at]))
        for at, word in enumerate(words)
    ]


def _stretch_starts(talk: Talk) -> list[int]:
    """Give for each word the first one of its stretch of talk without a pause."""
    starts: list[int] = []
    for at, word in enumerate(talk.words):
        is_first = at == 0 or word.start_ms - talk.words[at - 1].end_ms >= _PAUSE_MS
        starts.append(at if is_first else starts[-1])
    return starts
