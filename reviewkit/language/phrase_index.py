"""Find the phrases of a flat word list in words, by label.

A line of a list may carry several labels, written with spaces between them: "gone" may
stand after a number and after "half". Phrases are matched word for word.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reviewkit.model import Phrase
from reviewkit.once import once


@dataclass(frozen=True, slots=True)
class PhraseIndex:
    """The phrases of one label, longest first under their first and under their last word."""

    by_first: dict[str, tuple[tuple[str, ...], ...]]
    by_last: dict[str, tuple[tuple[str, ...], ...]]

    def length_at(self, words: Sequence[str], at: int) -> int:
        """Give the number of words of the longest phrase that starts here, 0 for none."""
        if not 0 <= at < len(words):
            return 0
        for phrase in self.by_first.get(words[at], ()):
            if tuple(words[at : at + len(phrase)]) == phrase:
                return len(phrase)
        return 0

    def length_before(self, words: Sequence[str], at: int) -> int:
        """Give the number of words of the longest phrase that ends just before ``at``."""
        if not 0 < at <= len(words):
            return 0
        for phrase in self.by_last.get(words[at - 1], ()):
            if len(phrase) <= at and tuple(words[at - len(phrase) : at]) == phrase:
                return len(phrase)
        return 0

    def find(self, words: Sequence[str]) -> tuple[tuple[int, int], ...]:
        """List the phrases in the words as (first, last), longest first, none overlapping."""
        if self.by_first.keys().isdisjoint(words):
            return ()
        words = tuple(words)
        found: list[tuple[int, int]] = []
        free = 0
        for at, word in enumerate(words):
            if at >= free and word in self.by_first and (length := self.length_at(words, at)):
                free = at + length
                found.append((at, free - 1))
        return tuple(found)


EMPTY = PhraseIndex({}, {})


@once
def index_phrases(lines: tuple[Phrase, ...]) -> dict[str, PhraseIndex]:
    """Index the lines of a flat list by label; a label nobody uses has no entry."""
    by_label: dict[str, set[tuple[str, ...]]] = {}
    for line in lines:
        for label in line.label.split():
            by_label.setdefault(label, set()).add(tuple(line.phrase.split()))
    return {label: _index(phrases) for label, phrases in by_label.items()}


def _index(phrases: set[tuple[str, ...]]) -> PhraseIndex:
    by_first: dict[str, list[tuple[str, ...]]] = {}
    by_last: dict[str, list[tuple[str, ...]]] = {}
    for phrase in sorted(phrases, key=lambda phrase: (-len(phrase), phrase)):
        by_first.setdefault(phrase[0], []).append(phrase)
        by_last.setdefault(phrase[-1], []).append(phrase)
    return PhraseIndex(
        {word: tuple(entries) for word, entries in by_first.items()},
        {word: tuple(entries) for word, entries in by_last.items()},
    )
