"""Flag silences of 20 s or more inside intervals, poses of stillness left alone."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from statistics import median

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.language.wordsets import word_set
from reviewkit.measures import words_between
from reviewkit.model import Flag, HeardClass, Interval, Word
from reviewkit.times import format_clock, format_seconds

KIND = "dead_air"
LONGEST_MS = 20_000
# Words of a block are spread over it, so that nobody knows where a silence lies. An
# interval is called silent when it holds this much more silence than a usual one of its
# length, and than nearly all others.
_ABOVE_USUAL_MS = 10_000
_ABOVE_MOST_MS = 8_000
_MOST_INTERVALS = 0.8
# Moves in which quiet is meant.
_STILLNESS = word_set("savasana corpse stillness still resting relaxation meditation silence")
_INSTEAD = "Give a form point, a breath or the time left about every ten seconds."


def _edges(interval: Interval, words: list[Word], longest_ms: int) -> list[tuple[int, int]]:
    """Give the spans of speech that touch an interval, with its edges as empty spans."""
    start, end = start_ms(interval), end_ms(interval)
    near = words_between(words, start - longest_ms, end)
    return [
        (start, start),
        *((max(start, one.start_ms), min(end, one.end_ms)) for one in near if start < one.end_ms),
        (end, end),
    ]


def _longest_gap(interval: Interval, words: list[Word], longest_ms: int) -> tuple[int, int]:
    """Give start and length of the longest silence in an interval, in milliseconds.

    No word is longer than ``longest_ms``.
    """
    edges = _edges(interval, words, longest_ms)
    gaps = [(after[0] - before[1], before[1]) for before, after in pairwise(edges)]
    length, start = max(gaps, key=lambda gap: gap[0])
    return start, length


def _words_before(words: list[Word], at_ms: int) -> str:
    """Quote the last words said before a moment."""
    return " ".join([word.text for word in words if word.end_ms <= at_ms][-6:])


def _is_meant(interval: Interval) -> bool:
    return bool(_STILLNESS & set(interval.move_done.lower().split()))


def _silence_ms(interval: Interval, words: list[Word]) -> int:
    """Give the time of an interval that its words do not fill."""
    start, end = start_ms(interval), end_ms(interval)
    spoken = sum(word.end_ms - word.start_ms for word in words_between(words, start, end))
    return max(0, end - start - spoken)


def _flag(interval: Interval, at_ms: int, text: str, why: str) -> Flag:
    why = f"{why}; viewers cannot tell whether they are doing it right or how long is left"
    return Flag(
        KIND,
        at_ms,
        interval.move_done,
        interval.round,
        text,
        why,
        interval=interval.id,
        instead=_INSTEAD,
    )


def _quiet_intervals(heard: HeardClass, words: list[Word]) -> Iterator[Flag]:
    """Flag work in which far less was said than in the class's other intervals.

    The last block is passed over: nothing says how long its words took.
    """
    done = [one for one in done_intervals(heard) if end_ms(one) > start_ms(one)]
    silences = [_silence_ms(one, words) for one in done]
    shares = [
        silence / (end_ms(one) - start_ms(one)) for one, silence in zip(done, silences, strict=True)
    ]
    last_ms = words[-1].start_ms if words else 0
    for at, (interval, silence) in enumerate(zip(done, silences, strict=True)):
        others = sorted(shares[:at] + shares[at + 1 :])
        if not others or interval.kind != "work" or _is_meant(interval):
            continue
        start, end = start_ms(interval), end_ms(interval)
        above = silence - median(others) * (end - start)
        most = others[int(_MOST_INTERVALS * (len(others) - 1))] * (end - start)
        is_quiet = above >= _ABOVE_USUAL_MS and silence - most >= _ABOVE_MOST_MS
        if is_quiet and silence >= LONGEST_MS and end < last_ms:
            yield _flag(
                interval,
                start,
                f"little said between {format_clock(start)} and {format_clock(end)}",
                f"About {format_seconds(round(above, -3))} more silence than usual, somewhere "
                f"between {format_clock(start)} and {format_clock(end)}",
            )


def _long_gaps(heard: HeardClass, words: list[Word]) -> Iterator[Flag]:
    """Flag each interval that holds a silence of 20 s or more, by the longest one."""
    longest_ms = max((word.end_ms - word.start_ms for word in words), default=0)
    for interval in done_intervals(heard):
        start, length = _longest_gap(interval, words, longest_ms)
        if length < LONGEST_MS or _is_meant(interval):
            continue
        said = _words_before(words, start)
        text = f"silence after: {said}" if said else "silence"
        yield _flag(interval, start, text, f"{format_seconds(length)} without a word")


def find_dead_air(heard: HeardClass) -> tuple[Flag, ...]:
    """Flag intervals that hold a silence of 20 s or more.

    Breath sounds written in brackets count as heard. Where the transcript is stamped in
    blocks nobody knows where a silence lies: there, intervals are flagged in which far
    less was said than in the others.
    """
    words = sorted(heard.talk.words, key=lambda word: word.start_ms)
    if heard.talk.clock == "blocks":
        return tuple(_quiet_intervals(heard, words))
    return tuple(_long_gaps(heard, words))
