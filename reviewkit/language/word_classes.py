"""Give the classes of a word: what kind of thing it stands for, from tables of the lexicon."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from reviewkit.model import Lexicon
from reviewkit.once import once

# The second list tells what a line is about; edges are weighed by the first alone.
CLASSES = ("word_classes", "line_classes")
_SUFFIXES = ("'s", "s", "ed", "ing", "d", "es")


@dataclass(frozen=True, slots=True, eq=False)
class ClassTable:
    """The classes of the words of both lists."""

    by_word: Mapping[str, tuple[str, ...]]


@once
def class_table(lexicon: Lexicon) -> ClassTable:
    """Index both lists by word."""
    table: dict[str, tuple[str, ...]] = {}
    for line in (line for name in CLASSES for line in lexicon.lists.get(name, ())):
        named = table.get(line.phrase, ())
        table[line.phrase] = (*named, *(f"<{name}>" for name in line.label.split()))
    return ClassTable(table)


@lru_cache(maxsize=20_000)
def classes_of(word: str, table: ClassTable) -> tuple[str, ...]:
    """Give the classes of a word, of its plain form when it has none itself."""
    by_word = table.by_word
    found = by_word.get(word)
    if found is not None:
        return found
    if word.isdigit():
        return ("<number>",)
    for suffix in _SUFFIXES:
        if word.endswith(suffix) and word[: -len(suffix)] in by_word:
            return by_word[word[: -len(suffix)]]
    return ()
