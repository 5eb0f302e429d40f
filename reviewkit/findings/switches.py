"""Flag intervals meant for both sides that gave most of their time to one.

The plan says ``each`` and the coach calls the change, so the call's place in the interval
tells how long each side got. Without a call nothing can be said, unless the coach says in
so many words that the side stays or that the change came late, or calls the change
everywhere but in an interval that ended early.
"""

from __future__ import annotations

from collections import defaultdict

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.model import Flag, HeardClass, Interval, Mark
from reviewkit.times import format_seconds

KIND = "side_imbalance"
# Sides called for between these shares of an interval are even enough, as are sides of about
# the same length. An interval that ended early took its time from the second side.
_EARLIEST, _LATEST, _LATEST_CUT = 0.42, 0.6, 0.58
_LEAST_MS, _LEAST_CUT_MS = 7_000, 6_000
# What is said of a late change before this share of an interval is about another one.
_OWNED_UP_FROM = 0.4
# Before this share of an interval no side is done, whatever "the left" there means.
_FIRST_TURN = 0.25
# Which side comes first is said from so long before an interval to this share of it.
_SET_UP_MS, _FIRST_SIDE = 10_000, 0.35
_FEW_WORDS = 6
# A coach owns up to a late change until so long after an interval.
_OWNS_UP_MS = 8_000
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
    """Give the calls to change sides; where there is none, the lines that begin like one.

    Where there is none of these either, the first line that names the side an interval did
    not begin with.
    """
    calls = _calls(heard, interval, "side_switch") or _calls(heard, interval, "side_turn")
    return _later(calls or _other_side_named(heard, interval), interval, _FIRST_TURN)


def _other_side_named(heard: HeardClass, interval: Interval) -> list[Mark]:
    """Give the first line that names the other side than the first one named, if it is late."""
    from_ms, to_ms = start_ms(interval) - _SET_UP_MS, end_ms(interval) - 2_000
    named = [
        mark
        for mark in heard.marks
        if mark.kind in ("side_left", "side_right") and from_ms <= mark.start_ms < to_ms
    ]
    first_ms = start_ms(interval) + _FIRST_SIDE * (interval.length_ms or 0)
    if named and named[0].start_ms > first_ms:
        # Which side came first was not said: a line that says little else changes it.
        return [mark for mark in named[:1] if mark.last - mark.first < _FEW_WORDS]
    return [mark for mark in named if mark.kind != named[0].kind][:1]


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
    # Nobody moves over before the call is out.
    first_ms = min(switches[0].end_ms - start_ms(interval), length_ms)
    share = first_ms / length_ms
    is_cut = _ended_early(interval)
    latest, least_ms = (_LATEST_CUT, _LEAST_CUT_MS) if is_cut else (_LATEST, _LEAST_MS)
    if abs(2 * first_ms - length_ms) < least_ms or _EARLIEST <= share <= latest:
        return None
    sides = f"{format_seconds(first_ms)} and {format_seconds(length_ms - first_ms)}"
    return _flag(interval, switches[0].start_ms, sides, f"The sides got {sides}.")


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
        if _ended_early(interval) and not _switches(heard, interval):
            text = f"over after {format_seconds(interval.length_ms or 0)}"
            why = "It ended before the other side was called."
            return _flag(interval, start_ms(interval), text, why)
    return None


def _ended_early(interval: Interval) -> bool:
    high_ms, planned_ms = interval.length_high_ms, interval.planned_ms
    return high_ms is not None and planned_ms is not None and high_ms <= _EARLY * planned_ms


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
        said = _owned_up(heard, intervals) or _one_sided(heard, intervals)
        found = uneven[0] if uneven else said
        if found is None and calls_mostly and heard.talk.clock != "blocks":
            found = _cut_off(heard, intervals)
        if found is not None:
            flags.append(found)
    return tuple(flags)
