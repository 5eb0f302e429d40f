from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from reviewkit.align import Arc, Slot, build_lattice, flat, spike_and_tail
from reviewkit.align.density import Floats
from tests.align.lines import WIDE_BEAM, about, best, chain, moments, place, slot


def test_equal_moments_share_the_chance() -> None:
    starts, ends = moments({10: 0}), moments({50: 0, 60: 0})
    _, (placement,) = place(chain(starts, ends, flat()), [0])
    assert placement.pairs.tolist() == [[0, 0], [0, 1]]
    assert placement.weights.tolist() == pytest.approx([0.5, 0.5])


def test_scores_are_log_odds_of_one_another() -> None:
    starts, ends = moments({10: 0}), moments({50: math.log(3), 60: 0})
    _, (placement,) = place(chain(starts, ends, flat()), [0])
    assert placement.weights.tolist() == pytest.approx([0.75, 0.25])


def test_a_spike_pulls_to_the_plan_only_between_equals() -> None:
    starts = moments({10: 0})
    _, (placement,) = place(chain(starts, moments({45: 0, 50: 0}), about(40)), [0])
    assert placement.weights[1] > 0.8
    _, (placement,) = place(chain(starts, moments({45: 9, 50: 0}), about(40)), [0])
    assert placement.weights[0] > 0.8


def test_a_slot_that_may_be_passed_is_used_by_its_share() -> None:
    starts, ends = moments({10: 0}), moments({50: 0})
    done = slot(starts, ends, flat(), Arc(-1, math.log(0.8), flat()))
    passed = Slot((Arc(-1, math.log(0.2)),))
    total, placements = place(build_lattice([done, passed], starts, ends, beam=WIDE_BEAM), [0, 1])
    assert total == pytest.approx(0)
    assert placements[0].chance == pytest.approx(0.8)


def test_a_pass_has_no_place() -> None:
    lattice = build_lattice([Slot((Arc(-1, 0.0),))], moments({1: 0}), moments({2: 0}))
    _, (placement,) = place(lattice, [0])
    assert placement.pairs.shape == (0, 2)
    assert placement.weights.shape == (0,)


def test_what_follows_tells_what_came_before() -> None:
    """The second slot starts at 60 s, so the first has ended by then, whatever it says."""
    starts, ends = moments({10: 0, 60: 0}), moments({50: 0, 61: 4, 100: 0})
    _, placements = place(chain(starts, ends, flat(), about(40)), [1])
    first = placements[0]
    assert first.pairs.tolist() == [[0, 0]]
    assert first.chance == pytest.approx(1)


def test_unreachable_finals_leave_everything_unplaced() -> None:
    starts, ends = moments({60: 0}), moments({50: 0})
    total, placements = place(chain(starts, ends, about(40)), [0])
    assert total == -math.inf
    assert [placement.chance for placement in placements] == [0.0]
    assert placements[0].weights.size == 0


def test_no_final_is_no_path() -> None:
    assert best(chain(moments({1: 0}), moments({2: 0}), flat()), []) == (-math.inf, ())


def test_the_best_path_is_among_the_placements() -> None:
    starts, ends = moments({10: 1, 70: 0}), moments({48: 1, 50: 0, 110: 2})
    lattice = chain(starts, ends, about(40), about(40))
    score, steps = best(lattice, [1])
    total, placements = place(lattice, [1])
    assert score <= total
    for step in steps:
        pairs = placements[step.slot].pairs
        assert [step.start, step.end] in pairs.tolist()
    assert np.isfinite(score)


def test_what_is_said_at_an_end_outweighs_the_plan() -> None:
    starts, ends = moments({0: 0.0}), moments({30: 0.0, 40: 0.0})
    length = spike_and_tail(
        ((30_000.0, 1.0),), ((0.8, 0.0), (0.2, 8000.0)), spike_ms=600.0, low_ms=0,
        high_ms=120_000, usual_ms=(27_000.0, 33_000.0),
    )  # fmt: skip
    nothing, owned_up = np.zeros(2), np.array([0.0, 6.0])

    def best_end(short: Floats, long: Floats) -> float:
        told = replace(ends, short=short, long=long)
        return best(chain(starts, told, length), [0])[1][0].end

    assert best_end(nothing, nothing) == 0
    assert best_end(nothing, owned_up) == 1
    assert best_end(owned_up, nothing) == 0
