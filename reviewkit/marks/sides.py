"""Hear the calls that change sides inside an interval, and those that keep the side."""

from __future__ import annotations

from reviewkit.language.lines import split_lines
from reviewkit.marks.wording import as_spoken, compile_list, find_wordings
from reviewkit.model import Lexicon, Mark, Talk

LIST = "sides"
KINDS = {"switch": "side_switch", "same": "side_same"}


def find_side_calls(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark each line with a call to change sides (``side_switch``) or not to (``side_same``)."""
    patterns = compile_list(lexicon.lists.get(LIST, ()), {word.norm for word in talk.words})
    marks = []
    for spoken_line in split_lines(talk):
        words = talk.words[spoken_line.first : spoken_line.last + 1]
        spoken = as_spoken([word.norm for word in words])
        for label, kind in KINDS.items():
            hits = find_wordings(spoken, patterns.get(label))
            if not hits:
                continue
            first, last = spoken_line.first + hits[0].first, spoken_line.first + hits[0].last
            start, end = talk.words[first].start_ms, talk.words[last].end_ms
            marks.append(Mark(kind, first, last, start, end, spoken_line.text, label))
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.kind)))
