"""Timecode read back into frames, to see that what is written means what it should."""

from __future__ import annotations

import re

from reviewkit.edits.timecode import FrameRate

DROPPED = 2
TIMECODE = re.compile(r"(\d\d):([0-5]\d):([0-5]\d)([:;])(\d\d)")


def frame_of(text: str, rate: FrameRate) -> int:
    """Give the frame of a timecode.

    Raises:
        ValueError: It is no timecode of this rate, or names a number that is left out.
    """
    match = TIMECODE.fullmatch(text)
    if match is None or (match[4] == ";") != rate.is_drop or int(match[5]) >= rate.counted:
        raise ValueError(f"{text!r} is no timecode at {rate.name}")
    minutes = 60 * int(match[1]) + int(match[2])
    number = (60 * minutes + int(match[3])) * rate.counted + int(match[5])
    if not rate.is_drop:
        return number
    if minutes % 10 and not int(match[3]) and int(match[5]) < DROPPED:
        raise ValueError(f"{text!r} is left out in drop-frame timecode")
    return number - DROPPED * (minutes - minutes // 10)
