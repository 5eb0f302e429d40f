from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from reviewkit.model import Plan, PlanRow, Side
from reviewkit.placing.slots import ANY_COACH, Layout, lay_out


def plan(*moves: str) -> Plan:
    """Plan moves; a name with a slash says its block."""
    rows = []
    for name in moves:
        part, _, move = name.rpartition("/")
        rows.append(PlanRow(move, 40_000, part or "Main", rest_ms=20_000))
    return Plan("plan.csv", tuple(rows))


def laid(*moves: str) -> Layout:
    return lay_out(plan(*moves), ANY_COACH)


Way = tuple[int | None, ...]


def sequences(layout: Layout) -> set[Way]:
    """List the orders of rows that a layout allows, with None for what nobody planned."""
    ways: list[set[Way]] = []
    for slot in layout.slots:
        before: set[Way] = {
            way for arc in slot.arcs for way in ([()] if arc.source < 0 else ways[arc.source])
        }
        if slot.length is not None:
            before = {(*way, slot.row) for way in before}
        ways.append(before)
    return {way for slot in layout.final for way in ways[slot]}


def orders(layout: Layout) -> set[Way]:
    """List the orders of rows that a layout allows, skips and added intervals left out."""
    return {tuple(row for row in way if row is not None) for way in sequences(layout)}


def test_no_rows_make_no_slots() -> None:
    assert lay_out(Plan("plan.csv", ()), ANY_COACH) == Layout((), ())


def test_sources_come_before_what_follows_them() -> None:
    layout = laid("Squat", "Row", "Plank", "Squat")
    for place, slot in enumerate(layout.slots):
        assert slot.arcs
        assert all(-1 <= arc.source < place for arc in slot.arcs)


def test_every_row_has_a_slot_a_pass_and_an_added_slot() -> None:
    layout = laid("Squat", "cool/Stretch")
    lengths = [slot for slot in layout.slots if slot.length is not None]
    assert [slot.row for slot in lengths if slot.row is not None] == [0, 1]
    assert sum(slot.row is None for slot in lengths) == 2
    assert sum(slot.length is None for slot in layout.slots) == 2


def test_rows_may_be_skipped_one_all_or_none() -> None:
    allowed = orders(laid("warm/March", "Squat", "cool/Stretch"))
    assert allowed == {(), (0,), (1,), (2,), (0, 1), (0, 2), (1, 2), (0, 1, 2)}


def test_no_row_is_done_twice() -> None:
    for way in orders(laid("Squat", "Row", "Plank", "Squat", "Row")):
        assert len(set(way)) == len(way)


def test_neighbouring_moves_of_a_block_may_trade_places() -> None:
    assert (1, 0) in orders(laid("Squat", "Row"))
    assert (0, 2, 1, 3) in orders(laid("Squat", "Row", "Plank", "Press"))


def test_after_a_trade_something_may_come_that_nobody_planned() -> None:
    allowed = sequences(laid("Squat", "Row", "Plank"))
    assert {(1, 0, None, 2), (0, 2, 1, None), (0, None, 1, 2)} <= allowed


def test_sides_may_be_done_the_other_way_round() -> None:
    sides: tuple[Side, ...] = ("left", "right")
    rows = tuple(PlanRow("Lunge", 40_000, side=side) for side in sides)
    assert (1, 0) in orders(lay_out(Plan("plan.csv", rows), ANY_COACH))
    alike = tuple(replace(row, side="") for row in rows)
    assert (1, 0) not in orders(lay_out(Plan("plan.csv", alike), ANY_COACH))


def test_both_rows_of_a_move_trade_together() -> None:
    layout = laid("Row", "Row", "Squat")
    assert (2, 0, 1) in orders(layout)
    assert (0, 2, 1) not in orders(layout)


def test_moves_of_two_blocks_keep_their_places() -> None:
    assert (1, 0) not in orders(laid("warm/March", "main/Squat"))


def test_moves_that_are_no_neighbours_keep_their_places() -> None:
    assert (2, 1, 0) not in orders(laid("Squat", "Row", "Plank"))


def test_a_move_repeated_does_not_trade_with_itself() -> None:
    assert orders(laid("Squat", "Squat")) == {(), (0,), (1,), (0, 1)}


@pytest.mark.parametrize("rest_ms", [None, 0, 20_000])
def test_a_rest_as_planned_is_likelier_than_another(rest_ms: int | None) -> None:
    rows = tuple(PlanRow(move, 40_000, move, rest_ms=rest_ms) for move in ("Squat", "Row"))
    layout = lay_out(Plan("plan.csv", rows), ANY_COACH)
    first = next(place for place, slot in enumerate(layout.slots) if slot.row == 0)
    gaps = [
        arc.gap
        for slot in layout.slots
        for arc in slot.arcs
        if slot.row == 1 and arc.source == first and arc.gap is not None
    ]
    assert gaps
    planned, other = gaps[0].at(np.array([float(rest_ms or 0), 100_000.0]))
    assert planned > other


def test_the_timer_goes_on_around_what_nobody_planned() -> None:
    """The rest of the plan is likelier there than another, and so is a length of the plan."""
    layout = laid("Squat", "Row")
    added = next(
        layout.slots[arc.source]
        for slot in layout.slots
        if slot.row == 1
        for arc in slot.arcs
        if arc.source >= 0
        and layout.slots[arc.source].row is None
        and layout.slots[arc.source].length is not None
    )
    before = next(arc.gap for arc in added.arcs if layout.slots[arc.source].row == 0)
    after = next(
        arc.gap
        for slot in layout.slots
        if slot.row == 1
        for arc in slot.arcs
        if arc.source >= 0 and layout.slots[arc.source] is added
    )
    assert before is not None
    assert after is not None
    assert added.length is not None
    for density, planned_ms, other_ms in (
        (before, 20_000.0, 33_000.0),
        (after, 20_000.0, 33_000.0),
        (added.length, 40_000.0, 53_000.0),
    ):
        planned, other = density.at(np.array([planned_ms, other_ms]))
        assert planned > other > -np.inf


def test_a_length_far_off_the_plan_stays_possible() -> None:
    layout = laid("Squat")
    length = next(slot.length for slot in layout.slots if slot.row == 0)
    assert length is not None
    planned, short, long, absurd = length.at(np.array([40_000.0, 20_000, 70_000, 400_000]))
    assert planned > short > -np.inf
    assert planned > long > -np.inf
    assert absurd == -np.inf


def costs(layout: Layout) -> dict[tuple[int, ...], float]:
    """Give for every set of rows done in order the best of its log-priors."""
    ways: list[dict[tuple[int, ...], float]] = []
    for slot in layout.slots:
        here: dict[tuple[int, ...], float] = {}
        for arc in slot.arcs:
            for way, cost in ({(): 0.0} if arc.source < 0 else ways[arc.source]).items():
                done = way if slot.length is None or slot.row is None else (*way, slot.row)
                here[done] = max(here.get(done, -np.inf), cost + arc.log_prior)
        ways.append(here)
    found: dict[tuple[int, ...], float] = {}
    for last in layout.final:
        for way, cost in ways[last].items():
            found[way] = max(found.get(way, -np.inf), cost)
    return found


def test_of_rounds_alike_the_last_is_the_one_left_out() -> None:
    cost = costs(laid("Squat", "Row", "Squat", "Row", "Squat", "Row"))
    assert cost[0, 1, 2, 3] > cost[0, 1, 4, 5]
    assert cost[0, 1, 2, 3] > cost[2, 3, 4, 5]


def test_a_move_that_comes_once_is_left_out_as_easily_wherever_it_stands() -> None:
    cost = costs(laid("Squat", "Row", "Plank"))
    assert cost[1, 2] == cost[0, 2] == cost[0, 1]
