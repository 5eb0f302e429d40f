"""Flag silences of 20 s or more inside intervals, poses of stillness left alone."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from statistics import median

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.language.wordsets import word_set
from reviewkit.measures import words_between
from reviewkit.model import Bridge, Flag, HeardClass, Interval, Word
from reviewkit.times import format_clock, format_seconds

KIND = "dead_air"
LONGEST_MS = 20_000
# A block that lacks words for this much of its length, beside what is usual, holds a silence. Of
# 22 silences in 144 labelled classes 13 are told so with 11 false; a smaller lack tells 15 with 37.
_BELOW_USUAL_MS = 22_000
# Fewer blocks do not show what is usual.
_LEAST_BLOCKS = 5
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


def _quiet_blocks(heard: HeardClass) -> Iterator[Flag]:
    """Flag work during which a block has far fewer words than its length should hold.

    A block's stamps tell how long it is and its words how much of it was spoken, while
    nothing tells where inside it the silence lies: it is put into the work that fills most
    of the block. The last block is passed over: nothing says when it ends.
    """
    blocks = [one for one in heard.talk.bridges if one.start_ms < one.end_ms][:-1]
    if len(blocks) < _LEAST_BLOCKS:
        return
    pace = median(_words_in(one) / (one.end_ms - one.start_ms) for one in blocks)
    flagged: set[str] = set()
    for block in blocks:
        silence_ms = block.end_ms - block.start_ms - _words_in(block) / pace
        interval = max(
            (one for one in done_intervals(heard) if one.kind == "work" and not _is_meant(one)),
            key=lambda one: _shared_ms(one, block),
            default=None,
        )
        if silence_ms < _BELOW_USUAL_MS or interval is None or interval.id in flagged:
            continue
        if _shared_ms(interval, block) >= LONGEST_MS:
            flagged.add(interval.id)
            start, end = format_clock(block.start_ms), format_clock(block.end_ms)
            yield _flag(
                interval,
                block.start_ms,
                f"little said between {start} and {end}",
                f"About {format_seconds(round(silence_ms, -3))} more silence than usual, "
                f"somewhere between {start} and {end}",
            )


def _words_in(block: Bridge) -> int:
    return block.last - block.first + 1


def _shared_ms(interval: Interval, block: Bridge) -> int:
    return min(end_ms(interval), block.end_ms) - max(start_ms(interval), block.start_ms)


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
    blocks nobody knows where a silence lies: there, work is flagged in a block with far
    fewer words than its length holds elsewhere.
    """
    if heard.talk.clock == "blocks":
        return tuple(_quiet_blocks(heard))
    words = sorted(heard.talk.words, key=lambda word: word.start_ms)
    return tuple(_long_gaps(heard, words))
