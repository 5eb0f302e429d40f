"""Hear a coach give a planned move away: "change of plan", "I was going to do the ..."."""

from __future__ import annotations

from reviewkit.marks.wording import as_spoken, compile_wordings, find_wordings
from reviewkit.model import Lexicon, Mark, Talk

KIND = "swap_call"
LIST = "swaps"
# How much a wording of each label says that a move was given away.
_WEIGHTS = {"swap": 1.0, "plan": 1.0, "maybe": 0.4}


def find_swap_calls(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark every wording that gives a move away; ``weight`` is how plainly it does."""
    spoken = as_spoken([word.norm for word in talk.words])
    by_label: dict[str, list[str]] = {}
    for line in lexicon.lists.get(LIST, ()):
        by_label.setdefault(line.label, []).append(line.phrase)
    marks = []
    for label, phrases in by_label.items():
        for hit in find_wordings(spoken, compile_wordings(phrases)):
            start, end = talk.words[hit.first].start_ms, talk.words[hit.last].end_ms
            weight = _WEIGHTS.get(label, 0.5)
            marks.append(
                Mark(KIND, hit.first, hit.last, start, end, hit.text, label, weight=weight)
            )
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.ref)))
