"""Make something once from a large frozen record and keep it while the record is in use.

A lexicon's lists hold thousands of lines; comparing or hashing them on every line of talk
would cost more than reading the talk. Here the same object, not an equal one, counts as
the same. Only a few results are kept.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache, wraps
from typing import Any, Generic, TypeVar, TypeVarTuple

Source = TypeVar("Source")
Sources = TypeVarTuple("Sources")
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


def once(make: Callable[[*Sources], Made]) -> Callable[[*Sources], Made]:
    """Decorate a function of records so that it runs once for the same objects."""
    return once_for(KEPT)(make)


def once_for(
    kept: int,
) -> Callable[[Callable[[*Sources], Made]], Callable[[*Sources], Made]]:
    """Decorate as ``once`` does, and keep only so many results: for those that are large."""

    def decorate(make: Callable[[*Sources], Made]) -> Callable[[*Sources], Made]:
        @lru_cache(maxsize=kept)
        def remember(*same: _Same[Any]) -> Made:
            return make(*(one.source for one in same))

        @wraps(make)
        def made(*sources: *Sources) -> Made:
            return remember(*(_Same(source) for source in sources))

        return made

    return decorate
