"""Flag silences of 20 s or more inside intervals, poses of stillness left alone."""

from __future__ import annotations

from itertools import pairwise

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.language.wordsets import word_set
from reviewkit.model import Flag, HeardClass, Interval, Word
from reviewkit.times import format_seconds

KIND = "dead_air"
LONGEST_MS = 20_000
# Words of a block are spread over it, so that slow talk looks like silence: there, a
# silence must stand out from the longest ones of most other intervals by this much.
_STANDS_OUT = 1.5
_MOST_INTERVALS = 0.75
# Moves in which quiet is meant.
_STILLNESS = word_set("savasana corpse stillness still resting relaxation meditation silence")

# Under few stamps silences are drawn to the words that end an interval: a long one there
# is a guess made from the edge, and tells nothing of the interval.
_DRAWN_MS = 4000


def _edges(interval: Interval, words: list[Word]) -> list[tuple[int, int, str]]:
    """Give the spans of speech that touch an interval, with its edges as empty spans."""
    start, end = start_ms(interval), end_ms(interval)
    inside = [word for word in words if start < word.end_ms and word.start_ms < end]
    return [
        (start, start, ""),
        *((max(start, word.start_ms), min(end, word.end_ms), word.text) for word in inside),
        (end, end, ""),
    ]


def _longest_gap(interval: Interval, words: list[Word], before_end_ms: int) -> tuple[int, int]:
    """Give start and length of the longest silence in an interval, in milliseconds.

    Silences that come closer than ``before_end_ms`` to its end are passed over.
    """
    last = end_ms(interval) - before_end_ms
    gaps = [
        (after[0] - before[1], before[1])
        for before, after in pairwise(_edges(interval, words))
        if after[0] <= last
    ]
    length, start = max(gaps, key=lambda gap: gap[0], default=(0, last))
    return start, length


def _words_before(words: list[Word], at_ms: int) -> str:
    """Quote the last words said before a moment."""
    return " ".join([word.text for word in words if word.end_ms <= at_ms][-6:])


def _about(heard: HeardClass, length_ms: int) -> str:
    """Write a silence's length, without a figure where the clock is coarse."""
    return "A long while" if heard.talk.clock == "blocks" else format_seconds(length_ms)


def _is_meant(interval: Interval) -> bool:
    return bool(_STILLNESS & set(interval.move_done.lower().split()))


def _is_unknown(heard: HeardClass, start_ms: int) -> bool:
    """Tell whether a silence follows the last block: nothing says how long that one was."""
    last_ms = max((word.end_ms for word in heard.talk.words), default=0)
    return heard.talk.clock == "blocks" and start_ms >= last_ms


def _limit_ms(heard: HeardClass, lengths_ms: list[int]) -> float:
    """Give the length from which on a silence counts."""
    if heard.talk.clock != "blocks" or not lengths_ms:
        return LONGEST_MS
    usual_ms = sorted(lengths_ms)[int(_MOST_INTERVALS * (len(lengths_ms) - 1))]
    return max(LONGEST_MS, _STANDS_OUT * usual_ms)


def find_dead_air(heard: HeardClass) -> tuple[Flag, ...]:
    """Flag each interval that holds a silence of 20 s or more, by the longest one.

    Breath sounds written in brackets count as heard. Where the transcript is stamped in
    blocks most silences cannot be told from slow talk and are passed over.
    """
    words = sorted(heard.talk.words, key=lambda word: word.start_ms)
    before_end_ms = _DRAWN_MS if heard.talk.clock == "blocks" else 0
    gaps = [
        (interval, *_longest_gap(interval, words, before_end_ms))
        for interval in done_intervals(heard)
    ]
    limit_ms = _limit_ms(heard, [length for _, _, length in gaps])
    flags = []
    for interval, start, length in gaps:
        if length < limit_ms or _is_meant(interval) or _is_unknown(heard, start):
            continue
        said = _words_before(words, start)
        flags.append(
            Flag(
                KIND,
                start,
                interval.move_done,
                interval.round,
                f"silence after: {said}" if said else "silence",
                f"{_about(heard, length)} without a word; viewers cannot tell whether they are "
                "doing it right or how long is left",
                interval=interval.id,
                instead="Give a form point, a breath or the time left about every ten seconds.",
            )
        )
    return tuple(flags)
