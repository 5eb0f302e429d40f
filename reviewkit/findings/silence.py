"""Flag silences of 20 s or more inside work intervals."""

from __future__ import annotations

from itertools import pairwise

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.model import Flag, HeardClass, Interval, Word
from reviewkit.times import format_seconds

KIND = "dead_air"
LONGEST_MS = 20_000
# Words of a block are spread over it, so a silence shows shorter than it was.
_SHOWN_IN_BLOCKS_MS = 15_000


def _edges(interval: Interval, words: list[Word]) -> list[tuple[int, int, str]]:
    """Give the spans of speech that touch an interval, with its edges as empty spans."""
    start, end = start_ms(interval), end_ms(interval)
    inside = [word for word in words if start < word.end_ms and word.start_ms < end]
    return [
        (start, start, ""),
        *((max(start, word.start_ms), min(end, word.end_ms), word.text) for word in inside),
        (end, end, ""),
    ]


def _longest_gap(interval: Interval, words: list[Word]) -> tuple[int, int]:
    """Give start and length of the longest silence in an interval, in milliseconds."""
    gaps = [
        (after[0] - before[1], before[1]) for before, after in pairwise(_edges(interval, words))
    ]
    length, start = max(gaps, key=lambda gap: gap[0])
    return start, length


def _words_before(words: list[Word], at_ms: int) -> str:
    """Quote the last words said before a moment."""
    return " ".join([word.text for word in words if word.end_ms <= at_ms][-6:])


def _about(heard: HeardClass, length_ms: int) -> str:
    """Write a silence's length, without a figure where the clock is coarse."""
    return "A long while" if heard.talk.clock == "blocks" else format_seconds(length_ms)


def find_dead_air(heard: HeardClass) -> tuple[Flag, ...]:
    """Flag each work interval that holds a silence of 20 s or more, by the longest one.

    Breath sounds written in brackets count as heard. Where the transcript is stamped in
    blocks most silences cannot be told from slow talk and are passed over.
    """
    words = sorted(heard.talk.words, key=lambda word: word.start_ms)
    limit_ms = _SHOWN_IN_BLOCKS_MS if heard.talk.clock == "blocks" else LONGEST_MS
    flags = []
    for interval in done_intervals(heard):
        if interval.kind != "work":
            continue
        start, length = _longest_gap(interval, words)
        if length < limit_ms:
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
