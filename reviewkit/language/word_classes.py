"""Give the classes and senses of a word: what it stands for, from tables of the lexicon.

A class is what kind of thing a word names, mostly one; senses are all it may be about in a
remark ("burn": an injury, or praise for effort).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from reviewkit.model import Lexicon
from reviewkit.once import once

# The second list tells what a line is about; edges are weighed by the first alone.
CLASSES = ("word_classes", "line_classes")
SENSES = ("senses",)
_SUFFIXES = ("'s", "s", "ed", "ing", "d", "es")


@dataclass(frozen=True, slots=True, eq=False)
class ClassTable:
    """The classes, or the senses, of the words of some lists."""

    by_word: Mapping[str, tuple[str, ...]]


@once
def class_table(lexicon: Lexicon) -> ClassTable:
    """Index the lists of classes by word."""
    return _index(lexicon, CLASSES)


@once
def sense_table(lexicon: Lexicon) -> ClassTable:
    """Index the list of senses by word."""
    return _index(lexicon, SENSES)


def _index(lexicon: Lexicon, lists: Sequence[str]) -> ClassTable:
    table: dict[str, tuple[str, ...]] = {}
    for line in (line for name in lists for line in lexicon.lists.get(name, ())):
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
