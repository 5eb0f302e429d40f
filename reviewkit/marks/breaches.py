"""Hear where a class is sent to what it was to do without, and where a coach owns up to it."""

from __future__ import annotations

from reviewkit.marks.wording import find_wordings, index_label
from reviewkit.model import Lexicon, Mark, Talk

# "I know what I said"; calls to the floor; calls for a jump that need no word for it.
CONFESSION, FLOOR_ASKED, JUMP_ASKED = "confession", "floor_asked", "jump_asked"
_LIST = "promises"


def find_breaches(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark confessions and calls for what classes are often without, in the order spoken.

    The whole talk is read at once: captions have no full stops that such words keep to.
    """
    norms = [word.norm for word in talk.words]
    lines = lexicon.lists.get(_LIST, ())
    marks = [
        Mark(
            kind,
            hit.first,
            hit.last,
            talk.words[hit.first].start_ms,
            talk.words[hit.last].end_ms,
            " ".join(word.text for word in talk.words[hit.first : hit.last + 1]),
        )
        for kind in (CONFESSION, FLOOR_ASKED, JUMP_ASKED)
        for hit in find_wordings(norms, index_label(kind, lines)).get(kind, ())
    ]
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.last, mark.kind)))
