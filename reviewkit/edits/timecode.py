"""Milliseconds as frames and as timecode, exact for every rate that video is edited at.

Timecode counts frames in whole numbers a second. At 29.97 that is 30, so that the count
falls behind the clock by 3.6 s in an hour; drop-frame timecode makes up for it and leaves
out two numbers at every full minute but each tenth. No frame is lost by it.

Source: SMPTE ST 12-1:2014, Time and Control Code, section 5.2.2.
"""

from __future__ import annotations

from dataclasses import dataclass

from reviewkit.errors import InputError
from reviewkit.times import SECOND_MS

_DAY_S = 24 * 60 * 60
_DROPPED = 2


@dataclass(frozen=True, slots=True)
class FrameRate:
    """Frames a second as the fraction ``frames`` / ``seconds``; timecode counts ``counted``."""

    name: str
    frames: int
    seconds: int
    counted: int
    is_drop: bool = False


RATES: dict[str, FrameRate] = {
    one.name: one
    for one in (
        FrameRate("24", 24, 1, 24),
        FrameRate("25", 25, 1, 25),
        FrameRate("29.97-drop", 30_000, 1001, 30, is_drop=True),
        FrameRate("29.97-non-drop", 30_000, 1001, 30),
        FrameRate("30", 30, 1, 30),
        FrameRate("50", 50, 1, 50),
        FrameRate("60", 60, 1, 60),
    )
}
USUAL_RATE = RATES["30"]


def parse_rate(text: str) -> FrameRate:
    """Find a frame rate by its name in ``RATES``.

    Raises:
        InputError: There is none of that name.
    """
    try:
        return RATES[text.strip().lower()]
    except KeyError:
        raise InputError(
            "--rate", None, f'no frame rate is called "{text}"; choose of {", ".join(RATES)}'
        ) from None


def nearest_frame(at_ms: int, rate: FrameRate) -> int:
    """Give the frame whose start is nearest to a moment; the later one in the middle."""
    return (2 * at_ms * rate.frames + _unit(rate)) // (2 * _unit(rate))


def frame_not_before(at_ms: int, rate: FrameRate) -> int:
    """Give the first frame that starts at a moment or after it."""
    return -(-at_ms * rate.frames // _unit(rate))


def frame_not_after(at_ms: int, rate: FrameRate) -> int:
    """Give the last frame that starts at a moment or before it."""
    return at_ms * rate.frames // _unit(rate)


def frame_start_ms(frame: int, rate: FrameRate) -> int:
    """Give the start of a frame, to the nearest millisecond."""
    return (2 * frame * _unit(rate) + rate.frames) // (2 * rate.frames)


def timecode(frame: int, rate: FrameRate) -> str:
    """Write a frame as timecode; drop-frame has a semicolon. After 24 hours it starts anew."""
    number = _with_dropped(frame, rate) if rate.is_drop else frame
    seconds, rest = divmod(number, rate.counted)
    minutes, second = divmod(seconds % _DAY_S, 60)
    hours, minute = divmod(minutes, 60)
    mark = ";" if rate.is_drop else ":"
    return f"{hours:02d}:{minute:02d}:{second:02d}{mark}{rest:02d}"


def _unit(rate: FrameRate) -> int:
    return SECOND_MS * rate.seconds


def _with_dropped(frame: int, rate: FrameRate) -> int:
    """Give the number that a frame carries when the numbers left out are counted as well."""
    minute = 60 * rate.counted - _DROPPED
    ten_minutes = 10 * minute + _DROPPED
    tens, rest = divmod(frame, ten_minutes)
    skipped = 9 * _DROPPED * tens
    # The first minute of each ten is whole, and so two frames longer than the others.
    return frame + skipped + _DROPPED * max(0, (rest - _DROPPED) // minute)
