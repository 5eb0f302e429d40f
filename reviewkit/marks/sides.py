"""Hear the calls that change sides inside an interval, and those that keep the side."""

from __future__ import annotations

from reviewkit.language.lines import split_lines
from reviewkit.marks.wording import find_wordings, index_wordings
from reviewkit.model import Lexicon, Mark, Talk

LIST = "sides"
KINDS = {"switch": "side_switch", "same": "side_same"}


def find_side_calls(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark each line with a call to change sides (``side_switch``) or not to (``side_same``)."""
    wordings = index_wordings(lexicon.lists.get(LIST, ()))
    marks = []
    for line in split_lines(talk):
        words = talk.words[line.first : line.last + 1]
        for label, hits in find_wordings([word.norm for word in words], wordings).items():
            if label not in KINDS:
                continue
            first, last = line.first + hits[0].first, line.first + hits[0].last
            start, end = talk.words[first].start_ms, talk.words[last].end_ms
            marks.append(Mark(KINDS[label], first, last, start, end, line.text, label))
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.kind)))
