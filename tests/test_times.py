from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.times import HOUR_MS, format_length, parse_length


@pytest.mark.parametrize(
    ("length_ms", "text"),
    [
        (0, "0s"),
        (7_500, "7.5s"),
        (45_000, "45s"),
        (60_000, "1m"),
        (60_500, "60.5s"),
        (90_000, "1m30s"),
        (90_001, "90.001s"),
    ],
)
def test_a_length_is_written_as_plans_do(length_ms: int, text: str) -> None:
    assert format_length(length_ms) == text


@given(st.integers(0, 5 * HOUR_MS))
def test_a_length_that_was_written_is_read_back(length_ms: int) -> None:
    assert parse_length(format_length(length_ms)) == length_ms


@pytest.mark.parametrize("text", ["", "m", "1.5m30", "1m30.s", "1m-5s", "soon"])
def test_what_is_no_length_is_refused(text: str) -> None:
    assert parse_length(text) is None


def test_broken_seconds_may_stand_behind_minutes() -> None:
    assert parse_length("1m0.5s") == 60_500
