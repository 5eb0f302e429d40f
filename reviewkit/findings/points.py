"""Judge which points of each planned move were said, said late, or not said at all.

A point belongs to the talk from 45 s before an interval of its move to that interval's
end. Every utterance there is weighed as the place where the point was given; the weights
come from labelled classes (``point_weights``). A point is *late* when it was first given
after the move's first interval had ended.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.findings.point_weights import BIAS, LATE_FROM, SAID_FROM, WEIGHTS
from reviewkit.frames.evidence import Ask, weigh_evidence
from reviewkit.frames.evidence import Evidence as Weighed
from reviewkit.frames.manner import MANNERS, manner
from reviewkit.frames.utterances import Utterance, split_utterances
from reviewkit.model import Evidence, HeardClass, Interval, Lexicon, Point, PointFinding
from reviewkit.movebook import match_move

LEAD_MS = 45_000
_MOST_SHOWN = 3
# A lexicon point this like one of the plan's is the same and not asked for twice.
_SAME = 0.74

FEATURES = (
    "cover",
    "parts",
    "poles",
    "reverse",
    "kin",
    "closest",
    "link",
    "usual_cover",
    "usual_kin",
    "rival",
    "in_interval",
    "in_other",
    "cover_reverse",
    "any_point",
    "log_terms",
    "joined",
    *MANNERS,
)


@dataclass(frozen=True, slots=True)
class AskedPoint:
    """A point asked for in a move, by the plan or the lexicon."""

    move: str
    text: str
    point: Point | None = None


@dataclass(frozen=True, slots=True)
class Candidates:
    """The utterances that may give a point: their places and what speaks for each."""

    asked: AskedPoint
    places: NDArray[np.intp]
    features: NDArray[Any]
    link_id: str
    link: float
    first_end_ms: int | None


def judge_points(heard: HeardClass) -> tuple[tuple[str, tuple[PointFinding, ...]], ...]:
    """Judge every point of every planned move.

    Returns:
        A pair for each planned move, in plan order: its name, and its findings, the
        plan's points before the lexicon's.
    """
    utterances = split_utterances(heard.talk)
    found: dict[str, list[PointFinding]] = {row.move: [] for row in heard.plan.rows}
    same = set()
    for one in weigh_points(heard, utterances):
        if one.asked.point is None:
            if one.link >= _SAME:
                same.add((one.asked.move, one.link_id))
        elif (one.asked.move, one.asked.point.id) in same:
            continue
        found[one.asked.move].append(_judge(one, utterances, heard.lexicon))
    return tuple((move, tuple(findings)) for move, findings in found.items())


def weigh_points(heard: HeardClass, utterances: Sequence[Utterance]) -> tuple[Candidates, ...]:
    """Gather for every point, the plan's first, the utterances that may give it."""
    asked = (*_plan_points(heard), *_lexicon_points(heard))
    if not asked:
        return ()
    if not utterances:
        empty = np.zeros((0, len(FEATURES)))
        none = np.zeros(0, dtype=np.intp)
        return tuple(Candidates(one, none, empty, "", 0.0, None) for one in asked)
    asks = [Ask(one.text, one.point.id if one.point else "") for one in asked]
    weighed = weigh_evidence(utterances, asks, heard.lexicon)
    manners = np.array([manner(one.words) for one in utterances])
    spans = _spans_by_move(heard)
    siblings = _siblings(asked)
    return tuple(
        _candidates(place, asked, weighed, manners, utterances, spans, siblings[place])
        for place in range(len(asked))
    )


def _plan_points(heard: HeardClass) -> list[AskedPoint]:
    pairs = dict.fromkeys((row.move, text) for row in heard.plan.rows for text in row.must_say)
    return [AskedPoint(move, text) for move, text in pairs]


def _lexicon_points(heard: HeardClass) -> list[AskedPoint]:
    points = {point.id: point for point in heard.lexicon.points}
    asked = []
    for name in dict.fromkeys(row.move for row in heard.plan.rows):
        move = match_move(name, heard.lexicon)
        known = [points[one] for one in (move.points if move else ()) if one in points]
        asked.extend(AskedPoint(name, point.say, point) for point in known)
    return asked


def _spans_by_move(heard: HeardClass) -> dict[str, list[Interval]]:
    """Give the intervals of each planned move; a swapped slot still counts for its own."""
    spans: dict[str, list[Interval]] = {}
    for interval in done_intervals(heard):
        spans.setdefault(interval.move, []).append(interval)
    return spans


def _siblings(asked: Sequence[AskedPoint]) -> list[list[int]]:
    """Give for each point the plan's other points of the same move."""
    return [
        [
            other
            for other, two in enumerate(asked)
            if other != place and two.move == one.move and two.point is None
        ]
        for place, one in enumerate(asked)
    ]


def _candidates(
    place: int,
    asked: Sequence[AskedPoint],
    weighed: Weighed,
    manners: NDArray[Any],
    utterances: Sequence[Utterance],
    spans: dict[str, list[Interval]],
    siblings: list[int],
) -> Candidates:
    """Gather what speaks for one point."""
    one = asked[place]
    own = spans.get(one.move, [])
    others = [span for move, many in spans.items() if move != one.move for span in many]
    starts = np.array([utterance.line.start_ms for utterance in utterances])
    near = _inside(starts, own, lead_ms=LEAD_MS)
    core = _inside(starts, own, lead_ms=2_000)
    other = _inside(starts, others, lead_ms=1_000) & ~core
    rest = ~near
    columns = (
        weighed.cover[:, place],
        weighed.parts[:, place],
        weighed.poles[:, place],
        weighed.reverse[:, place],
        weighed.kin[:, place],
        weighed.closest[:, place],
        _level(weighed.link[place], starts),
        _level(_usual(weighed.cover[rest, place]), starts),
        _level(_usual(weighed.kin[rest, place]), starts),
        (weighed.cover + weighed.kin)[:, siblings].max(axis=1, initial=0),
        core,
        other,
        weighed.cover[:, place] * weighed.reverse[:, place],
        weighed.any_point,
        np.log1p(weighed.terms),
        np.array([utterance.is_joined for utterance in utterances]),
        *manners.T,
    )
    features = np.stack(columns, axis=1)[near].astype(float)
    return Candidates(
        one,
        np.flatnonzero(near),
        features,
        weighed.link_ids[place],
        float(weighed.link[place]),
        min(map(end_ms, own), default=None),
    )


def _inside(starts: NDArray[Any], spans: Sequence[Interval], *, lead_ms: int) -> NDArray[np.bool_]:
    """Tell which moments lie in one of the intervals or shortly before it."""
    inside = np.zeros(len(starts), dtype=bool)
    for span in spans:
        inside |= (start_ms(span) - lead_ms <= starts) & (starts <= end_ms(span))
    return inside


def _usual(values: NDArray[Any]) -> float:
    """Give what the point gets by chance elsewhere in the class: the 95th percentile."""
    return float(np.sort(values)[int(0.95 * len(values))]) if len(values) else 0.0


def _level(value: float, like: NDArray[Any]) -> NDArray[Any]:
    return np.full(len(like), value)


# --- verdicts ------------------------------------------------------------------------


def chances(features: NDArray[Any]) -> NDArray[Any]:
    """Give each utterance's chance of giving the point, 0 to 1."""
    weights = np.array([WEIGHTS[name] for name in FEATURES])
    chance: NDArray[Any] = 1 / (1 + np.exp(-(features @ weights + BIAS)))
    return chance


def _judge(one: Candidates, utterances: Sequence[Utterance], lexicon: Lexicon) -> PointFinding:
    """Give the verdict on one point with the words behind it."""
    chance = chances(one.features)
    best = float(chance.max(initial=0))
    starts = np.array([utterances[place].line.start_ms for place in one.places])
    point = one.asked.point or next((p for p in lexicon.points if p.id == one.link_id), None)
    is_said = best >= SAID_FROM
    early = (
        chance[starts < one.first_end_ms].max(initial=0) if one.first_end_ms is not None else 0.0
    )
    is_late = is_said and early < min(LATE_FROM, best)
    return PointFinding(
        point=one.asked.text,
        kind=point.kind if point else "form",
        asked_by="lexicon" if one.asked.point else "plan",
        verdict="missing" if not is_said else "late" if is_late else "said",
        evidence=_evidence(one, chance, utterances, min(LATE_FROM, best)) if is_said else (),
        point_id=point.id if point and (one.asked.point or one.link >= _SAME) else "",
        why=point.why if point and (one.asked.point or one.link >= _SAME) else "",
        line=_line(one, point),
    )


def _evidence(
    one: Candidates, chance: NDArray[Any], utterances: Sequence[Utterance], least: float
) -> tuple[Evidence, ...]:
    """Show the words that gave the point, in order, each stretch of talk once."""
    shown: list[Utterance] = []
    for place in np.argsort(-chance):
        utterance = utterances[one.places[place]]
        if chance[place] < least or len(shown) == _MOST_SHOWN:
            break
        if all(
            utterance.line.last < other.line.first or other.line.last < utterance.line.first
            for other in shown
        ):
            shown.append(utterance)
    shown.sort(key=lambda utterance: utterance.line.first)
    return tuple(Evidence(each.line.start_ms, each.line.text) for each in shown)


def _line(one: Candidates, point: Point | None) -> str:
    """Suggest a sentence to record: the lexicon's where it fits, else the plan's words."""
    if point and (one.asked.point or one.link >= _SAME):
        return point.line
    text = one.asked.text.strip()
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith(('.', '!', '?')) else '.'}"
