"""What the coach said for a point in other classes, as words to record in this one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from reviewkit.rehearse.last_time import Key, key_of
from reviewkit.report.wording import clean

# Fewer words were cut off, and more run on into something else.
FEWEST_WORDS, MOST_WORDS = 3, 14


@dataclass(frozen=True, slots=True)
class OwnWords:
    """Words that gave a point in time, and the class that they come from."""

    text: str
    title: str


# By the words of a move and of a point of it.
OwnWordsByPoint = Mapping[tuple[Key, Key], OwnWords]


def gather_own_words(
    classes: Iterable[tuple[str, Mapping[str, Any]]],
) -> OwnWordsByPoint:
    """Gather the words that gave each point, by the words of its move and its own.

    Args:
        classes: Titles and review documents of other classes, the latest first: it counts
            where several gave a point.
    """
    found: dict[tuple[Key, Key], OwnWords] = {}
    for title, document in classes:
        for move in document.get("moves", ()):
            for point in move["points"]:
                shortest = min(_fitting(point), key=len, default="")
                if shortest:
                    key = key_of(move["move"]), key_of(point["point"])
                    found.setdefault(key, OwnWords(shortest, clean(title)))
    return found


def _fitting(point: Mapping[str, Any]) -> Iterator[str]:
    if point["verdict"] != "said" or point.get("set_aside"):
        return
    for one in point["evidence"]:
        text = clean(one["text"])
        if FEWEST_WORDS <= len(text.split()) <= MOST_WORDS:
            yield text
