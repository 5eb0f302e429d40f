from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from reviewkit.marks.edges import weigh_edges
from reviewkit.marks.move_evidence import weigh_moves
from reviewkit.marks.moves import find_moves
from reviewkit.model import Interval, Lexicon, Plan
from reviewkit.placing.intervals import build_intervals
from reviewkit.placing.slots import Trade, move_runs, near_trades
from reviewkit.read import read_lexicon
from tests.coach import Stint, class_talk, even, plan_of


@cache
def lexicon() -> Lexicon:
    return read_lexicon()


def heard(stints: Sequence[Stint], plan: Plan) -> tuple[Interval, ...]:
    talk = class_talk(stints)
    moves = weigh_moves(talk, plan, lexicon(), find_moves(talk, plan, lexicon()))
    return build_intervals(talk, weigh_edges(talk, plan, lexicon()), moves, plan)


def rows_in_order(found: Sequence[Interval]) -> list[int | None]:
    return [one.plan_row for one in found if one.status == "done"]


def traded(stints: Sequence[Stint], one: int, other: int) -> list[Stint]:
    """Let two moves be done, and named more than once, in each other's place."""
    named = [replace(stint, is_named_twice=True) for stint in stints]
    moves = [stint.move for stint in named]
    moves[one], moves[other] = moves[other], moves[one]
    return [replace(stint, move=move) for stint, move in zip(named, moves, strict=True)]


def test_a_class_in_order_has_no_trades() -> None:
    stints = traded(even(5, work_s=40, rest_s=20), 0, 0)
    assert rows_in_order(heard(stints, plan_of(5, work_s=40, rest_s=20))) == [1, 2, 3, 4, 5]


def test_moves_with_others_between_them_may_trade_places() -> None:
    stints = traded(even(5, work_s=40, rest_s=20), 0, 3)
    assert rows_in_order(heard(stints, plan_of(5, work_s=40, rest_s=20))) == [4, 2, 3, 1, 5]


def test_moves_of_different_rounds_never_trade_places() -> None:
    """The move is named in the wrong round, but as itself: nothing was traded."""
    stints = even(10, work_s=40, rest_s=20)
    found = heard(stints, plan_of(10, work_s=40, rest_s=20))
    assert rows_in_order(found) == list(range(1, 11))


# --- how a trade is laid out -------------------------------------------------------------


def test_a_trade_keeps_what_lies_between_in_its_place() -> None:
    trade = Trade(range(1, 3), range(5, 6))
    assert trade.is_far
    assert trade.order == (5, 3, 4, 1, 2)


def test_neighbours_trade_without_anything_between() -> None:
    assert not Trade(range(1, 2), range(2, 4)).is_far
    assert Trade(range(1, 2), range(2, 4)).order == (2, 3, 1)


def test_rows_of_one_move_that_follow_each_other_are_one_run() -> None:
    plan = plan_of(4, work_s=40, rest_s=20)
    rows = (plan.rows[0], plan.rows[1], plan.rows[1], plan.rows[2])
    assert move_runs(rows) == [range(1), range(1, 3), range(3, 4)]
    assert near_trades(rows) == [
        Trade(range(1), range(1, 3)),
        Trade(range(1, 3), range(3, 4)),
    ]
