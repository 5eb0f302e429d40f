"""Spans of time and the only place where text becomes time and time becomes text.

Time is a whole number of milliseconds from the start of the recording. A span is
half-open: it holds its start and not its end.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

SECOND_MS = 1000
MINUTE_MS = 60 * SECOND_MS
HOUR_MS = 60 * MINUTE_MS

_LENGTH_PARTS = re.compile(
    r"(?:(?P<m>\d+(?:\.\d+)?)\s*(?:m|min|mins|minute|minutes)\b\.?)?\s*"
    r"(?:(?P<s>\d+(?:\.\d+)?)\s*(?:s|sec|secs|second|seconds)\b\.?)?",
    re.IGNORECASE,
)
_GLUED_LENGTH = re.compile(r"(?P<m>\d+)m(?P<s>\d+(?:\.\d+)?)s?", re.IGNORECASE)
_CLOCK_LENGTH = re.compile(r"(?P<m>\d{1,3}):(?P<s>[0-5]\d(?:\.\d+)?)")
_BARE_SECONDS = re.compile(r"\d+(?:\.\d+)?")


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A stretch of the recording, ``0 <= start_ms < end_ms``."""

    start_ms: int
    end_ms: int

    def __post_init__(self) -> None:
        if not 0 <= self.start_ms < self.end_ms:
            raise ValueError(f"no span from {self.start_ms} to {self.end_ms} ms")

    @property
    def length_ms(self) -> int:
        """Length in milliseconds, always positive."""
        return self.end_ms - self.start_ms

    def holds(self, at_ms: int) -> bool:
        """Tell whether a moment lies inside; the end does not."""
        return self.start_ms <= at_ms < self.end_ms

    def overlap_ms(self, other: Span) -> int:
        """Give the length shared with another span, 0 when they only touch."""
        return max(0, min(self.end_ms, other.end_ms) - max(self.start_ms, other.start_ms))


def parse_length(text: str) -> int | None:
    """Read a planned length such as ``45s``, ``1m30s``, ``0:45``, ``1 min`` or ``45``.

    Returns:
        Milliseconds, or ``None`` when the text is no length of time.
    """
    stripped = text.strip()
    match = (
        _CLOCK_LENGTH.fullmatch(stripped)
        or _GLUED_LENGTH.fullmatch(stripped)
        or _LENGTH_PARTS.fullmatch(stripped)
    )
    if match and (match["m"] or match["s"]):
        return round(60_000 * float(match["m"] or 0) + 1000 * float(match["s"] or 0))
    if _BARE_SECONDS.fullmatch(stripped):
        return round(1000 * float(stripped))
    return None


def format_length(length_ms: int) -> str:
    """Write a length as the plan does: ``45s``, ``1m30s``, ``2m``, ``7.5s``.

    A broken second past a minute is written in seconds, ``60.5s``, which every reader of
    plans takes. ``parse_length`` gives the same length back.
    """
    minutes, rest_ms = divmod(length_ms, MINUTE_MS)
    if rest_ms % SECOND_MS:
        return f"{length_ms / SECOND_MS:.3f}".rstrip("0") + "s"
    seconds = f"{rest_ms // SECOND_MS}s"
    if not minutes:
        return seconds
    return f"{minutes}m" if not rest_ms else f"{minutes}m{seconds}"


def format_clock(at_ms: int) -> str:
    """Write a moment for people: ``0:07``, ``12:30``, ``1:02:03``; cut to the second."""
    minutes, seconds = divmod(max(0, at_ms) // 1000, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02d}:{seconds:02d}" if hours else f"{minutes}:{seconds:02d}"


def format_seconds(length_ms: float, *, signed: bool = False) -> str:
    """Write a length in whole seconds, ``12 s`` or ``+12 s``."""
    return f"{round(length_ms / 1000):+d} s" if signed else f"{round(length_ms / 1000):d} s"
