"""Which points a move asks for: the plan's own, safety first, and the lexicon's suggestions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reviewkit.frames.evidence import Ask, weigh_evidence
from reviewkit.frames.utterances import Utterance
from reviewkit.language.movebook import essential_points
from reviewkit.model import Lexicon, Line, Plan, PointKind

LINES_LIST = "point_lines"
# A suggestion this like one of the plan's points is the same and not made.
SAME = 0.74
_NOTHING_SAID = (Utterance(Line(0, 0, 0, 0, ""), ("",)),)


@dataclass(frozen=True, slots=True)
class PlannedPoint:
    """A point of a move by its words."""

    text: str
    kind: PointKind
    is_suggested: bool


@dataclass(frozen=True, slots=True)
class Kin:
    """The lexicon's point closest to one of the plan's, and how like it is, 0 to 1."""

    point_id: str
    kind: PointKind
    likeness: float


def find_kin(plan: Plan, lexicon: Lexicon) -> dict[str, Kin]:
    """Find for each point of a plan the closest one of the lexicon, by the plan's words."""
    texts = tuple(dict.fromkeys(text for row in plan.rows for text in row.must_say))
    if not texts or not lexicon.points:
        return {}
    asks = [Ask(text) for text in texts]
    lines = lexicon.lists.get(LINES_LIST, ())
    weighed = weigh_evidence(_NOTHING_SAID, asks, lexicon, lines=lines)
    kinds = {point.id: point.kind for point in lexicon.points}
    return {
        text: Kin(point_id, kinds[point_id], float(likeness))
        for text, point_id, likeness in zip(texts, weighed.link_ids, weighed.link, strict=True)
    }


def order_points(
    texts: Sequence[str], move: str, *, asked: Sequence[str], kin: dict[str, Kin], lexicon: Lexicon
) -> tuple[PlannedPoint, ...]:
    """Order the points of a move: safety before form, the plan's before suggestions.

    Args:
        texts: Points of the plan that are due.
        move: The move as the plan names it.
        asked: Every point that the plan asks for with this move, due here or not.
        kin: What the plan's points are like.
        lexicon: Where suggestions come from.
    """
    own = [PlannedPoint(text, kin[text].kind if text in kin else "form", False) for text in texts]
    same = {kin[text].point_id for text in asked if text in kin and kin[text].likeness >= SAME}
    points = {point.id: point for point in lexicon.points}
    suggested = [
        PlannedPoint(points[one].say, points[one].kind, True)
        for one in essential_points(move, lexicon)
        if one in points and one not in same
    ]
    return tuple(
        point
        for group in (own, suggested)
        for point in sorted(group, key=lambda point: point.kind != "safety")
    )
