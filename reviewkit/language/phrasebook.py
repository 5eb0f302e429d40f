"""Find thousands of fixed phrases in the words of a class, fast and forgiving of spelling.

Number, hyphens and joined writing make no difference: "push-up", "push up" and
"pushups" are one phrase. A hit always covers whole spoken words.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from reviewkit.language.matching import Fold, fold_phrase, fold_words, singular


@dataclass(frozen=True, slots=True, order=True)
class Hit:
    """A phrase found: words ``first`` to ``last`` (inclusive) and the key it stands for."""

    first: int
    last: int
    key: str


@dataclass(frozen=True, slots=True)
class Phrasebook:
    """Phrases made ready for finding; make one per lexicon and keep it.

    ``keys`` are those of each folded phrase, and none for what phrases only begin with.
    """

    keys: Mapping[tuple[str, ...], tuple[str, ...]]
    fold: Fold


def make_phrasebook(phrases: Iterable[tuple[str, str]], *, fold: Fold = singular) -> Phrasebook:
    """Index ``(phrase, key)`` pairs; a phrase may have several keys, a key many phrases.

    Args:
        phrases: Phrases in plain spelling; empty ones are left out.
        fold: How forms of a word are brought together; ``stem`` is the looser choice.
    """
    keys: dict[tuple[str, ...], dict[str, None]] = {}
    for phrase, key in phrases:
        parts = fold_phrase(phrase, fold)
        for end in range(1, len(parts)):
            keys.setdefault(parts[:end], {})
        if parts:
            keys.setdefault(parts, {})[key] = None
    return Phrasebook({parts: tuple(own) for parts, own in keys.items()}, fold)


def find_phrases(
    words: Sequence[str], phrasebook: Phrasebook, *, longest: bool = True
) -> tuple[Hit, ...]:
    """Find every phrase in a run of words, in order of place.

    Args:
        words: Norms of spoken words (lower case, no outer punctuation).
        phrasebook: Indexed phrases.
        longest: Leave out hits that lie inside or overlap a longer one; among equally
            long ones the earlier stays. Hits of several keys on the same words all stay.

    Returns:
        Hits that index ``words``; equal hits once.
    """
    parts = fold_words(words, phrasebook.fold)
    hits = {
        Hit(parts[start][1], parts[end - 1][1], key)
        for start, end, keys in _places(parts, phrasebook)
        if not _cuts_word(words, parts, start, end)
        for key in keys
    }
    return _keep_longest(hits) if longest else tuple(sorted(hits))


def _places(
    parts: Sequence[tuple[str, int]], phrasebook: Phrasebook
) -> Iterator[tuple[int, int, tuple[str, ...]]]:
    """Give every run of parts that is a phrase: its first part, the one after it, its keys."""
    spoken = tuple(part for part, _ in parts)
    for start in range(len(spoken)):
        for end in range(start + 1, len(spoken) + 1):
            keys = phrasebook.keys.get(spoken[start:end])
            if keys is None:
                break
            if keys:
                yield start, end, keys


def _cuts_word(
    words: Sequence[str], parts: Sequence[tuple[str, int]], start: int, end: int
) -> bool:
    """Tell whether a hit takes only part of a joined word; a hyphen may be cut at."""
    cuts_first = start > 0 and parts[start - 1][1] == parts[start][1]
    cuts_last = end < len(parts) and parts[end][1] == parts[end - 1][1]
    return (cuts_first and "-" not in words[parts[start][1]]) or (
        cuts_last and "-" not in words[parts[end - 1][1]]
    )


def _keep_longest(hits: Iterable[Hit]) -> tuple[Hit, ...]:
    """Drop each hit that shares a word with a longer (or equal, earlier) one."""
    kept: dict[tuple[int, int], list[Hit]] = {}
    taken: set[int] = set()
    for hit in sorted(hits, key=lambda hit: (hit.first - hit.last, hit.first, hit.key)):
        place = (hit.first, hit.last)
        if place in kept:
            kept[place].append(hit)
        elif taken.isdisjoint(range(hit.first, hit.last + 1)):
            kept[place] = [hit]
            taken.update(range(hit.first, hit.last + 1))
    return tuple(sorted(hit for group in kept.values() for hit in group))
