"""The aligner against brute force: every placement of small cases, written out and summed."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reviewkit.align import Density, build_lattice
from reviewkit.align.lattice import Arc, Slot
from reviewkit.align.posterior import Placement
from tests.align.lines import best, place
from tests.laws.lattices import Case, cases

# Wide enough to keep every step.
WIDE_BEAM = 1e6

Steps = tuple[tuple[int, int, int], ...]


def every_way(case: Case) -> list[tuple[float, Steps]]:
    """List the score and the steps (slot, start, end) of every possible placement.

    The same steps may be reached in more than one way, over different passes.
    """
    ways: dict[int, list[tuple[float, Steps]]] = {-1: [(0.0, ())]}
    for index, slot in enumerate(case.slots):
        before = [(arc, way) for arc in slot.arcs for way in ways[arc.source]]
        if slot.length is None:
            ways[index] = [(score + arc.log_prior, steps) for arc, (score, steps) in before]
        else:
            ways[index] = [
                (score + worth, (*steps, (index, start, end)))
                for arc, (score, steps) in before
                for start in range(len(case.starts.at_ms))
                for end in range(len(case.ends.at_ms))
                if (worth := _step(case, slot, arc, steps, start, end)) > -math.inf
            ]
    return [way for slot in case.final for way in ways[slot]]


def _step(case: Case, slot: Slot, arc: Arc, steps: Steps, start: int, end: int) -> float:
    """Score one slot between two moments, after the steps before it."""
    start_ms, end_ms = case.starts.at_ms[start], case.ends.at_ms[end]
    free_ms = case.ends.at_ms[steps[-1][2]] if steps else 0.0
    assert arc.gap is not None
    assert slot.length is not None
    score = arc.log_prior
    score += float(arc.gap.at(np.array(start_ms - free_ms)))
    score += float(slot.length.at(np.array(end_ms - start_ms)))
    score += _remark(case, slot.length, end, end_ms - start_ms)
    score += case.starts.score[start] + slot.start_score[start]
    score += case.ends.score[end] + slot.end_sum[end] - slot.start_sum[start]
    return float(score)


def _remark(case: Case, length: Density, end: int, taken_ms: float) -> float:
    """Give what is said, where a length ends, of its being short or long."""
    if length.usual_ms is None or case.ends.short is None or case.ends.long is None:
        return 0.0
    if taken_ms < length.usual_ms[0]:
        return float(case.ends.short[end])
    return float(case.ends.long[end]) if taken_ms > length.usual_ms[1] else 0.0


def log_sum(scores: list[float]) -> float:
    return float(np.logaddexp.reduce(scores)) if scores else -math.inf


@settings(max_examples=80, deadline=None)
@given(cases())
def test_the_best_path_is_the_best_of_all(case: Case) -> None:
    ways = every_way(case)
    lattice = build_lattice(case.slots, case.starts, case.ends, beam=WIDE_BEAM)
    score, steps = best(lattice, case.final)
    assert score == pytest.approx(max((one for one, _ in ways), default=-math.inf))
    placed = tuple((step.slot, step.start, step.end) for step in steps)
    if ways:
        assert score == pytest.approx(max(one for one, made in ways if made == placed))
    else:
        assert placed == ()


@settings(max_examples=80, deadline=None)
@given(cases())
def test_chances_are_shares_of_all_placements(case: Case) -> None:
    ways = every_way(case)
    lattice = build_lattice(case.slots, case.starts, case.ends, beam=WIDE_BEAM)
    total, placements = place(lattice, case.final)
    assert total == pytest.approx(log_sum([score for score, _ in ways]))
    used: dict[int, float] = defaultdict(float)
    pairs: dict[tuple[int, int, int], float] = defaultdict(float)
    for score, steps in ways:
        for slot, start, end in steps:
            used[slot] += math.exp(score - total)
            pairs[slot, start, end] += math.exp(score - total)
    for slot, placement in enumerate(placements):
        assert placement.chance == pytest.approx(used[slot], abs=1e-6)
        told = {
            (slot, int(start), int(end)): weight * placement.chance
            for (start, end), weight in zip(placement.pairs, placement.weights, strict=True)
        }
        true = {key: chance for key, chance in pairs.items() if key[0] == slot}
        for key in {*told, *true}:
            # Pairs of a millionth and less are left out.
            assert told.get(key, 0.0) == pytest.approx(true.get(key, 0.0), abs=1e-4)


@settings(max_examples=40, deadline=None)
@given(cases())
def test_weights_of_a_used_slot_add_up_to_one(case: Case) -> None:
    lattice = build_lattice(case.slots, case.starts, case.ends)
    _, placements = place(lattice, case.final)
    for placement in placements:
        assert 0 <= placement.chance <= 1
        assert len(placement.pairs) == len(placement.weights)
        if len(placement.weights):
            assert placement.weights.sum() == pytest.approx(1)


@settings(max_examples=40, deadline=None)
@given(cases(), st.floats(0.5, 20))
def test_a_beam_never_finds_more_than_there_is(case: Case, beam: float) -> None:
    wide = build_lattice(case.slots, case.starts, case.ends, beam=WIDE_BEAM)
    narrow = build_lattice(case.slots, case.starts, case.ends, beam=beam)
    assert best(narrow, case.final)[0] <= best(wide, case.final)[0] + 1e-9
    assert place(narrow, case.final)[0] <= place(wide, case.final)[0] + 1e-9


@settings(max_examples=25, deadline=None)
@given(cases())
def test_what_is_passed_matters_to_the_beam_alone(case: Case) -> None:
    other = replace(case.starts, passed=np.flip(case.starts.passed))
    wide = build_lattice(case.slots, case.starts, case.ends, beam=WIDE_BEAM)
    again = build_lattice(case.slots, other, case.ends, beam=WIDE_BEAM)
    assert best(wide, case.final) == best(again, case.final)


@settings(max_examples=40, deadline=None)
@given(cases(), st.sampled_from((50.0, 300.0, 700.0)))
def test_keeping_steps_in_smaller_parts_changes_nothing(case: Case, block_ms: float) -> None:
    whole = build_lattice(case.slots, case.starts, case.ends, beam=WIDE_BEAM)
    parts = build_lattice(case.slots, case.starts, case.ends, beam=WIDE_BEAM, block_ms=block_ms)
    assert best(parts, case.final)[0] == pytest.approx(best(whole, case.final)[0])
    total, placements = place(whole, case.final)
    again, others = place(parts, case.final)
    assert again == pytest.approx(total)
    for one, other in zip(placements, others, strict=True):
        assert other.chance == pytest.approx(one.chance)
        told, found = _shares(one), _shares(other)
        for pair in {*told, *found}:
            # Pairs of a millionth and less are left out.
            assert found.get(pair, 0.0) == pytest.approx(told.get(pair, 0.0), abs=1e-4)


def _shares(placement: Placement) -> dict[tuple[int, int], float]:
    pairs = zip(placement.pairs.tolist(), placement.weights.tolist(), strict=True)
    return {(start, end): share for (start, end), share in pairs}


@settings(max_examples=25, deadline=None)
@given(cases(), st.floats(-3, 3))
def test_a_constant_for_all_moments_changes_no_chance(case: Case, more: float) -> None:
    """What speaks for a slot counts from its start to its end, wherever the sum began."""
    slots = tuple(
        slot
        if slot.length is None
        else replace(slot, start_sum=slot.start_sum + more, end_sum=slot.end_sum + more)
        for slot in case.slots
    )
    total, _ = place(build_lattice(case.slots, case.starts, case.ends, beam=WIDE_BEAM), case.final)
    moved, _ = place(build_lattice(slots, case.starts, case.ends, beam=WIDE_BEAM), case.final)
    assert moved == pytest.approx(total)
