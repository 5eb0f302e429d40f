"""Make something once from a large frozen record and keep it while the record is in use.

A lexicon's lists hold thousands of lines; comparing or hashing them on every line of talk
would cost more than reading the talk. Here the same object, not an equal one, counts as
the same. Only a few results are kept.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache, wraps
from typing import Generic, TypeVar

Source = TypeVar("Source")
Made = TypeVar("Made")

KEPT = 64


class _Same(Generic[Source]):
    """Stands for one object by identity; holding it keeps its identity from reuse."""

    __slots__ = ("source",)

    def __init__(self, source: Source) -> None:
        self.source = source

    def __hash__(self) -> int:
        return id(self.source)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.source is other.source


def once(make: Callable[[Source], Made]) -> Callable[[Source], Made]:
    """Decorate a function of one record so that it runs once for the same object."""

    @lru_cache(maxsize=KEPT)
    def kept(same: _Same[Source]) -> Made:
        return make(same.source)

    @wraps(make)
    def made(source: Source) -> Made:
        return kept(_Same(source))

    return made
