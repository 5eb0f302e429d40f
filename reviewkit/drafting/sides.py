"""Say which side each interval of a drafted plan works."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from reviewkit.drafting.spans import WorkSpan
from reviewkit.model import Lexicon, Side, Talk

_BEFORE_MS = 8000
_AFTER_MS = 6000
_PAUSE_MS = 300
_OTHER: dict[Side, Side] = {"left": "right", "right": "left", "": "", "each": "each"}
# Both sides of one interval: neither is named only in its first or last few seconds.
_MARGIN_MS = 5000


def sides_of(
    talk: Talk, spans: Sequence[WorkSpan], names: Sequence[str], lexicon: Lexicon
) -> tuple[Side, ...]:
    """Give the side of each span.

    A move done twice in a row has the first side named around each start; a side left
    unsaid is the other one of its pair. A move with sides done once works each side
    when both are named inside.
    """
    named = _sides_named(talk)
    heard = [_first_near(named, span) for span in spans]
    sided = {move.name for move in lexicon.moves if move.is_sided}
    sides: list[Side] = [""] * len(spans)
    for at in range(len(spans) - 1):
        is_pair = names[at] == names[at + 1] and not sides[at]
        if is_pair and (heard[at] or heard[at + 1]):
            one = heard[at] or _OTHER[heard[at + 1]]
            sides[at], sides[at + 1] = one, _OTHER[one]
    return tuple(
        "each" if not side and name in sided and _has_both(named, span) else side
        for side, name, span in zip(sides, names, spans, strict=True)
    )


def _sides_named(talk: Talk) -> tuple[tuple[int, Side], ...]:
    """Give when each side was named; "right" before a pause is a filler ("right, next")."""
    named: list[tuple[int, Side]] = []
    for word, after in pairwise(talk.words):
        if word.norm == "left":
            named.append((word.start_ms, "left"))
        elif word.norm == "right" and not _ends_phrase(word.text, after.start_ms - word.end_ms):
            named.append((word.start_ms, "right"))
    return tuple(named)


def _ends_phrase(text: str, pause_ms: int) -> bool:
    return text[-1:] in (",", ".") or pause_ms >= _PAUSE_MS


def _first_near(named: Sequence[tuple[int, Side]], span: WorkSpan) -> Side:
    low, high = span.start_ms - _BEFORE_MS, span.start_ms + _AFTER_MS
    return next((side for at_ms, side in named if low <= at_ms < high), "")


def _has_both(named: Sequence[tuple[int, Side]], span: WorkSpan) -> bool:
    low, high = span.start_ms, span.end_ms - _MARGIN_MS
    return {side for at_ms, side in named if low <= at_ms < high} == {"left", "right"}
