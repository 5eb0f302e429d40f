"""Hear where a class is sent to what it was to do without, where a coach owns up, and oaths."""

from __future__ import annotations

from collections.abc import Sequence

from reviewkit.marks.wording import Hit, find_wordings, gap_between, index_label
from reviewkit.model import Lexicon, Mark, Phrase, Talk

# "I know what I said"; calls to the floor; calls for a jump that need no word for it.
CONFESSION, FLOOR_ASKED, JUMP_ASKED = "confession", "floor_asked", "jump_asked"
# "Every single one", "not one is missing": none of what was promised is to be left out.
SWORN_ALL = "sworn_all"
_LIST = "promises"
# Words that may be one: they count beside something that did come otherwise.
_ADMISSION, _VOWED, _TURNED = "admission", "vowed", "turned"
_CLEAR, _LIKELY = 1.0, 0.5
# How many words may lie between what was said and what turns it round.
_TURNS_WITHIN = 7


def find_breaches(talk: Talk, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark confessions and calls for what classes are often without, in the order spoken.

    The whole talk is read at once: captions have no full stops that such words keep to. The
    ``weight`` of a confession is 1 where it is clear by its words and less where it may be one.
    """
    norms = [word.norm for word in talk.words]
    lines = lexicon.lists.get(_LIST, ())
    marks = [
        _mark(talk, kind, hit, _CLEAR)
        for kind in (CONFESSION, FLOOR_ASKED, JUMP_ASKED, SWORN_ALL)
        for hit in _hits(norms, kind, lines)
    ]
    marks += [_mark(talk, CONFESSION, hit, _LIKELY) for hit in _admissions(norms, lines)]
    return tuple(sorted(marks, key=lambda mark: (mark.first, mark.last, mark.kind)))


def _admissions(norms: Sequence[str], lines: tuple[Phrase, ...]) -> list[Hit]:
    """Find what may own up: by its own words, or "I said no props" and soon "well" or "but"."""
    turned = _hits(norms, _TURNED, lines)
    return [
        *_hits(norms, _ADMISSION, lines),
        *(
            hit
            for hit in _hits(norms, _VOWED, lines)
            if any(gap_between(hit, one) <= _TURNS_WITHIN for one in turned)
        ),
    ]


def _hits(norms: Sequence[str], label: str, lines: tuple[Phrase, ...]) -> tuple[Hit, ...]:
    return find_wordings(norms, index_label(label, lines)).get(label, ())


def _mark(talk: Talk, kind: str, hit: Hit, weight: float) -> Mark:
    return Mark(
        kind,
        hit.first,
        hit.last,
        talk.words[hit.first].start_ms,
        talk.words[hit.last].end_ms,
        " ".join(word.text for word in talk.words[hit.first : hit.last + 1]),
        weight=weight,
    )
