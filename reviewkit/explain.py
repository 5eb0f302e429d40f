"""Explain one interval: the moments weighed for its edges and what spoke for each.

The same stages as in a review, stopped where the aligner has weighed every placement.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from reviewkit.align.density import Density, Floats
from reviewkit.errors import InputError
from reviewkit.marks.edge_features import Place, TalkFacts, gather_facts, list_places
from reviewkit.marks.edge_reasons import edge_reasons, words_after, words_before
from reviewkit.marks.edges import fitted_net, weigh_edges
from reviewkit.model import Interval, Lexicon, MoveEvidence, Plan, Talk, Transcript
from reviewkit.model.explained import (
    Candidate,
    EdgeExplanation,
    Explanation,
    LengthExplanation,
    Reason,
)
from reviewkit.naming import SWAP_WEIGHTS, name_moves
from reviewkit.placing.edges_found import TAKEN_BACK, take_back
from reviewkit.placing.intervals import Alignment, align_plan, build_intervals
from reviewkit.placing.scoring import TRUST
from reviewkit.understand import understand
from reviewkit.words import PAUSE_WEIGHTS, split_words

# Moments this close together are told as one.
CLOSE_MS = 700
MOST_CANDIDATES = 3
LEAST_CHANCE = 0.001
MOST_HEARD = 5
LEAST_HEARD = 0.2
OWN_HABITS = {"start": "how this coach starts elsewhere", "end": "how this coach stops elsewhere"}
NAME_WORDS, CUE_WORDS = 3, 7


@dataclass(frozen=True, slots=True)
class _Class:
    """A class laid on its plan, and what its talk says of edges and moves.

    ``facts`` and ``places`` are those that edges were heard by, on the clock as the transcript
    has it and one place for each moment; ``talk`` is on its best clock.
    """

    plan: Plan
    talk: Talk
    facts: TalkFacts
    places: tuple[Place, ...]
    lexicon: Lexicon
    moves: MoveEvidence
    intervals: tuple[Interval, ...]
    aligned: Alignment | None


def explain_interval(
    transcript: Transcript, plan: Plan, lexicon: Lexicon, number: int
) -> Explanation:
    """Say why a planned row was put where it is.

    Args:
        transcript: The timed talk.
        plan: What was planned.
        lexicon: What coaches say.
        number: The plan's row, 1 for the first.

    Raises:
        InputError: The plan has no such row.
    """
    count = len(plan.rows)
    if not 1 <= number <= count:
        rows = "no rows" if not count else f"rows 1 to {count}"
        raise InputError(plan.source, None, f"has no interval {number}; it has {rows}")
    heard = _hear(transcript, plan, lexicon)
    interval = next(one for one in heard.intervals if one.plan_row == number)
    before = _before(heard.intervals, interval)
    return Explanation(
        interval=interval,
        start=_explain_edge(heard, interval, "start"),
        end=_explain_edge(heard, interval, "end"),
        length=_length(heard, interval),
        rest_before_ms=None if before is None else before.rest_after_ms,
        planned_rest_before_ms=None if before is None else before.planned_rest_ms,
        names=_names(heard, interval),
        cues=_cues(heard, interval),
    )


def _hear(transcript: Transcript, plan: Plan, lexicon: Lexicon) -> _Class:
    as_stamped = split_words(transcript, lexicon.weights.get(PAUSE_WEIGHTS))
    known = understand(as_stamped, weigh_edges(as_stamped, plan, lexicon), plan, lexicon)
    talk, edges, moves = known.talk, known.edges, known.moves
    placed = build_intervals(talk, edges, moves, plan)
    intervals = name_moves(placed, talk, known.marks, moves, lexicon.weights[SWAP_WEIGHTS])
    return _Class(
        plan=plan,
        talk=talk,
        facts=gather_facts(as_stamped, lexicon.lists.get("word_classes", ()), plan),
        places=list_places(as_stamped),
        lexicon=lexicon,
        moves=moves,
        intervals=intervals,
        aligned=align_plan(talk, edges, moves, plan) if talk.words else None,
    )


def _before(intervals: Sequence[Interval], interval: Interval) -> Interval | None:
    """Find the interval done right before, when this one was done."""
    if interval.start is None:
        return None
    earlier = [one for one in intervals if one.start and one.start.at_ms < interval.start.at_ms]
    return max(earlier, key=lambda one: one.start.at_ms if one.start else 0, default=None)


# --- edges ------------------------------------------------------------------------------


def _explain_edge(heard: _Class, interval: Interval, output: str) -> EdgeExplanation:
    edge = interval.start if output == "start" else interval.end
    if heard.aligned is None:
        return EdgeExplanation(edge, None, ())
    power = TAKEN_BACK[heard.talk.clock]
    chances = _chances(heard.aligned, (interval.plan_row or 0) - 1, output, power)
    clusters = _clusters(heard.aligned, chances, output)
    candidates = [_candidate(heard, at, chance, output) for at, chance in clusters]
    taken = None if edge is None else _taken(heard, interval, candidates, output)
    others = tuple(one for one in candidates if taken is None or one.at_ms != taken.at_ms)
    return EdgeExplanation(edge, taken, others[: MOST_CANDIDATES - (taken is not None)])


def _chances(aligned: Alignment, row: int, output: str, power: float) -> dict[int, float]:
    """Give every moment's chance of being a row's edge, given that the row was done.

    So much of the power of its expected length is taken back as where edges are read.
    """
    column = 0 if output == "start" else 1
    sums: dict[int, float] = {}
    for laid, placement in zip(aligned.layout.slots, aligned.placements, strict=True):
        if laid.row == row and laid.length is not None:
            read = take_back(placement, aligned.ground, laid.length, power)
            for pair, weight in zip(read.pairs, read.weights, strict=True):
                moment = int(pair[column])
                sums[moment] = sums.get(moment, 0.0) + placement.chance * float(weight)
    total = sum(sums.values())
    return {moment: chance / total for moment, chance in sums.items()} if total else {}


def _clusters(
    aligned: Alignment, chances: dict[int, float], output: str
) -> list[tuple[int, float]]:
    """Join moments close to a likelier one; give the likeliest first."""
    at_ms = _moments_ms(aligned, output)
    joined: list[tuple[int, float]] = []
    for moment, chance in sorted(chances.items(), key=lambda item: (-item[1], item[0])):
        for place, (other, sum_so_far) in enumerate(joined):
            if abs(at_ms[moment] - at_ms[other]) <= CLOSE_MS:
                joined[place] = (other, sum_so_far + chance)
                break
        else:
            joined.append((moment, chance))
    kept = [(moment, chance) for moment, chance in joined if chance >= LEAST_CHANCE]
    return sorted(kept, key=lambda item: (-item[1], item[0]))


def _moments_ms(aligned: Alignment, output: str) -> Floats:
    ground = aligned.ground
    return ground.starts.at_ms if output == "start" else ground.ends.at_ms


def _candidate(heard: _Class, moment: int, chance: float, output: str) -> Candidate:
    if heard.aligned is None:
        raise ValueError("nothing was aligned")
    ground = heard.aligned.ground
    moments = ground.start_moments if output == "start" else ground.end_moments
    number = int(moments[moment])
    heard_as, place = heard.aligned.edges.moments[number], heard.places[number]
    reasons = edge_reasons(fitted_net(heard.lexicon), heard.facts, place, output)
    odds = heard_as.start if output == "start" else heard_as.end
    own = Reason(OWN_HABITS[output], odds - sum(reason.weight for reason in reasons))
    reasons = tuple(sorted((*reasons, own), key=lambda one: (-abs(one.weight), one.text)))
    return Candidate(
        at_ms=heard_as.at_ms,
        chance=min(1.0, chance),
        odds=odds,
        before=words_before(heard.facts, place),
        after=words_after(heard.facts, place),
        reasons=reasons,
    )


def _taken(
    heard: _Class, interval: Interval, candidates: Sequence[Candidate], output: str
) -> Candidate | None:
    """Find the candidate that the edge was read from, or else the one that the path took."""
    edge = interval.start if output == "start" else interval.end
    if edge is not None:
        nearest = min(candidates, key=lambda one: abs(one.at_ms - edge.at_ms), default=None)
        if nearest is not None and abs(nearest.at_ms - edge.at_ms) <= CLOSE_MS:
            return nearest
    moment = _path_moment(heard.aligned, (interval.plan_row or 0) - 1, output)
    if heard.aligned is None or moment is None:
        return None
    at_ms = int(_moments_ms(heard.aligned, output)[moment])
    near = [one for one in candidates if abs(one.at_ms - at_ms) <= CLOSE_MS]
    return near[0] if near else _candidate(heard, moment, 0.0, output)


def _path_moment(aligned: Alignment | None, row: int, output: str) -> int | None:
    for step in aligned.steps if aligned else ():
        if aligned and aligned.layout.slots[step.slot].row == row:
            return step.start if output == "start" else step.end
    return None


def _length(heard: _Class, interval: Interval) -> LengthExplanation | None:
    row = (interval.plan_row or 0) - 1
    length_ms = interval.length_ms
    if heard.aligned is None or length_ms is None:
        return None
    slots = (slot for slot in heard.aligned.layout.slots if slot.row == row)
    density = next(slot.length for slot in slots if slot.length is not None)
    expected_ms = density.low_ms + 50 * int(np.argmax(density.table))
    weight, best = density.at(np.array([float(length_ms), float(expected_ms)]))
    remarked = _remarked(heard.aligned, row, length_ms, density)
    counted = 1.0 - TAKEN_BACK[heard.talk.clock]
    return LengthExplanation(
        length_ms, expected_ms, counted * float(weight), counted * float(best), remarked
    )


def _remarked(aligned: Alignment, row: int, length_ms: int, length: Density) -> float | None:
    """Give what is said around the end of a row of its being as short, or as long, as it is."""
    ends = aligned.ground.ends
    moment = _path_moment(aligned, row, "end")
    if moment is None or length.usual_ms is None or ends.short is None or ends.long is None:
        return None
    if length_ms < length.usual_ms[0]:
        return float(ends.short[moment])
    return float(ends.long[moment]) if length_ms > length.usual_ms[1] else None


# --- the move ---------------------------------------------------------------------------


def _names(heard: _Class, interval: Interval) -> tuple[Reason, ...]:
    """Give names heard around the start: for the row's move, and for others against it."""
    if interval.start is None:
        return ()
    low_ms = interval.start.at_ms - TRUST.announced_ms
    high_ms = interval.start.at_ms + TRUST.named_after_ms
    named = heard.moves.named[heard.moves.moves.index(interval.move)]
    return _strongest(heard, named, TRUST.named, low_ms, high_ms, words=NAME_WORDS)


def _cues(heard: _Class, interval: Interval) -> tuple[Reason, ...]:
    """Give the talk inside that speaks most for, or against, the row's move."""
    if interval.start is None or interval.end is None:
        return ()
    moves = heard.moves if heard.aligned is None else heard.aligned.moves
    cued = moves.cued[moves.moves.index(interval.move)]
    low_ms, high_ms = interval.start.at_ms, interval.end.at_ms
    return _strongest(heard, cued, TRUST.cued, low_ms, high_ms, words=CUE_WORDS)


def _strongest(
    heard: _Class, odds: Sequence[float], trust: float, low_ms: int, high_ms: int, *, words: int
) -> tuple[Reason, ...]:
    inside = [
        (at, trust * odds[at])
        for at, word in enumerate(heard.talk.words)
        if low_ms <= word.start_ms < high_ms and abs(trust * odds[at]) >= LEAST_HEARD
    ]
    parts: list[tuple[int, float]] = []
    for at, weight in inside:
        if parts and at < parts[-1][0] + words:
            parts[-1] = (parts[-1][0], parts[-1][1] + weight)
        else:
            parts.append((at, weight))
    kept = sorted(sorted(parts, key=lambda part: -abs(part[1]))[:MOST_HEARD])
    return tuple(
        Reason(" ".join(word.text for word in heard.talk.words[at : at + words]), weight)
        for at, weight in kept
    )
