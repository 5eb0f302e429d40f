"""TTML and IMSC -> cues."""

from __future__ import annotations

from reviewkit.read.reading import Reading


def is_ttml(text: str) -> bool:
    return False


def read_ttml(text: str, source: str) -> Reading:
    """Read."""
    return Reading("ttml", ())
