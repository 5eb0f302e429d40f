from __future__ import annotations

import opentimelineio as otio
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewkit.edits.timecode import (
    RATES,
    FrameRate,
    frame_not_after,
    frame_not_before,
    frame_start_ms,
    nearest_frame,
    parse_rate,
    timecode,
)
from reviewkit.errors import InputError
from tests.edits.timecodes import frame_of

DAY_MS = 24 * 60 * 60 * 1000
every_rate = pytest.mark.parametrize("rate", RATES.values(), ids=lambda rate: rate.name)
moments = st.integers(0, DAY_MS - 100_000)


def fps(rate: FrameRate) -> float:
    return rate.frames / rate.seconds


@every_rate
@given(at_ms=moments)
def test_a_frame_is_read_back_from_its_timecode_and_from_its_start(
    rate: FrameRate, at_ms: int
) -> None:
    frame = nearest_frame(at_ms, rate)
    assert frame_of(timecode(frame, rate), rate) == frame
    start_ms = frame_start_ms(frame, rate)
    assert nearest_frame(start_ms, rate) == frame
    assert abs(start_ms - at_ms) <= 500 * rate.seconds / rate.frames + 1


@every_rate
@given(at_ms=moments)
def test_frames_around_a_moment_hold_it(rate: FrameRate, at_ms: int) -> None:
    before, after = frame_not_after(at_ms, rate), frame_not_before(at_ms, rate)
    assert frame_start_ms(before, rate) <= at_ms <= frame_start_ms(after, rate)
    assert after - before in (0, 1)
    assert nearest_frame(at_ms, rate) in (before, after)


@every_rate
@given(at_ms=moments)
def test_timecode_is_that_of_an_independent_library(rate: FrameRate, at_ms: int) -> None:
    frame = nearest_frame(at_ms, rate)
    theirs = otio.opentime.to_timecode(
        otio.opentime.RationalTime(frame, fps(rate)), fps(rate), rate.is_drop
    )
    assert timecode(frame, rate) == theirs
    read = otio.opentime.from_timecode(timecode(frame, rate), fps(rate))
    assert round(read.value) == frame


@pytest.mark.parametrize(
    ("name", "frame", "text"),
    [
        ("29.97-drop", 1799, "00:00:59;29"),
        ("29.97-drop", 1800, "00:01:00;02"),
        ("29.97-drop", 17981, "00:09:59;29"),
        ("29.97-drop", 17982, "00:10:00;00"),
        ("29.97-drop", 107_892, "01:00:00;00"),
        ("29.97-non-drop", 107_892, "00:59:56:12"),
        ("25", 90_000, "01:00:00:00"),
        ("60", 59, "00:00:00:59"),
    ],
)
def test_known_timecodes(name: str, frame: int, text: str) -> None:
    assert timecode(frame, RATES[name]) == text
    assert frame_of(text, RATES[name]) == frame


def test_drop_frame_keeps_up_with_the_clock() -> None:
    rate = RATES["29.97-drop"]
    assert timecode(nearest_frame(3_600_000, rate), rate) == "01:00:00;00"


def test_timecode_starts_anew_after_a_day() -> None:
    assert timecode(25 * 60 * 60 * 24, RATES["25"]) == "00:00:00:00"


@pytest.mark.parametrize("text", ["00:01:00;00", "00:01:00:02", "00:00:00;30", "0:0:0;0", ""])
def test_what_is_no_drop_frame_timecode_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="timecode"):
        frame_of(text, RATES["29.97-drop"])


def test_rates_are_chosen_by_name() -> None:
    assert parse_rate(" 29.97-DROP ").is_drop
    with pytest.raises(InputError, match=r"29\.97-drop, 29\.97-non-drop"):
        parse_rate("29.97")
