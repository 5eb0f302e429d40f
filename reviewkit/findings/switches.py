"""Flag intervals meant for both sides that gave most of their time to one.

The plan says ``each`` and the coach calls the change, so the call's place in the interval
tells how long each side got. Without a call nothing can be said, unless the coach says in
so many words that the side stays, or calls the change everywhere but in an interval that
ended early.
"""

from __future__ import annotations

from collections import defaultdict

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.model import Flag, HeardClass, Interval, Mark
from reviewkit.times import format_seconds

KIND = "side_imbalance"
# Sides called for between these shares of an interval are even enough, as are sides of about
# the same length.
_EARLIEST, _LATEST = 0.4, 0.63
_LEAST_MS = 8_000
# Before this share of an interval no side is done, whatever "the left" there means.
_FIRST_TURN = 0.15
# An interval without a call ended early when it had at most this share of its plan, and a coach
# calls the change elsewhere who did so in at least so many intervals, and in most.
_EARLY = 0.85
_LEAST_CALLED = 2
_INSTEAD = "Call the change at half time, by the clock."


def _calls(heard: HeardClass, interval: Interval, kind: str) -> list[Mark]:
    """Give the calls of a kind inside an interval, its first and last two seconds left out."""
    low, high = start_ms(interval) + 2_000, end_ms(interval) - 2_000
    return [mark for mark in heard.marks if mark.kind == kind and low <= mark.start_ms < high]


def _switches(heard: HeardClass, interval: Interval) -> list[Mark]:
    """Give the calls to change sides; where there is none, the lines that begin like one."""
    calls = _calls(heard, interval, "side_switch")
    begin = start_ms(interval) + _FIRST_TURN * (interval.length_ms or 0)
    turns = _calls(heard, interval, "side_turn")
    return calls or [mark for mark in turns if begin <= mark.start_ms]


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


def _uneven(heard: HeardClass, interval: Interval) -> Flag | None:
    """Flag a change of sides called far from the middle of an interval.

    Where one stamp covers many words, nobody knows where in the interval the call was.
    """
    if heard.talk.clock == "blocks":
        return None
    switches = _switches(heard, interval)
    length_ms = interval.length_ms or 1
    if len(switches) != 1:
        return None
    first_ms = switches[0].start_ms - start_ms(interval)
    share = first_ms / length_ms
    if abs(2 * first_ms - length_ms) < _LEAST_MS or _EARLIEST <= share <= _LATEST:
        return None
    sides = f"{format_seconds(first_ms)} and {format_seconds(length_ms - first_ms)}"
    return _flag(interval, switches[0].start_ms, sides, f"The sides got {sides}.")


def _one_sided(heard: HeardClass, intervals: list[Interval]) -> Flag | None:
    """Flag a move whose side was said to stay and never called to change."""
    if any(_switches(heard, one) for one in intervals):
        return None
    for interval in intervals:
        stays = _calls(heard, interval, "side_same")
        if stays:
            return _flag(
                interval, stays[0].start_ms, stays[0].text, "The other side was never called."
            )
    return None


def _cut_off(heard: HeardClass, intervals: list[Interval]) -> Flag | None:
    """Flag an interval that ended early without a call to change."""
    for interval in intervals:
        high_ms, planned_ms = interval.length_high_ms, interval.planned_ms
        if high_ms is None or planned_ms is None or _switches(heard, interval):
            continue
        if high_ms <= _EARLY * planned_ms:
            text = f"over after {format_seconds(interval.length_ms or 0)}"
            why = "It ended before the other side was called."
            return _flag(interval, start_ms(interval), text, why)
    return None


def find_one_sided_intervals(heard: HeardClass) -> tuple[Flag, ...]:
    """Flag each move for both sides that favoured one, once, by its first such interval."""
    by_move: dict[tuple[str, str], list[Interval]] = defaultdict(list)
    for interval in done_intervals(heard):
        if interval.side == "each" and not interval.done_instead:
            by_move[interval.block, interval.move].append(interval)
    called = [bool(_switches(heard, one)) for own in by_move.values() for one in own]
    calls_mostly = sum(called) >= _LEAST_CALLED and len(called) < 2 * sum(called)
    flags = []
    for intervals in by_move.values():
        uneven = [flag for one in intervals if (flag := _uneven(heard, one)) is not None]
        found = uneven[0] if uneven else _one_sided(heard, intervals)
        if found is None and calls_mostly and heard.talk.clock != "blocks":
            found = _cut_off(heard, intervals)
        if found is not None:
            flags.append(found)
    return tuple(flags)
