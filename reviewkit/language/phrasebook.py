"""Find thousands of fixed phrases in the words of a class, fast and forgiving of spelling.

Number, hyphens and joined writing make no difference: "push-up", "push up" and
"pushups" are one phrase. A hit always covers whole spoken words.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, chain, pairwise

from spacy.matcher import PhraseMatcher
from spacy.tokens import Doc
from spacy.vocab import Vocab

from reviewkit.language.matching import Fold, fold_phrase, fold_words, singular
from reviewkit.once import once

Words = tuple[str, ...]
# No word, so that no phrase goes over it.
_LINE_END = "\n"


@dataclass(frozen=True, slots=True, order=True)
class Hit:
    """A phrase found: words ``first`` to ``last`` (inclusive) and the key it stands for."""

    first: int
    last: int
    key: str


@dataclass(frozen=True, slots=True, eq=False)
class Phrasebook:
    """Phrases made ready for finding; make one per lexicon and keep it.

    Each phrase stands, with its key, under the one of its words that fewest phrases have.
    """

    by_rarest: Mapping[str, tuple[tuple[Words, str], ...]]
    fold: Fold


class _Matcher:
    """Finds the phrases of a book in talk; one with neighbours that nobody says side by side is
    no phrase to look for, and of thousands nearly all have some."""

    def __init__(self, phrasebook: Phrasebook) -> None:
        self._phrases = phrasebook.by_rarest
        self._sought: set[tuple[Words, str]] = set()
        self._vocab = _vocab()
        self._matcher = PhraseMatcher(self._vocab, attr="ORTH")

    def find(self, lines: Sequence[Sequence[str]]) -> Iterator[tuple[int, str, int, int]]:
        """Give line, key, start and end of every phrase in some lines of folded words."""
        beside = set(chain.from_iterable(map(pairwise, lines)))
        may_be = [
            one
            for word in self._phrases.keys() & set(chain(*lines))
            for one in self._phrases[word]
            if beside.issuperset(pairwise(one[0]))
        ]
        if not may_be:
            return
        for one in may_be:
            if one not in self._sought:
                self._matcher.add(one[1], [Doc(self._vocab, words=list(one[0]))])
                # Only now: whoever listens at the same time must not take it for sought.
                self._sought.add(one)
        # One text for all lines: a text of its own costs more than the words of a line.
        joined = [word for line in lines for word in (*line, _LINE_END)]
        begins = [0, *accumulate(len(line) + 1 for line in lines)]
        strings = self._vocab.strings
        for number, start, end in self._matcher(Doc(self._vocab, words=joined)):
            nth = bisect_right(begins, start) - 1
            yield nth, strings[number], start - begins[nth], end - begins[nth]


@lru_cache(maxsize=1)
def _vocab() -> Vocab:
    """Give the one shared store of word forms; it holds no model."""
    return Vocab()


@once
def _matcher(phrasebook: Phrasebook) -> _Matcher:
    return _Matcher(phrasebook)


def make_phrasebook(phrases: Iterable[tuple[str, str]], *, fold: Fold = singular) -> Phrasebook:
    """Compile ``(phrase, key)`` pairs; a phrase may have several keys, a key many phrases.

    Args:
        phrases: Phrases in plain spelling; empty ones are left out.
        fold: How forms of a word are brought together; ``stem`` is the looser choice.
    """
    pairs = dict.fromkeys((fold_phrase(phrase, fold), key) for phrase, key in phrases)
    spread = Counter(word for words, _ in pairs for word in set(words))
    by_rarest: dict[str, list[tuple[Words, str]]] = {}
    for words, key in pairs:
        if words:
            by_rarest.setdefault(min(words, key=spread.__getitem__), []).append((words, key))
    return Phrasebook({word: tuple(own) for word, own in by_rarest.items()}, fold)


def find_phrases(
    words: Sequence[str], phrasebook: Phrasebook, *, longest: bool = True
) -> tuple[Hit, ...]:
    """Find every phrase in a run of words, in order of place.

    Args:
        words: Norms of spoken words (lower case, no outer punctuation).
        phrasebook: Compiled phrases.
        longest: Leave out hits that lie inside or overlap a longer one; among equally
            long ones the earlier stays. Hits of several keys on the same words all stay.

    Returns:
        Hits that index ``words``; equal hits once.
    """
    return find_in_lines([words], phrasebook, longest=longest)[0]


def find_in_lines(
    lines: Sequence[Sequence[str]], phrasebook: Phrasebook, *, longest: bool = True
) -> list[tuple[Hit, ...]]:
    """Find as ``find_phrases`` does in many runs of words, none of which goes on in the next."""
    parts = [_fold_line(tuple(words), phrasebook.fold) for words in lines]
    hits: list[set[Hit]] = [set() for _ in lines]
    folded = [[part for part, _ in own] for own in parts]
    for line, key, start, end in _matcher(phrasebook).find(folded):
        own = parts[line]
        if not _cuts_word(lines[line], own, start, end):
            hits[line].add(Hit(own[start][1], own[end - 1][1], key))
    return [_keep_longest(own) if longest else tuple(sorted(own)) for own in hits]


# One line is looked through for the phrases of several books.
@lru_cache(maxsize=20_000)
def _fold_line(words: Words, fold: Fold) -> tuple[tuple[str, int], ...]:
    return fold_words(words, fold)


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
