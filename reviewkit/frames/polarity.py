"""Know what each lexicon point asks for, so that its opposite is not taken for it.

"Push your knees out" and "don't push your knees out" share every word. The wordings of a
point are parsed into frames; the poles most of them name are the point's poles, and an
utterance that names the opposite for the same part, and never the pole itself, asks for
the contrary.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from reviewkit.frames.grammar import (
    AXES_LIST,
    OPPOSITES,
    Frame,
    FrameBook,
    are_opposite,
    make_frame_book,
    parse_frames,
)
from reviewkit.frames.terms import PARTS_LIST, POLES_LIST, words_of
from reviewkit.model import Lexicon, Phrase, Point
from reviewkit.once import once_for


def point_frames(lexicon: Lexicon) -> dict[str, tuple[Frame, ...]]:
    """Give the frames each point asks for, by its id."""
    lists = lexicon.lists
    return _point_frames(
        lexicon.points,
        lists.get(PARTS_LIST, ()),
        lists.get(POLES_LIST, ()),
        lists.get(AXES_LIST, ()),
    )


@once_for(4)
def _point_frames(
    points: tuple[Point, ...],
    parts: tuple[Phrase, ...],
    poles: tuple[Phrase, ...],
    axes: tuple[Phrase, ...],
) -> dict[str, tuple[Frame, ...]]:
    book = make_frame_book(parts, poles, axes)
    return {point.id: _asked_by(point, book) for point in points}


def _asked_by(point: Point, book: FrameBook) -> tuple[Frame, ...]:
    """Keep the poles that more wordings name than name their opposites."""
    named: Counter[str] = Counter()
    parts: dict[str, set[str]] = {}
    for wording in (point.say, point.line, *point.phrases):
        frames = parse_frames(words_of(wording), book)
        named.update({frame.pole for frame in frames})
        for frame in frames:
            parts.setdefault(frame.pole, set()).update(frame.parts)
    return tuple(
        Frame(frozenset(parts[pole]), pole, 0)
        for pole, count in sorted(named.items())
        if count > named[OPPOSITES.get(pole, "")]
    )


def asks_for_opposite(heard: Sequence[Frame], asked: Iterable[Frame]) -> bool:
    """Tell whether an utterance asks for the contrary of what is asked."""
    pairs = [(one, other) for one in heard for other in asked if one.parts & other.parts]
    return any(are_opposite(one, other) for one, other in pairs) and not any(
        one.pole == other.pole for one, other in pairs
    )
