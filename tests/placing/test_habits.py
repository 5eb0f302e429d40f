from __future__ import annotations

from collections.abc import Sequence

import pytest

from reviewkit.model import Edge, Plan, PlanRow
from reviewkit.placing.edges_found import Found
from reviewkit.placing.habits import learn_habits
from reviewkit.placing.slots import ANY_COACH
from reviewkit.timing import gather


def expected(planned_s: Sequence[float], lengths_s: Sequence[float]) -> list[float]:
    """Give the lengths expected of each row once these lengths were found."""
    rows = tuple(PlanRow("Squat", round(1000 * planned), rest_ms=20_000) for planned in planned_s)
    found = []
    at_ms = 20_000
    for row, length_s in enumerate(lengths_s):
        end_ms = at_ms + round(1000 * length_s)
        length_ms = end_ms - at_ms
        start, end = Edge(at_ms, at_ms, at_ms), Edge(end_ms, end_ms, end_ms)
        found.append(Found(row, start, end, gather([length_ms], [1.0]), 0.0, 1.0))
        at_ms = end_ms + 20_000
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
