"""Turn stretches of work with names into a plan: lengths, rests, blocks, sides, rounds.

A planned length is what the timer was set to, so that an interval that ran on past its
like still shows: the length that several intervals share, not each one's own.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from reviewkit.drafting.parts import kinds_of
from reviewkit.drafting.sides import sides_of
from reviewkit.drafting.spans import WorkSpan
from reviewkit.model import Lexicon, PlanRow, Talk
from reviewkit.plans.rounds import count_rounds

# Two durations this close were meant to be the same.
_ALIKE_MS = 2000
_GRID_MS = 5000
_ON_GRID_MS = 1500
_SURELY_ON_GRID_MS = 700
_MOST_OFF_PROMISE = 0.2
# How many neighbours on either side show what is usual around an interval.
_NEIGHBOURS = 4
_CLOSE = 2
_FEWEST_AROUND = 3
# A length that more intervals share than this was planned, whatever surrounds it.
_MOST_ODD = 2
_FEWEST_ALIKE = 2
# An odd length within this factor of the usual one is drift, beyond it another plan.
_MOST_DRIFT = 1.45
_MOST_INNER_DRIFT = 1.7
_BLOCKS = {"warm-up": "Warm-up", "work": "Main", "cool-down": "Cool-down"}


def draft_rows(
    talk: Talk,
    spans: Sequence[WorkSpan],
    names: Sequence[str],
    lexicon: Lexicon,
    *,
    promised_ms: Sequence[int] = (),
) -> tuple[PlanRow, ...]:
    """Make one plan row of each span, in order.

    Args:
        talk: The words of the class.
        spans: Stretches of work in time order.
        names: One name per span.
        lexicon: Knows which moves have sides.
        promised_ms: Lengths of work that the coach promised.
    """
    lengths = planned_lengths([span.end_ms - span.start_ms for span in spans], promised_ms)
    gaps = [after.start_ms - before.end_ms for before, after in pairwise(spans)]
    rests: list[int | None] = [*(_rest(gaps, at) for at in range(len(gaps))), None]
    kinds, sides = kinds_of(talk, spans), sides_of(talk, spans, names, lexicon)
    rows = (
        PlanRow(name, length, _BLOCKS[kind], kind, 1, side, rest)
        for name, length, kind, side, rest in zip(
            names[: len(spans)], lengths, kinds, sides, rests[: len(spans)], strict=True
        )
    )
    return count_rounds((row, False) for row in rows)


def planned_lengths(lengths_ms: Sequence[int], promised_ms: Sequence[int] = ()) -> tuple[int, ...]:
    """Give what each interval was planned to last, from what all of them lasted.

    Lengths that no timer shows (44 s) are those of a coach who starts late or stops
    early all through; a promised length near them was the plan.
    """
    usual = [_shared(lengths_ms, at) for at in range(len(lengths_ms))]
    return tuple(
        on_timer(
            _surrounding(lengths_ms, usual, at)
            or usual[at]
            or _like_neighbours(lengths_ms, usual, at),
            promised_ms,
        )
        for at in range(len(lengths_ms))
    )


def _surrounding(lengths_ms: Sequence[int], usual: Sequence[int | None], at: int) -> int | None:
    """Give the usual length both before and after an interval that is unlike its neighbours."""
    own = lengths_ms[at]
    if _alike(own, lengths_ms) > _MOST_ODD:
        return None
    around = [*usual[max(0, at - _CLOSE) : at], *usual[at + 1 : at + 1 + _CLOSE]]
    near = [one for one in around if one is not None]
    for one in near:
        is_drift = own / _MOST_INNER_DRIFT <= one <= own * _MOST_INNER_DRIFT
        if is_drift and abs(one - own) > _ALIKE_MS and _alike(one, near) >= _FEWEST_AROUND:
            return one
    return None


def _alike(length_ms: int, others_ms: Sequence[int]) -> int:
    """Count the lengths that were meant to be the same as one."""
    return sum(abs(one - length_ms) <= _ALIKE_MS for one in others_ms)


def _shared(lengths_ms: Sequence[int], at: int) -> int | None:
    """Give the length that an interval shares with others, None when it stands alone."""
    alike = [one for one in lengths_ms if abs(one - lengths_ms[at]) <= _ALIKE_MS]
    return round(median(alike)) if len(alike) >= _FEWEST_ALIKE else None


def _like_neighbours(lengths_ms: Sequence[int], usual: Sequence[int | None], at: int) -> int:
    """Give the length that is usual around an odd interval, or its own."""
    own = lengths_ms[at]
    around = usual[max(0, at - _NEIGHBOURS) : at + _NEIGHBOURS + 1]
    near = [one for one in around if one and own / _MOST_DRIFT <= one <= own * _MOST_DRIFT]
    if len(near) < _FEWEST_ALIKE:
        return own
    return max(near, key=lambda one: _alike(one, near))


def on_timer(length_ms: int, promised_ms: Sequence[int] = ()) -> int:
    """Round a length to what a timer would show: five seconds where it is near, else one."""
    rounded = _GRID_MS * round(length_ms / _GRID_MS)
    meant = min(promised_ms, key=lambda one: abs(one - length_ms), default=0)
    is_odd = abs(rounded - length_ms) > _SURELY_ON_GRID_MS
    if is_odd and abs(meant - length_ms) <= _MOST_OFF_PROMISE * meant:
        return meant
    if rounded and abs(rounded - length_ms) <= _ON_GRID_MS:
        return rounded
    return max(1000, 1000 * round(length_ms / 1000))


def _rest(gaps_ms: Sequence[int], at: int) -> int:
    alike = [gap for gap in gaps_ms if abs(gap - gaps_ms[at]) <= _ALIKE_MS]
    rounded = _GRID_MS * round(median(alike) / _GRID_MS)
    is_near = abs(rounded - median(alike)) <= _ON_GRID_MS
    return rounded if is_near else 1000 * round(median(alike) / 1000)
