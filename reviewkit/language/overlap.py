"""Tell whether two stretches of words share any."""

from __future__ import annotations

from typing import Protocol


class Stretch(Protocol):
    """Words from ``first`` to ``last``: a mark, a line, a call."""

    @property
    def first(self) -> int:
        """The place of the first word."""

    @property
    def last(self) -> int:
        """The place of the last word."""


def overlaps(one: Stretch, other: Stretch) -> bool:
    """Tell whether two stretches have a word in common."""
    return one.first <= other.last and other.first <= one.last
