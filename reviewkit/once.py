"""Make something once from a large frozen record and keep it while the record is in use.

A lexicon's lists hold thousands of lines; comparing or hashing them on every line of talk
would cost more than reading the talk. Here the same object, not an equal one, counts as
the same. Only a few results are kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import lru_cache, update_wrapper
from typing import Any, Generic, TypeVar, TypeVarTuple

Source = TypeVar("Source")
Sources = TypeVarTuple("Sources")
Result = TypeVar("Result")

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


@dataclass(frozen=True, slots=True)
class Made:
    """What a function made of some records, so that another process need not make it again."""

    function: Once[*tuple[Any, ...], Any]
    sources: tuple[Any, ...]
    result: Any

    def restore(self) -> None:
        """Let the function give this result for these very records from now on."""
        self.function.restore(self)


@dataclass(frozen=True, slots=True)
class _Watch:
    """Collects what is given: what was made before too, or only what is made now."""

    seen: dict[tuple[object, ...], Made]
    counts_known: bool

    def see(self, made: Made) -> None:
        self.seen.setdefault((made.function, *map(_Same, made.sources)), made)


_watching: ContextVar[_Watch | None] = ContextVar("_watching", default=None)


@contextmanager
def all_made(*, or_known: bool = False) -> Iterator[Callable[[], list[Made]]]:
    """Collect whatever functions of this module make for the first time.

    Args:
        or_known: Collect as well what they are asked for and have made before.

    Yields:
        A function that gives what was collected so far, each result once.
    """
    watch = _Watch({}, or_known)
    token = _watching.set(watch)
    try:
        yield lambda: list(watch.seen.values())
    finally:
        _watching.reset(token)


class Once(Generic[*Sources, Result]):
    """A function of records that runs once for the same objects."""

    def __init__(self, make: Callable[[*Sources], Result], kept: int) -> None:
        update_wrapper(self, make)
        self._make = make
        self._restored: dict[tuple[_Same[Any], ...], Result] = {}
        self._remember = lru_cache(maxsize=kept)(self._first)

    def __call__(self, *sources: *Sources) -> Result:
        """Give what is made of these objects, without new work where it is kept."""
        result = self._remember(*(_Same(source) for source in sources))
        if (watch := _watching.get()) is not None and watch.counts_known:
            watch.see(Made(self, sources, result))
        return result

    def __reduce__(self) -> str:
        """Stand for itself by name, as functions do."""
        return self._make.__qualname__

    def restore(self, made: Made) -> None:
        """Keep what was made before as if it had been made now."""
        self._restored[tuple(map(_Same, made.sources))] = made.result
        self._remember(*map(_Same, made.sources))

    def _first(self, *same: _Same[Any]) -> Result:
        if same in self._restored:
            return self._restored.pop(same)
        sources = tuple(one.source for one in same)
        result = self._make(*sources)
        if (watch := _watching.get()) is not None:
            watch.see(Made(self, sources, result))
        return result


def once(make: Callable[[*Sources], Result]) -> Once[*Sources, Result]:
    """Decorate a function of records so that it runs once for the same objects."""
    return Once(make, KEPT)


def once_for(
    kept: int,
) -> Callable[[Callable[[*Sources], Result]], Once[*Sources, Result]]:
    """Decorate as ``once`` does, and keep only so many results: for those that are large."""
    return lambda make: Once(make, kept)
