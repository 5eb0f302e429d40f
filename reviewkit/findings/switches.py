"""Flag intervals meant for both sides that gave most of their time to one.

The plan says ``each`` and the coach calls the change, so the call's place in the interval
tells how long each side got. Without a call nothing can be said, unless the coach says in
so many words that the side stays or that the change came late, or calls the change
everywhere but in an interval that ended early.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.findings.switch_lines import (
    SWITCH_WEIGHTS,
    Floats,
    SwitchLine,
    chances_of,
    find_switch_lines,
)
from reviewkit.findings.weighing import odds_of
from reviewkit.language.lines import split_lines
from reviewkit.model import Flag, HeardClass, Interval, Line, Mark
from reviewkit.times import format_seconds

KIND = "side_imbalance"
# Sides called for between these shares of an interval are even enough, as are sides of about
# the same length. An interval that ended early took its time from the second side.
_EARLIEST, _LATEST, _LATEST_CUT = 0.42, 0.6, 0.58
_LEAST_MS, _LEAST_CUT_MS = 7_000, 6_000
# What is said of a late change before this share of an interval is about another one.
_OWNED_UP_FROM = 0.4
# A coach owns up to a late change until so long after an interval.
_OWNS_UP_MS = 8_000
# An interval without a call ended early when it had at most this share of its plan, and a coach
# calls the change elsewhere who did so in at least so many intervals, and in most.
_EARLY = 0.85
_LEAST_CALLED = 2
# How likely it must be that the change was called far from the middle.
_LIKELY = 0.25
# From these odds on a line is taken for a call where only that there was one matters.
_CALLED_FROM = -1.0
# How sure it must be that it was this move.
_SURE = 0.8
_INSTEAD = "Pause here, and give the other side as long."


def _calls(heard: HeardClass, interval: Interval, kind: str) -> list[Mark]:
    """Give the calls of a kind inside an interval, its first and last two seconds left out."""
    low, high = start_ms(interval) + 2_000, end_ms(interval) - 2_000
    return [mark for mark in heard.marks if mark.kind == kind and low <= mark.start_ms < high]


def _later(marks: list[Mark], interval: Interval, share: float) -> list[Mark]:
    """Keep what was said from a share of an interval on."""
    begin_ms = start_ms(interval) + share * (interval.length_ms or 0)
    return [mark for mark in marks if begin_ms <= mark.start_ms]


def _flag(interval: Interval, at_ms: int, text: str, why: str) -> Flag:
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
class _Called:
    """An interval for both sides, the lines said in it, and the odds of each for the change."""

    interval: Interval
    lines: Sequence[SwitchLine]
    odds: Floats

    @property
    def is_changed(self) -> bool:
        """Tell whether the change was called."""
        return bool((self.odds > _CALLED_FROM).any())


def _read(heard: HeardClass, interval: Interval, lines: Sequence[Line]) -> _Called:
    """Weigh every line of an interval as the one that calls the change."""
    weights = heard.lexicon.weights.get(SWITCH_WEIGHTS)
    found = find_switch_lines(heard, interval, lines) if weights is not None else []
    odds = [odds_of(one.signs, weights) for one in found] if weights is not None else []
    return _Called(interval, found, np.array(odds))


def _uneven(called: _Called) -> tuple[float, Flag] | None:
    """Flag a change of sides called far from the middle of an interval, with its chance."""
    if not called.lines:
        return None
    interval = called.interval
    is_off = np.array([not is_even(interval, one.turn_ms) for one in called.lines])
    chances = chances_of(called.odds, ~is_off) * is_off
    if chances.sum() < _LIKELY:
        return None
    call = called.lines[int(chances.argmax())]
    first_ms = min(call.turn_ms - start_ms(interval), interval.length_ms or 1)
    sides = f"{format_seconds(first_ms)} and {format_seconds((interval.length_ms or 0) - first_ms)}"
    flag = _flag(interval, call.line.start_ms, sides, f"The sides got {sides}.")
    return float(chances.sum()), flag


def is_even(interval: Interval, turn_ms: int) -> bool:
    """Tell whether sides that change at a moment may have got about the same.

    What the edges may be off counts for the coach.
    """
    length_ms = interval.length_ms or 1
    first_ms = min(turn_ms - start_ms(interval), length_ms)
    is_cut = _ended_early(interval)
    latest, least_ms = (_LATEST_CUT, _LEAST_CUT_MS) if is_cut else (_LATEST, _LEAST_MS)
    edges = (edge for edge in (interval.start, interval.end) if edge is not None)
    unsure_ms = sum(edge.high_ms - edge.low_ms for edge in edges) / 2
    off_ms = abs(2 * first_ms - length_ms) - unsure_ms
    return off_ms < least_ms or _EARLIEST <= first_ms / length_ms <= latest


def _owned_up(heard: HeardClass, intervals: list[Interval]) -> Flag | None:
    """Flag a move of which the coach said that the change came late, whatever the clock."""
    for interval in intervals:
        until_ms = end_ms(interval) + _OWNS_UP_MS
        late = (one for one in heard.marks if one.kind == "side_late" and one.start_ms < until_ms)
        said = _later(list(late), interval, _OWNED_UP_FROM)
        if said:
            at_ms, text = said[0].start_ms, said[0].text
            return _flag(interval, at_ms, text, "By these words one side had most of the time.")
    return None


def _one_sided(heard: HeardClass, called: Sequence[_Called]) -> Flag | None:
    """Flag a move whose side was said to stay and never called to change."""
    if any(one.is_changed for one in called):
        return None
    for one in called:
        stays = _calls(heard, one.interval, "side_same")
        if stays:
            return _flag(
                one.interval, stays[0].start_ms, stays[0].text, "The other side was never called."
            )
    return None


def _cut_off(called: Sequence[_Called]) -> Flag | None:
    """Flag an interval that ended early without a call to change."""
    for one in called:
        if _ended_early(one.interval) and not one.is_changed:
            text = f"over after {format_seconds(one.interval.length_ms or 0)}"
            why = "It ended before the other side was called."
            return _flag(one.interval, start_ms(one.interval), text, why)
    return None


def _ended_early(interval: Interval) -> bool:
    high_ms, planned_ms = interval.length_high_ms, interval.planned_ms
    return high_ms is not None and planned_ms is not None and high_ms <= _EARLY * planned_ms


def find_one_sided_intervals(heard: HeardClass) -> tuple[Flag, ...]:
    """Flag each move for both sides that favoured one, once, by its first such interval."""
    by_move: dict[tuple[str, str], list[Interval]] = defaultdict(list)
    for interval in done_intervals(heard):
        if interval.side == "each" and not interval.done_instead and interval.certainty >= _SURE:
            by_move[interval.block, interval.move].append(interval)
    lines = split_lines(heard.talk)
    moves = [[_read(heard, one, lines) for one in own] for own in by_move.values()]
    changed = [one.is_changed for own in moves for one in own]
    calls_mostly = sum(changed) >= _LEAST_CALLED and len(changed) < 2 * sum(changed)
    # Where one stamp covers many words, nobody knows where in an interval a call was.
    is_exact = heard.talk.clock != "blocks"
    flags = []
    for own in moves:
        uneven = [told for one in own if is_exact and (told := _uneven(one)) is not None]
        said = _owned_up(heard, [one.interval for one in own]) or _one_sided(heard, own)
        found = max(uneven, key=lambda told: told[0])[1] if uneven else said
        if found is None and calls_mostly and is_exact:
            found = _cut_off(own)
        if found is not None:
            flags.append(found)
    return tuple(flags)
