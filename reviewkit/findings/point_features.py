"""Gather what speaks for and against each point having been given, utterance by utterance.

A point belongs to the talk from 45 s before an interval of its move to that interval's
end. Every utterance there gets the features named in ``FEATURES``: how much it says of
the point, in whose words, how it is meant, how much it sounds like a cue, where in the
move it was said, and what else it may be about.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.frames.around import AROUND, look_around
from reviewkit.frames.cue_words import OUTPUTS, weigh_cues
from reviewkit.frames.evidence import Ask, Evidence, weigh_evidence
from reviewkit.frames.grammar import Frame, FrameBook, are_opposite, frame_book, parse_frames
from reviewkit.frames.manner import MANNERS, manner
from reviewkit.frames.point_net import Heard, hear, weigh_point
from reviewkit.frames.spoken import weigh_spoken
from reviewkit.frames.terms import words_of
from reviewkit.frames.utterances import Utterance
from reviewkit.language.movebook import essential_points
from reviewkit.model import Edge, HeardClass, Interval, Lexicon, Plan, Point, Talk
from reviewkit.once import once_for

# Lines as coaches said them, by point: more wordings than anyone would think of.
LINES_LIST = "point_lines"
LEAD_MS = 45_000
_CORE_LEAD_MS = 2_000
_OTHER_LEAD_MS = 1_000
# Manners that say nothing against an utterance when the point itself has them.
_CONTENT = ("breath", "option", "feeling", "time")

FEATURES = (
    "cover",
    "parts",
    "poles",
    "both",
    "reverse",
    "matched",
    "kin",
    "closest",
    "link",
    "usual_cover",
    "usual_kin",
    "best",
    "more_cover",
    "more_kin",
    "rival",
    "in_interval",
    "in_other",
    "cover_reverse",
    "any_point",
    "log_terms",
    "joined",
    "agrees",
    "opposed",
    "spoken",
    "heard",
    *OUTPUTS,
    "before_first",
    "after_first",
    "progress",
    "ahead",
    *MANNERS,
    *AROUND,
)


@dataclass(frozen=True, slots=True)
class AskedPoint:
    """A point asked for in a move, by the plan (its words) or by the lexicon."""

    move: str
    text: str
    point: Point | None = None


@dataclass(frozen=True, slots=True)
class Candidates:
    """The utterances that may give a point: their places and features.

    ``link_id`` is the lexicon's most like point and ``link`` how like it is, 0 to 1;
    ``first_end_ms`` is the end of the move's first interval, ``None`` when there is none.
    """

    asked: AskedPoint
    places: NDArray[np.intp]
    features: NDArray[Any]
    link_id: str
    link: float
    first_end_ms: int | None


@dataclass(frozen=True, slots=True)
class _Scene:
    """A class made ready for weighing its points."""

    asked: tuple[AskedPoint, ...]
    starts: NDArray[Any]
    spreads: NDArray[Any]
    joined: NDArray[Any]
    weighed: Evidence
    spoken: NDArray[Any]
    heard: Heard | None
    cues: NDArray[Any]
    manners: NDArray[Any]
    around: NDArray[Any]
    frames: tuple[tuple[Frame, ...], ...]
    framed: NDArray[np.bool_]
    book: FrameBook
    spans: dict[str, list[Interval]]
    slots: dict[str, list[Interval]]

    def own(self, move: str) -> list[Interval]:
        """Give where a move was done, or may have been."""
        return [*self.spans.get(move, ()), *self.slots.get(move, ())]


def gather_candidates(heard: HeardClass, utterances: Sequence[Utterance]) -> tuple[Candidates, ...]:
    """Gather for every point, the plan's before the lexicon's, what may give it."""
    asked = _asked(heard.plan, heard.lexicon)
    if not asked:
        return ()
    if not utterances or not heard.lexicon.points:
        empty = np.zeros((0, len(FEATURES)))
        none = np.zeros(0, dtype=np.intp)
        return tuple(Candidates(one, none, empty, "", 0.0, None) for one in asked)
    said = _weigh_all(utterances, heard.talk, heard.plan, heard.lexicon)
    scene = replace(said, spans=_spans_by_move(heard), slots=_slots_by_move(heard))
    settings = {move: _setting(scene, move) for move in dict.fromkeys(one.move for one in asked)}
    return tuple(_candidates(scene, place, settings[one.move]) for place, one in enumerate(asked))


# A class is judged anew for every correction, which changes nothing of what was said.
@once_for(4)
def _weigh_all(utterances: Sequence[Utterance], talk: Talk, plan: Plan, lexicon: Lexicon) -> _Scene:
    """Weigh all talk for all points, whenever their moves were done."""
    asked, book = _asked(plan, lexicon), frame_book(lexicon)
    frames = tuple(parse_frames(utterance.words, book) for utterance in utterances)
    asks = [Ask(one.text, one.point.id if one.point else "") for one in asked]
    return _Scene(
        asked,
        starts=np.array([utterance.line.start_ms for utterance in utterances]),
        spreads=np.array([talk.words[one.line.first].spread_ms for one in utterances]),
        joined=np.array([utterance.is_joined for utterance in utterances]),
        weighed=weigh_evidence(utterances, asks, lexicon, lines=lexicon.lists.get(LINES_LIST, ())),
        spoken=weigh_spoken(utterances, [one.text for one in asked], lexicon),
        heard=hear([utterance.words for utterance in utterances], lexicon),
        cues=weigh_cues(utterances, lexicon),
        manners=np.array([manner(utterance.words) for utterance in utterances]),
        around=look_around(utterances, talk),
        frames=frames,
        framed=np.array([bool(own) for own in frames]),
        book=book,
        spans={},
        slots={},
    )


def _asked(plan: Plan, lexicon: Lexicon) -> tuple[AskedPoint, ...]:
    """List the plan's points, then those the lexicon would not leave out of each move."""
    pairs = dict.fromkeys((row.move, text) for row in plan.rows for text in row.must_say)
    points = {point.id: point for point in lexicon.points}
    asked = [AskedPoint(move, text) for move, text in pairs]
    for name in dict.fromkeys(row.move for row in plan.rows):
        known = [points[one] for one in essential_points(name, lexicon) if one in points]
        asked.extend(AskedPoint(name, point.say, point) for point in known)
    return tuple(asked)


def _spans_by_move(heard: HeardClass) -> dict[str, list[Interval]]:
    """Give the intervals of each planned move; a swapped slot still counts for its own."""
    spans: dict[str, list[Interval]] = {}
    for interval in done_intervals(heard):
        spans.setdefault(interval.move, []).append(interval)
    return spans


def _slots_by_move(heard: HeardClass) -> dict[str, list[Interval]]:
    """Give the gaps in which skipped rows may have been done after all, by move.

    A coarse clock loses whole intervals, and what was said in them was said all the same;
    with a fine one there are none.
    """
    slots: dict[str, list[Interval]] = {}
    if heard.talk.clock != "blocks":
        return slots
    reached = accumulate(map(end_ms, heard.intervals), max, initial=0)
    starts = [one.start.at_ms if one.start else heard.talk.length_ms for one in heard.intervals]
    next_starts = list(accumulate(reversed(starts), min))[::-1]
    for one, first, last in zip(heard.intervals, reached, next_starts, strict=False):
        if one.start is None and not one.by_coach:
            start, end = (Edge(at_ms, at_ms, at_ms) for at_ms in (first, max(first, last)))
            slots.setdefault(one.move, []).append(replace(one, start=start, end=end))
    return slots


@dataclass(frozen=True, slots=True, eq=False)
class _Setting:
    """The utterances near a move, and where in it each of them was said.

    ``is_near`` tells them among all utterances, and ``near`` gives their places; ``core`` and
    ``other`` say how likely each lies in an interval of the move, and in one of another.
    """

    is_near: NDArray[np.bool_]
    near: NDArray[np.intp]
    core: NDArray[Any]
    other: NDArray[Any]
    places: tuple[NDArray[Any], ...]
    siblings: tuple[int, ...]


def _setting(scene: _Scene, move: str) -> _Setting:
    own = scene.own(move)
    others = [span for name, many in scene.spans.items() if name != move for span in many]
    is_near = _share_inside(scene.starts, scene.spreads, own, lead_ms=LEAD_MS) > 0
    starts, spreads = scene.starts[is_near], scene.spreads[is_near]
    core = _share_inside(starts, spreads, own, lead_ms=_CORE_LEAD_MS)
    other = _share_inside(starts, spreads, others, lead_ms=_OTHER_LEAD_MS)
    return _Setting(
        is_near,
        np.flatnonzero(is_near),
        core,
        np.minimum(other, 1 - core),
        _place_columns(starts, own),
        tuple(
            place for place, one in enumerate(scene.asked) if one.move == move and one.point is None
        ),
    )


def _candidates(scene: _Scene, place: int, setting: _Setting) -> Candidates:
    """Gather what speaks for one point."""
    one, weighed = scene.asked[place], scene.weighed
    columns = (*_wording_columns(scene, place, setting), *_setting_columns(scene, place, setting))
    return Candidates(
        one,
        setting.near,
        np.stack(columns, axis=1).astype(float),
        weighed.link_ids[place],
        float(weighed.link[place]),
        min(map(end_ms, scene.spans.get(one.move, scene.own(one.move))), default=None),
    )


def _wording_columns(scene: _Scene, place: int, setting: _Setting) -> tuple[NDArray[Any], ...]:
    """Say how much of the point each utterance has, against what is usual in the class."""
    weighed, near = scene.weighed, setting.near
    usual_cover, usual_kin = (
        _usual(all_of[~setting.is_near, place]) for all_of in (weighed.cover, weighed.kin)
    )
    cover, kin = weighed.cover[near, place], weighed.kin[near, place]
    siblings = [other for other in setting.siblings if other != place]
    rivals = np.maximum(weighed.cover[near][:, siblings], weighed.kin[near][:, siblings])
    return (
        cover,
        weighed.parts[near, place],
        weighed.poles[near, place],
        weighed.both[near, place],
        weighed.reverse[near, place],
        weighed.matched[near, place],
        kin,
        weighed.closest[near, place],
        np.full(len(near), weighed.link[place]),
        np.full(len(near), usual_cover),
        np.full(len(near), usual_kin),
        np.maximum(cover, kin),
        np.maximum(0, cover - usual_cover),
        np.maximum(0, kin - usual_kin),
        rivals.max(axis=1, initial=0),
    )


def _setting_columns(scene: _Scene, place: int, setting: _Setting) -> tuple[NDArray[Any], ...]:
    """Say where each utterance was said, and how it is meant."""
    one, weighed, near = scene.asked[place], scene.weighed, setting.near
    return (
        setting.core,
        setting.other,
        weighed.cover[near, place] * weighed.reverse[near, place],
        weighed.any_point[near],
        np.log1p(weighed.terms[near]),
        scene.joined[near],
        *_frame_columns(scene, one.text, near),
        scene.spoken[near, place],
        weigh_point(words_of(one.text), scene.heard, near),
        *scene.cues[near].T,
        *setting.places,
        *(scene.manners[near] * _telling_manners(one.text)).T,
        *scene.around[near].T,
    )


def _place_columns(starts: NDArray[Any], own: Sequence[Interval]) -> tuple[NDArray[Any], ...]:
    """Say where in its move each utterance was said.

    Args:
        starts: When the utterances begin.
        own: The move's intervals.

    Returns:
        Whether before the move's first start and whether after its first end, the share
        of its interval that had passed, 0 outside of one, and how long before the next one
        it was, as a share of the longest lead: 0 inside of one, 1 where none follows.
    """
    progress, ahead = np.zeros(len(starts)), np.ones(len(starts))
    for span in own:
        share = (starts - start_ms(span)) / max(1, end_ms(span) - start_ms(span))
        is_inside = (share >= 0) & (share <= 1)
        progress = np.where(is_inside, share, progress)
        lead = (start_ms(span) - starts) / LEAD_MS
        ahead = np.where(is_inside, 0, np.where(lead >= 0, np.minimum(ahead, lead), ahead))
    first, first_end = min(map(start_ms, own), default=0), min(map(end_ms, own), default=0)
    return starts < first, first_end <= starts, progress, ahead


def _telling_manners(text: str) -> NDArray[Any]:
    """Leave out the manners that the point itself has: it may be about breath or an option."""
    own = manner(words_of(text))
    return np.array(
        [name not in _CONTENT or not count for name, count in zip(MANNERS, own, strict=True)],
        dtype=float,
    )


def _frame_columns(
    scene: _Scene, text: str, near: NDArray[np.intp]
) -> tuple[NDArray[Any], NDArray[Any]]:
    """Tell which utterances ask for a frame of the point, and which for its opposite."""
    asked = parse_frames(words_of(text), scene.book)
    agrees, opposed = np.zeros(len(near)), np.zeros(len(near))
    for row in np.flatnonzero(scene.framed[near]).tolist() if asked else ():
        pairs = [
            (mine, other)
            for mine in asked
            for other in scene.frames[near[row]]
            if mine.parts & other.parts
        ]
        if pairs:
            agrees[row] = any(mine.pole == other.pole for mine, other in pairs)
            opposed[row] = any(are_opposite(mine, other) for mine, other in pairs)
    return agrees * (1 - opposed), opposed * (1 - agrees)


def _share_inside(
    starts: NDArray[Any], spreads: NDArray[Any], spans: Sequence[Interval], *, lead_ms: int
) -> NDArray[Any]:
    """Say how likely each utterance lies in one of the intervals or shortly before it, 0 to 1.

    Where the clock is coarse, it may have been at any moment from its earliest to its latest.
    """
    edges_ms: list[int] = []
    for span in sorted(spans, key=start_ms):
        first, last = start_ms(span) - lead_ms, end_ms(span)
        if edges_ms and first <= edges_ms[-1]:
            edges_ms[-1] = max(edges_ms[-1], last)
        else:
            edges_ms += [first, last]
    if not edges_ms:
        return np.zeros(len(starts))
    lengths = np.diff(edges_ms, prepend=edges_ms[0]) * (np.arange(len(edges_ms)) % 2)
    spread = np.maximum(spreads, 1)
    latest, earliest = (
        np.interp(starts + sign * spread, edges_ms, np.cumsum(lengths)) for sign in (1, -1)
    )
    share: NDArray[Any] = (latest - earliest) / (2 * spread)
    return share


def _usual(values: NDArray[Any]) -> float:
    """Give what the point gets by chance elsewhere in the class: the 95th percentile."""
    nth = int(0.95 * len(values))
    return float(np.partition(values, nth)[nth]) if len(values) else 0.0
