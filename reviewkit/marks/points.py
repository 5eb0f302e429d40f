"""Hear which points an utterance gives, by themselves and without knowing the move.

The lexicon's points are heard by their wordings and images, the plan's by their own
words. One utterance gives one mark, for the point it says most of; judging whether a
planned point was given in time is for the findings, which know the move.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewkit.frames.evidence import cover_of_points, cover_of_texts
from reviewkit.frames.grammar import frame_book, parse_frames
from reviewkit.frames.manner import MANNERS, manner
from reviewkit.frames.polarity import asks_for_opposite, point_frames
from reviewkit.frames.terms import words_of
from reviewkit.frames.utterances import Utterance, split_cues
from reviewkit.model import Lexicon, Mark, Plan, Talk

KIND = "point"

# An utterance gives a point of the lexicon, or of the plan, from this cover on.
_HEARD_FROM = 0.8
_PLAN_FROM = 0.8
_LEAST_TERMS = 2
_STORIES = [name in ("mine", "people") for name in MANNERS]


def find_points(talk: Talk, plan: Plan, lexicon: Lexicon) -> tuple[Mark, ...]:
    """Mark the utterances that give a point.

    Returns:
        Marks in time order; ``ref`` is the lexicon point's id, or the plan's own words
        when no point of the lexicon says the same, ``weight`` how much of it was said.
    """
    utterances = split_cues(talk)
    if not utterances or not lexicon.points:
        return ()
    texts = tuple(dict.fromkeys(text for row in plan.rows for text in row.must_say))
    covers = cover_of_points(utterances, lexicon)
    refs = [point.id for point in lexicon.points]
    least = np.full(len(refs), _HEARD_FROM)
    if texts:
        covers = np.hstack([covers, cover_of_texts(utterances, texts, lexicon)])
        refs += texts
        least = np.concatenate([least, np.full(len(texts), _PLAN_FROM)])
    return _marks(utterances, covers, refs, least, lexicon)


def _marks(
    utterances: Sequence[Utterance],
    covers: NDArray[Any],
    refs: Sequence[str],
    least: NDArray[Any],
    lexicon: Lexicon,
) -> tuple[Mark, ...]:
    """Mark each utterance with the point it says most of."""
    book, asked = frame_book(lexicon), point_frames(lexicon)
    marks = []
    for place, one in enumerate(utterances):
        if len(one.words) < _LEAST_TERMS or any(np.array(manner(one.words))[_STORIES]):
            continue
        frames = parse_frames(one.words, book)
        for best in map(int, np.argsort(-covers[place])[:3]):
            wanted = asked.get(refs[best]) or parse_frames(words_of(refs[best]), book)
            if covers[place, best] >= least[best] and not asks_for_opposite(frames, wanted):
                marks.append(_mark(one, refs[best], float(covers[place, best])))
                break
    return _once(marks)


def _once(marks: Sequence[Mark]) -> tuple[Mark, ...]:
    """Keep the surer one of marks of the same point on overlapping words."""
    kept: list[Mark] = []
    for mark in marks:
        before = next((one for one in kept[-3:] if one.ref == mark.ref), None)
        if before is None or before.last < mark.first:
            kept.append(mark)
        elif before.weight < mark.weight:
            kept[kept.index(before)] = mark
    return tuple(kept)


def _mark(one: Utterance, ref: str, cover: float) -> Mark:
    line = one.line
    weight = min(1.0, cover)
    return Mark(
        KIND, line.first, line.last, line.start_ms, line.end_ms, line.text, ref, None, weight
    )
