"""When each word of a stretch was said, from the stretch's times and the words alone.

A stretch is text of which only the start and the end are known: a caption, a block
under one stamp, or the words between two inline stamps. Short stretches are talk from
end to end; long ones hold silences, which lie between phrases and not inside them.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

COUNT_STEP_MS = 950
LONG_STRETCH_MS = 8000
RUNNING_WORDS_PER_S = 2.7
# Letters that the pause and onset of any word are worth.
_WORD_WEIGHT = 4.0
_MEAN_LETTERS = 4.2

NUMBERS = {
    word: value
    for value, word in enumerate(
        "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen"
        " fifteen sixteen seventeen eighteen nineteen twenty".split()
    )
} | {"thirty": 30, "forty": 40, "fifty": 50, "sixty": 60}

_OPENERS = frozenset(
    "and now next okay ok alright right last then keep good nice stay breathe inhale exhale"
    " halfway three five ten stop rest ready if we this come drop push hold switch other start"
    " set here go don't first second let's that's you remember big lovely great well".split()
)
_CLOSERS = frozenset("go stop rest done time off there down up".split())


@dataclass(frozen=True, slots=True)
class Timed:
    """Start, end and half-width of the start's range of one word, in ms."""

    start_ms: int
    end_ms: int
    spread_ms: int


def speech_ms(words: Sequence[str], words_per_s: float = RUNNING_WORDS_PER_S) -> list[float]:
    """Give the time that each word takes, start to start, in talk without pauses.

    Counts (two or more numbers in steps of one) take about a second a number; other
    words by their letters.
    """
    per_letter = 1000 / words_per_s / (_MEAN_LETTERS + _WORD_WEIGHT)
    counted = counted_words(words)
    return [
        COUNT_STEP_MS if is_counted else (len(word) + _WORD_WEIGHT) * per_letter
        for word, is_counted in zip(words, counted, strict=True)
    ]


def counted_words(words: Sequence[str]) -> list[bool]:
    """Tell for each word whether it is a number of a spoken count."""
    values = [_number(word) for word in words]
    counted = [False] * len(words)
    last: int | None = None
    for at, value in enumerate(values):
        if value is None:
            continue
        if last is not None and at - last <= 3:
            step = abs(value - (values[last] or 0))
            if step == 1:
                counted[last] = counted[at] = True
        last = at
    return counted


def _number(word: str) -> int | None:
    if word in NUMBERS:
        return NUMBERS[word]
    return int(word) if re.fullmatch(r"[0-9]{1,2}", word) else None


def spread_words(
    words: Sequence[str],
    start_ms: int,
    end_ms: int,
    *,
    texts: Sequence[str] | None = None,
    following: str = "",
    words_per_s: float = RUNNING_WORDS_PER_S,
) -> list[Timed]:
    """Place the words of one stretch between its start and its end.

    Args:
        words: Normed words, in order; may be empty.
        start_ms: When the first word starts.
        end_ms: When the last word is over, or the next stretch starts.
        texts: The words with their punctuation.
        following: The word after the stretch, when it follows at ``end_ms``.
        words_per_s: Rate of running talk.
    """
    if not words:
        return []
    length = max(1, end_ms - start_ms)
    takes = speech_ms(words, words_per_s)
    total = sum(takes)
    if total >= length or length <= LONG_STRETCH_MS:
        scale = length / total
        takes = [take * scale for take in takes]
        gaps = [0.0] * len(words)
        slack = 0.0
    else:
        slack = length - total
        weights = _gap_weights(words, texts or words, following)
        whole = sum(weights)
        gaps = [slack * weight / whole for weight in weights]
    return _place(takes, gaps, start_ms, length, slack)


def _gap_weights(words: Sequence[str], texts: Sequence[str], following: str) -> list[float]:
    """Weigh the chance of a silence after each word."""
    counted = counted_words(words)
    weights = []
    for at, word in enumerate(words):
        after = words[at + 1] if at + 1 < len(words) else following
        weight = 0.1
        if texts[at][-1:] in ".!?":
            weight += 2.0
        if counted[at] and not (at + 1 < len(words) and counted[at + 1]):
            weight += 1.0
        if after in _OPENERS:
            weight += 1.0
        if word in _CLOSERS:
            weight += 0.5
        weights.append(weight)
    return weights


def _place(
    takes: list[float], gaps: list[float], start_ms: int, length: float, slack: float
) -> list[Timed]:
    timed = []
    at = 0.0
    waited = 0.0
    for take, gap in zip(takes, gaps, strict=True):
        share = min(1.0, at / length)
        wait_share = waited / slack if slack else 0.0
        spread = 150 + 0.5 * math.sqrt(1000 * length * share * (1 - share)) * 1.0
        spread += 1.2 * slack * math.sqrt(max(0.0, wait_share * (1 - wait_share)))
        timed.append(
            Timed(round(start_ms + at), round(start_ms + at + min(take, 900)), round(spread))
        )
        at += take + gap
        waited += gap
    return timed
