from __future__ import annotations

import numpy as np
import pytest

from reviewkit.align import Arc, Density, Slot, build_lattice, flat
from tests.align.lines import WIDE_BEAM, about, best, chain, moments, slot

SHORT_GAP = Density(0, np.zeros(101))  # nothing above five seconds


def placed(lattice_score_steps: tuple[float, tuple[object, ...]]) -> list[tuple[int, int, int]]:
    _, steps = lattice_score_steps
    return [(step.slot, step.start, step.end) for step in steps]  # type: ignore[attr-defined]


def test_the_plan_decides_between_equal_moments() -> None:
    starts, ends = moments({10: 0}), moments({40: 0, 50: 0, 60: 0})
    assert placed(best(chain(starts, ends, about(40)), [0])) == [(0, 0, 1)]


def test_the_plan_does_not_outvote_a_plain_moment() -> None:
    starts, ends = moments({10: 0}), moments({40: 8, 50: 0, 60: 0})
    assert placed(best(chain(starts, ends, about(40)), [0])) == [(0, 0, 0)]


def test_a_slot_ends_after_it_starts() -> None:
    starts, ends = moments({10: 0, 60: 9}), moments({50: 0})
    assert placed(best(chain(starts, ends, flat()), [0])) == [(0, 0, 0)]


def test_slots_do_not_overlap() -> None:
    starts, ends = moments({10: 0, 20: 5, 60: 0}), moments({50: 0, 100: 0})
    two = chain(starts, ends, about(40), about(40))
    assert placed(best(two, [1])) == [(0, 0, 0), (1, 2, 1)]


def test_gaps_longer_than_possible_are_no_way() -> None:
    starts, ends = moments({10: 0, 70: 0}), moments({50: 0, 110: 0})
    assert placed(best(chain(starts, ends, about(40), about(40)), [1]))
    impossible = chain(starts, ends, about(40), about(40), gap=SHORT_GAP)
    assert best(impossible, [1]) == (float("-inf"), ())


def test_a_slot_may_be_passed_over() -> None:
    starts, ends = moments({10: 0, 70: 0}), moments({50: 0, 110: 0})
    first = slot(starts, ends, about(40))
    passed = Slot((Arc(0, -1.0),))
    last = slot(starts, ends, about(40), Arc(1, 0.0, flat()))
    lattice = build_lattice([first, passed, last], starts, ends, beam=WIDE_BEAM)
    assert placed(best(lattice, [2])) == [(0, 0, 0), (2, 1, 1)]


def test_a_pass_costs_what_its_arc_says() -> None:
    starts, ends = moments({10: 0}), moments({50: 0})
    for price in (0.0, -2.5):
        lattice = build_lattice([Slot((Arc(-1, price),))], starts, ends, beam=WIDE_BEAM)
        assert best(lattice, [0]) == (price, ())


def test_the_cheaper_of_two_sources_leads_on() -> None:
    starts, ends = moments({10: 0, 70: 0}), moments({50: 0, 110: 0})
    one = slot(starts, ends, about(40))
    other = slot(starts, ends, about(40), Arc(-1, -3.0, flat()))
    last = slot(starts, ends, about(40), Arc(0, -5.0, flat()), Arc(1, 0.0, flat()))
    lattice = build_lattice([one, other, last], starts, ends, beam=WIDE_BEAM)
    assert [step[0] for step in placed(best(lattice, [2]))] == [1, 2]


def test_talk_inside_counts_from_start_to_end() -> None:
    """Sums at two starts and two ends: the stretch from 20 s gains most."""
    starts, ends = moments({10: 0, 20: 0}), moments({50: 0, 90: 0})
    speaks = slot(starts, ends, flat(), inside=(0, -4, 3, 2))
    lattice = build_lattice([speaks], starts, ends, beam=WIDE_BEAM)
    assert best(lattice, [0])[0] == 7
    assert placed(best(lattice, [0])) == [(0, 1, 0)]


def test_nothing_to_place_on_is_no_way() -> None:
    nowhere = moments({})
    assert best(chain(nowhere, nowhere, about(40)), [0]) == (float("-inf"), ())
    assert best(chain(moments({10: 0}), nowhere, about(40)), [0]) == (float("-inf"), ())


def test_no_slots_make_an_empty_lattice() -> None:
    lattice = build_lattice([], moments({10: 0}), moments({50: 0}))
    assert (lattice.slots, lattice.begun, lattice.left) == ((), (), ())


@pytest.mark.parametrize("beam", [14.0, WIDE_BEAM])
def test_a_beam_keeps_what_is_likely(beam: float) -> None:
    """Twelve slots with plain moments come out at once, beside sixty that say little."""
    true = [30 + 60 * at for at in range(12)]
    starts = moments({**dict.fromkeys(range(5, 780, 12), -6.0), **dict.fromkeys(true, 3.0)})
    ends = moments({**dict.fromkeys(range(9, 790, 12), -6.0), **{at + 40: 3.0 for at in true}})
    slots = [
        slot(starts, ends, about(40), Arc(at - 1, 0.0, about(20) if at else flat()))
        for at in range(12)
    ]
    _, steps = best(build_lattice(slots, starts, ends, beam=beam), [11])
    assert [starts.at_ms[step.start] for step in steps] == [1000.0 * at for at in true]
