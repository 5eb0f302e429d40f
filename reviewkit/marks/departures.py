"""Hear a coach leave the plan: give a move away, or add one that nobody planned.

"Change of plan", "I was going to do the ..." give a move away (``swap_call``); "a bonus
one", "it's not on the list" add one (``extra_call``).
"""

from __future__ import annotations

from reviewkit.marks.wording import find_wordings, index_wordings
from reviewkit.model import Lexicon, Mark, Talk

# The word list that each kind of mark comes from.
LISTS = {"swap_call": "swaps", "extra_call": "extras"}
# How much a wording of each label says; wordings of other labels are plain.
_WEIGHTS = {"maybe": 0.4}


def find_departures(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark every wording that leaves the plan; ``weight`` is how plainly it does."""
    norms = [word.norm for word in talk.words]
    marks = []
    for kind, name in LISTS.items():
        wordings = index_wordings(lexicon.lists.get(name, ()))
        for label, hits in find_wordings(norms, wordings).items():
            for hit in hits:
                start, end = talk.words[hit.first].start_ms, talk.words[hit.last].end_ms
                weight = _WEIGHTS.get(label, 1.0)
                marks.append(
                    Mark(kind, hit.first, hit.last, start, end, hit.text, label, weight=weight)
                )
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.kind, mark.ref)))
