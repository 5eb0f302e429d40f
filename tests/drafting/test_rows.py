"""Planned lengths, sides, kinds and rounds of a drafted plan."""

from __future__ import annotations

import pytest

from reviewkit.drafting.rows import draft_rows, on_timer, planned_lengths
from reviewkit.drafting.spans import WorkSpan
from reviewkit.model import Lexicon, LexiconMove
from tests.talking import talk

CURL = LexiconMove("Curl", (), "curl", "dumbbell", is_sided=True, points=())
LEXICON = Lexicon((CURL,), (), {})


def spans(*seconds: tuple[float, float]) -> tuple[WorkSpan, ...]:
    return tuple(WorkSpan(round(1000 * a), round(1000 * b), 1.0) for a, b in seconds)


def lengths_s(*lengths: float) -> list[float]:
    return [one / 1000 for one in planned_lengths([round(1000 * one) for one in lengths])]


@pytest.mark.parametrize(
    ("lengths", "planned"),
    [
        pytest.param((45, 45.4, 44.2, 45), [45] * 4, id="jitter is rounded off"),
        pytest.param((45, 45, 57, 45, 45), [45] * 5, id="one ran long among its like"),
        pytest.param((40, 40, 40, 31, 40), [40] * 5, id="one was cut short"),
        pytest.param((33, 33.2, 32.8, 33.1), [33] * 4, id="a coach who always stops early"),
        pytest.param((60, 30, 30, 60, 30, 30), [60, 30, 30, 60, 30, 30], id="two lengths"),
        pytest.param((40, 40, 40, 120), [40, 40, 40, 120], id="another plan altogether"),
        pytest.param((52,), [52], id="alone"),
        pytest.param((), [], id="none"),
    ],
)
def test_planned_lengths_are_the_timers(lengths: tuple[float, ...], planned: list[float]) -> None:
    assert lengths_s(*lengths) == planned


def test_an_odd_length_is_held_against_a_promise_near_it() -> None:
    assert planned_lengths([34_000, 34_200, 34_100], [40_000]) == (40_000,) * 3
    assert planned_lengths([45_000, 45_200, 45_100], [40_000]) == (45_000,) * 3
    assert planned_lengths([27_000, 27_000], [60_000]) == (27_000,) * 2


@pytest.mark.parametrize(
    ("length_ms", "shown_ms"), [(44_000, 45_000), (47_400, 47_000), (400, 1000)]
)
def test_on_timer(length_ms: int, shown_ms: int) -> None:
    assert on_timer(length_ms) == shown_ms


def test_rounds_count_up_and_rests_are_shared() -> None:
    four = spans((10, 50), (70.3, 110), (130, 170), (190.4, 230))
    names = ("Squat", "Plank", "Squat", "Plank")
    rows = draft_rows(talk("[240] done"), four, names, LEXICON)
    assert [row.round for row in rows] == [1, 1, 2, 2]
    assert [row.rest_ms for row in rows] == [20_000, 20_000, 20_000, None]
    assert {row.kind for row in rows} == {"work"}


def test_a_move_done_twice_has_two_sides() -> None:
    said = talk("[8] left leg first [50] right leg [50] end")
    rows = draft_rows(said, spans((10, 50), (60, 100)), ("Curl", "Curl"), LEXICON)
    assert [row.side for row in rows] == ["left", "right"]
    assert [row.round for row in rows] == [1, 1]


def test_a_sided_move_with_both_sides_inside_is_each() -> None:
    said = talk("[12] left arm [15] and the right arm [30] end")
    assert draft_rows(said, spans((10, 50)), ("Curl",), LEXICON)[0].side == "each"
    assert draft_rows(said, spans((10, 50)), ("Jog",), LEXICON)[0].side == ""


def test_warm_up_and_cool_down_are_told_by_the_talk() -> None:
    said = talk(
        "let's warm up [40] now the main set [36] [60] [60] [60] and now we stretch [60] bye"
    )
    five = spans((3, 33), (45, 85), (105, 145), (165, 205), (262, 300))
    kinds = [row.kind for row in draft_rows(said, five, ("A", "B", "C", "D", "E"), LEXICON)]
    assert kinds == ["warm-up", "work", "work", "work", "cool-down"]
