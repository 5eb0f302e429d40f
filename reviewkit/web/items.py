"""Name the things on a review's screen so that they are found again after a correction.

A name is fit for an address and for an id in a page: letters, digits, ``_`` and ``-``.
"""

from __future__ import annotations

from reviewkit.model import Flag, Mark, Promise, TimeCall


def interval_item(interval: str) -> str:
    """Name an interval by its id."""
    return f"interval-{interval}"


def point_item(move: int, point: int) -> str:
    """Name a point by the place of its move and its own place there, both from 0."""
    return f"point-{move}-{point}"


def call_item(call: TimeCall) -> str:
    """Name a time call by its moment."""
    return f"call-{call.at_ms}"


def promise_item(promise: Promise) -> str:
    """Name a promise by what it is about and its moment."""
    return f"promise-{promise.what}-{promise.at_ms}"


def flag_item(flag: Flag) -> str:
    """Name a flag by its kind and its moment."""
    return f"flag-{flag.kind}-{flag.at_ms}"


def heard_item(mark: Mark) -> str:
    """Name something heard by its kind and its moment."""
    return f"heard-{mark.kind}-{mark.start_ms}"


def silence_item(start_ms: int) -> str:
    """Name a silence by the moment it begins."""
    return f"silence-{start_ms}"
