"""When each word of a stretch was said, from the stretch's times and its words alone.

A stretch is text of which only the start and the end are known: a caption, a block
under one stamp, or the words between two inline stamps. Short stretches are talk from
end to end. Long ones hold silences, and those lie between phrases, not inside them:
what the talk leaves over is shared out among the gaps by how often a silence falls
there.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from reviewkit.language.numbers import find_numbers
from reviewkit.language.wordsets import word_set
from reviewkit.model import Weights
from reviewkit.words.pauses import weigh_pauses

COUNT_STEP_MS = 950
LONG_STRETCH_MS = 8000
RUNNING_WORDS_PER_S = 2.7
LONGEST_WORD_MS = 900
# What a word takes beside its letters, in letters; and the letters of a usual word.
_WORD_WEIGHT = 3.0
_USUAL_LETTERS = 4.2
_FARTHEST_IN_COUNT = 3
_NUMBER_WORDS = word_set(
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen"
    " sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety"
)

# A cut every so many seconds falls in a long silence more often than in a short one.
_BEFORE_NEXT_STRETCH = 2.0
_BEFORE_OWN_END = 0.3
# Chosen so that nine words in ten lie inside, over captions and blocks of many voices.
_SPREAD_MS = 150
_SPREAD_IN_TALK = 0.5
_SPREAD_IN_SILENCE = 0.55
# How far off a guessed end is, as a share of the stretch, nine times in ten.
_SPREAD_AT_OPEN_END = 0.6


@dataclass(frozen=True, slots=True)
class Timed:
    """Start and end of one word, and the half-width that holds its start 9 times in 10."""

    start_ms: int
    end_ms: int
    spread_ms: int


@dataclass(frozen=True, slots=True)
class Stretch:
    """Words in order between two known moments.

    ``texts`` are the words with their punctuation, ``words`` the same normed;
    ``following`` is the word that comes right at ``end_ms``, empty when none does.
    ``is_open`` says that the end is a guess.
    """

    words: tuple[str, ...]
    texts: tuple[str, ...]
    start_ms: int
    end_ms: int
    following: str = ""
    is_open: bool = False


def speech_ms(words: Sequence[str], words_per_s: float = RUNNING_WORDS_PER_S) -> list[float]:
    """Give the time that each normed word takes, start to start, in talk without pauses.

    Numbers of a count take about a second each, other words by their letters.
    """
    per_letter = 1000 / words_per_s / (_USUAL_LETTERS + _WORD_WEIGHT)
    return [
        COUNT_STEP_MS if is_counted else (min(len(word), 20) + _WORD_WEIGHT) * per_letter
        for word, is_counted in zip(words, counted_words(words), strict=True)
    ]


def counted_words(words: Sequence[str]) -> list[bool]:
    """Tell for each normed word whether it is a number of a spoken count.

    A count is two or more numbers in steps of one with at most two other words between
    neighbours ("three, soften it, two").
    """
    counted = [False] * len(words)
    if sum(word[:1].isdecimal() or word in _NUMBER_WORDS for word in words) < 2:
        return counted
    for before, after in pairwise(find_numbers(words)):
        is_near = after.first - before.last <= _FARTHEST_IN_COUNT
        if is_near and abs(after.value - before.value) == 1 and after.first > before.last:
            counted[before.last] = counted[after.last] = True
    return counted


def place_words(
    stretch: Stretch, words_per_s: float = RUNNING_WORDS_PER_S, pauses: Weights | None = None
) -> tuple[Timed, ...]:
    """Place the words of a stretch, in order, between its start and its end.

    Args:
        stretch: The words and the moments between which they were said.
        words_per_s: The rate of running talk.
        pauses: How long the silence beside each word usually is, if that was fitted.

    Returns:
        One time for each word; empty for no words. Starts never fall, and no word
        begins after the stretch's end.
    """
    if not stretch.words:
        return ()
    length = max(1, stretch.end_ms - stretch.start_ms)
    takes = speech_ms(stretch.words, words_per_s)
    total = sum(takes)
    if total >= length or length <= LONG_STRETCH_MS:
        takes = [take * length / total for take in takes]
        gaps = [0.0] * len(takes)
    else:
        weights = gap_weights(stretch, pauses)
        share = (length - total) / sum(weights)
        gaps = [weight * share for weight in weights]
    spread_ms = _open_spread_ms if stretch.is_open else _spread_ms
    return _in_place(takes, gaps, stretch.start_ms, length, spread_ms)


def gap_weights(stretch: Stretch, pauses: Weights | None) -> list[float]:
    """Weigh how much of a stretch's silence falls after each of its words, on average."""
    words = (*stretch.words, stretch.following)
    weights = weigh_pauses(words, stretch.texts, (*counted_words(stretch.words), False), pauses)
    weights[-1] *= _BEFORE_NEXT_STRETCH if stretch.following else _BEFORE_OWN_END
    return weights


def _in_place(
    takes: Sequence[float],
    gaps: Sequence[float],
    start_ms: int,
    length: float,
    spread_ms: Callable[[float, float, float, float], float],
) -> tuple[Timed, ...]:
    slack = sum(gaps)
    timed = []
    at = waited = 0.0
    for take, gap in zip(takes, gaps, strict=True):
        begin = start_ms + at
        timed.append(
            Timed(
                round(begin),
                round(begin + min(take, LONGEST_WORD_MS)),
                round(spread_ms(length, at / length, slack, waited / slack if slack else 0.0)),
            )
        )
        at += take + gap
        waited += gap
    return tuple(timed)


def _spread_ms(length: float, share: float, slack: float, waited: float) -> float:
    """Give the half-width of a start's range: like a bridge tied down at both ends."""
    talk = math.sqrt(1000 * length * max(0.0, share * (1 - share)))
    silence = slack * math.sqrt(max(0.0, waited * (1 - waited)))
    return _SPREAD_MS + _SPREAD_IN_TALK * talk + _SPREAD_IN_SILENCE * silence


def _open_spread_ms(length: float, share: float, slack: float, waited: float) -> float:
    """Give it where nothing ties the stretch down at its end."""
    return _spread_ms(length, share, slack, waited) + _SPREAD_AT_OPEN_END * length * share
