from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.model import Edge, Plan, PlanRow
from reviewkit.placing.edges_found import Found
from reviewkit.placing.habits import learn_habits, own_parts
from reviewkit.placing.slots import ANY_COACH
from reviewkit.timing import gather


def found_lengths(lengths_s: Sequence[float]) -> list[Found]:
    """Place rows one after another, with 20 seconds between them."""
    found = []
    at_ms = 20_000
    for row, length_s in enumerate(lengths_s):
        end_ms = at_ms + round(1000 * length_s)
        length_ms = end_ms - at_ms
        start, end = Edge(at_ms, at_ms, at_ms), Edge(end_ms, end_ms, end_ms)
        found.append(Found(row, start, end, gather([length_ms], [1.0]), 0.0, 1.0))
        at_ms = end_ms + 20_000
    return found


def expected(planned_s: Sequence[float], lengths_s: Sequence[float]) -> list[float]:
    """Give the lengths expected of each row once these lengths were found."""
    rows = tuple(PlanRow("Squat", round(1000 * planned), rest_ms=20_000) for planned in planned_s)
    found = found_lengths(lengths_s)
    habits = learn_habits(found, Plan("plan.csv", rows), ANY_COACH)
    return [(habits.length_factor * row.work_ms + habits.length_shift_ms) / 1000 for row in rows]


def test_nothing_is_learned_from_nothing() -> None:
    assert expected([40, 40], []) == [40, 40]


def test_a_class_as_planned_teaches_nothing() -> None:
    assert expected([40] * 8, [40.2, 39.8, 40, 40.4, 39.9, 40, 40.1, 47]) == [40] * 8


def test_a_few_intervals_make_no_habit() -> None:
    assert expected([40] * 3, [34] * 3) == [40] * 3


def test_lengths_all_over_the_place_make_no_habit() -> None:
    assert expected([40] * 8, [31, 34, 38, 43, 46, 49, 52, 55]) == [40] * 8


def test_a_coach_who_stops_early_every_time_is_expected_to() -> None:
    planned = [20, 30, 40, 50, 60, 70, 80, 90]
    learned = expected(planned, [length - 6 for length in planned])
    assert learned == pytest.approx([length - 6 for length in planned], abs=0.5)


def test_a_coach_who_is_short_by_a_share_is_expected_to_be() -> None:
    planned = [20, 30, 40, 50, 60, 70, 80, 90]
    learned = expected(planned, [0.85 * length for length in planned])
    assert learned == pytest.approx([0.85 * length for length in planned], abs=0.5)


def test_one_odd_interval_does_not_hide_the_habit() -> None:
    learned = expected([40] * 8, [34, 34, 34.2, 33.8, 34, 34.1, 52, 34])
    assert learned == pytest.approx([34] * 8, abs=0.5)


# --- how closely a coach keeps to what is expected -------------------------------------

USUAL = ANY_COACH.length_parts


def shares(off_ms: Sequence[float], usual_count: float = 4.0) -> list[float]:
    return [share for share, _ in own_parts(np.array(off_ms), USUAL, usual_count)]


def test_no_lengths_leave_the_usual_shares() -> None:
    assert shares([]) == pytest.approx([share for share, _ in USUAL])


def test_a_coach_with_a_timer_is_hardly_ever_off_and_one_without_always_is() -> None:
    by_timer, by_feel = shares([0.0] * 20), shares([9000.0, -7000.0, 12_000.0, -5000.0] * 5)
    assert by_timer[0] > USUAL[0][0] > by_feel[0]
    assert by_timer[-1] < USUAL[-1][0] < by_feel[-1]


@given(
    st.lists(st.floats(-60_000, 60_000), max_size=40),
    st.floats(0.5, 50.0),
)
def test_shares_are_a_mixture_in_which_nothing_is_impossible(
    off_ms: list[float], usual_count: float
) -> None:
    learned = shares(off_ms, usual_count)
    assert sum(learned) == pytest.approx(1.0)
    assert min(learned) > 0


@given(st.lists(st.floats(-60_000, 60_000), min_size=1, max_size=40))
def test_the_more_the_usual_counts_the_nearer_the_shares_stay_to_it(off_ms: list[float]) -> None:
    usual = [share for share, _ in USUAL]
    assert shares(off_ms, 1e6) == pytest.approx(usual, abs=0.02)


def test_lengths_too_coarse_teach_no_shares() -> None:
    found = found_lengths([31, 34, 38, 43, 46, 49, 52, 55])
    plan = Plan("plan.csv", tuple(PlanRow("Squat", 40_000, rest_ms=20_000) for _ in range(8)))
    assert learn_habits(found, plan, ANY_COACH, is_exact=False).length_parts == USUAL
    assert learn_habits(found, plan, ANY_COACH).length_parts != USUAL
