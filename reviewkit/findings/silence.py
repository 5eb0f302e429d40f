"""Flag silences of 20 s or more inside work intervals, poses of stillness left alone.

In a warm-up or a last stretch quiet is as often meant as not, and misleads nobody.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.language.wordsets import word_set
from reviewkit.measures import words_between
from reviewkit.model import Bridge, Flag, HeardClass, Interval, Word
from reviewkit.times import format_clock, format_seconds

KIND = "dead_air"
LONGEST_MS = 20_000
# Blocks are cut at one length: where one lasts longer, its next stamp was due in a silence. Words
# that it lacks say a little less, and only beyond one and a half times what is usual. Of 47
# silences in 154 labelled classes 30 are told so with 11 false; half the weight beyond twice what
# is usual tells 20 with 3.
_SILENT_FROM_MS = 12_000
_LACK_COUNTS = 0.9
_USUAL_LACKS = 1.5
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
    """Tell whether a silence is none that viewers of work miss something in."""
    return interval.kind != "work" or bool(_STILLNESS & set(interval.move_done.lower().split()))


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


@dataclass(frozen=True, slots=True)
class _Usual:
    """How a coach's blocks are: how long, how many words a millisecond, how far off these.

    ``off_ms`` is how much more or less silence than the pace makes up half of the blocks hold.
    """

    length_ms: float
    pace: float
    off_ms: float

    @classmethod
    def of(cls, blocks: Sequence[Bridge]) -> _Usual:
        pace = median(_words_in(one) / _length_ms(one) for one in blocks)
        off_ms = median(abs(_length_ms(one) - _words_in(one) / pace) for one in blocks)
        return cls(median(map(_length_ms, blocks)), pace, off_ms)

    def silence_ms(self, block: Bridge, interval: Interval) -> float:
        """Give how much of a block speaks for one long silence inside an interval."""
        due_ms = max(start_ms(interval), block.start_ms + self.length_ms)
        overdue_ms = max(0, min(end_ms(interval), block.end_ms) - due_ms)
        # What came late outside the interval was silent there.
        outside_ms = max(0, _length_ms(block) - self.length_ms) - overdue_ms
        lacks_ms = _length_ms(block) - outside_ms - _words_in(block) / self.pace
        return overdue_ms + _LACK_COUNTS * (lacks_ms - _USUAL_LACKS * self.off_ms)


def _quiet_blocks(heard: HeardClass) -> Iterator[Flag]:
    """Flag intervals in a block that holds a long silence, by its length and its words.

    The last block is passed over: nothing says when it ends.
    """
    blocks = [one for one in heard.talk.bridges if one.start_ms < one.end_ms][:-1]
    if len(blocks) < _LEAST_BLOCKS:
        return
    usual = _Usual.of(blocks)
    flagged: set[str] = set()
    for block in blocks:
        within = [one for one in done_intervals(heard) if _shared_ms(one, block) >= LONGEST_MS]
        interval = max(
            within,
            key=lambda one: (usual.silence_ms(block, one), _shared_ms(one, block)),
            default=None,
        )
        if interval is None or interval.id in flagged or _is_meant(interval):
            continue
        if usual.silence_ms(block, interval) >= _SILENT_FROM_MS:
            flagged.add(interval.id)
            start, end = format_clock(block.start_ms), format_clock(block.end_ms)
            yield _flag(
                interval,
                block.start_ms,
                f"little said between {start} and {end}",
                f"A long silence somewhere between {start} and {end}",
            )


def _words_in(block: Bridge) -> int:
    return block.last - block.first + 1


def _length_ms(block: Bridge) -> int:
    return block.end_ms - block.start_ms


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
    """Flag work intervals that hold a silence of 20 s or more.

    Breath sounds written in brackets count as heard. Where the transcript is stamped in
    blocks nobody knows where in one a silence lies: there, intervals are flagged by blocks
    that last longer, or hold far fewer words, than others.
    """
    if heard.talk.clock == "blocks":
        return tuple(_quiet_blocks(heard))
    words = sorted(heard.talk.words, key=lambda word: word.start_ms)
    return tuple(_long_gaps(heard, words))
