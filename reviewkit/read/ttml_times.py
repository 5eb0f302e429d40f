"""Time expressions of TTML: clock times with fractions or frames, offsets, ticks."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

_CLOCK = re.compile(
    r"(?P<h>\d{2,4}):(?P<m>\d{2}):(?P<s>\d{2})"
    r"(?:\.(?P<part>\d{1,9})\d*|:(?P<f>\d{2,4})(?:\.(?P<sub>\d{1,4}))?)?"
)
_OFFSET = re.compile(r"(?P<count>\d{1,15}(?:\.\d{1,12})?)\d*(?P<unit>h|ms|m|s|f|t)")
_UNIT_MS = {"h": 3_600_000, "m": 60_000, "s": 1000, "ms": 1}
_DEFAULT_FRAMES = 30


@dataclass(frozen=True, slots=True)
class Rates:
    """Frames, parts of a frame and ticks: how a document counts within a second."""

    frames_per_s: Fraction = Fraction(_DEFAULT_FRAMES)
    whole_frames: int = _DEFAULT_FRAMES
    sub_frames: int = 1
    ticks_per_s: int = 1

    @classmethod
    def of(cls, attributes: Mapping[str, str]) -> Rates:
        """Take the rates from the attributes of the root; what is no rate is ignored."""
        frames = _whole(attributes.get("frameRate"))
        sub = _whole(attributes.get("subFrameRate")) or 1
        ticks = _whole(attributes.get("tickRate"))
        if ticks is None:
            ticks = frames * sub if frames else 1
        whole_frames = frames or _DEFAULT_FRAMES
        rate = whole_frames * _multiplier(attributes.get("frameRateMultiplier"))
        return cls(rate, whole_frames, sub, ticks)


def _whole(text: str | None) -> int | None:
    if text is None or not re.fullmatch(r"[0-9]{1,12}", text.strip()):
        return None
    return int(text) or None


def _multiplier(text: str | None) -> Fraction:
    """Read ``1000 1001`` (or the older ``1000:1001``); 1 when there is none."""
    parts = [_whole(part) for part in re.split(r"[ :]+", (text or "").strip())]
    if len(parts) == 2 and parts[0] and parts[1]:
        return Fraction(parts[0], parts[1])
    return Fraction(1)


def parse_time(text: str, rates: Rates) -> int | None:
    """Read a time expression.

    Returns:
        Milliseconds, or ``None`` when the text is no time.
    """
    stripped = text.strip()
    if not stripped.isascii():
        return None
    clock = _CLOCK.fullmatch(stripped)
    if clock:
        return _clock_ms(clock, rates)
    offset = _OFFSET.fullmatch(stripped)
    if not offset:
        return None
    count = Fraction(offset["count"])
    if offset["unit"] == "f":
        return round(count * 1000 / rates.frames_per_s)
    if offset["unit"] == "t":
        return round(count * 1000 / rates.ticks_per_s)
    return round(count * _UNIT_MS[offset["unit"]])


def _clock_ms(clock: re.Match[str], rates: Rates) -> int | None:
    minutes, seconds = int(clock["m"]), int(clock["s"])
    if minutes > 59 or seconds > 60:
        return None
    whole = (int(clock["h"]) * 60 + minutes) * 60 + seconds
    part = Fraction(int(clock["part"]), 10 ** len(clock["part"])) if clock["part"] else Fraction(0)
    if clock["f"]:
        frames = int(clock["f"]) + Fraction(int(clock["sub"] or 0), rates.sub_frames)
        if frames >= rates.whole_frames:
            return None
        part = frames / rates.frames_per_s
    return round((whole + part) * 1000)
