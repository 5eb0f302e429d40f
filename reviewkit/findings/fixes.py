"""List what to do about a class: safety before form before timing, most important first.

A recorded class is mended in four ways: cut a piece, record a line over a gap, put a
caption on the screen, or say it another way next time. Nothing is listed for what is
unclear, and what happened several times is one fix.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reviewkit.findings.gaps import Gap, gap_for
from reviewkit.findings.places import done_intervals, start_ms
from reviewkit.model import (
    PROMISED_IN_SECONDS,
    Fix,
    Flag,
    HeardClass,
    Interval,
    MoveFinding,
    PointFinding,
    Promise,
    TimeCall,
)
from reviewkit.times import format_clock, format_seconds

MOST_FIXES = 15
_MOST_SUGGESTED = 3
# Order of importance; ties by time.
_RISK, _SAFETY, _CONFLICT, _MISSING_PART, _SIDES, _FORM = range(6)
_CALLS, _PROMISE, _LENGTHS, _SILENCE, _BREATH, _ORDER, _SUGGESTED = range(6, 13)


@dataclass(frozen=True, slots=True)
class _Todo:
    """A fix before it is ranked; a lower ``rank`` matters more."""

    rank: int
    at_ms: int
    what: str
    how: str
    interval: str | None = None


def _quote(text: str, most_words: int = 14) -> str:
    """Quote words, cut in the middle of a long line."""
    words = text.split()
    shown = words if len(words) <= most_words else [*words[:most_words], "\u2026"]
    return "\u201c" + " ".join(shown) + "\u201d"


def _clocks(moments: Sequence[int], most: int = 5) -> str:
    """List moments of the class; the rest of a long list is counted."""
    shown = [format_clock(moment) for moment in moments[:most]]
    more = len(moments) - len(shown)
    return ", ".join(shown) + (f" and {more} more" if more else "")


def _risks(flags: Sequence[Flag]) -> list[_Todo]:
    return [
        _Todo(
            _RISK,
            flag.at_ms,
            f"Take back risky words at {format_clock(flag.at_ms)}: {_quote(flag.text)}",
            f"Cut the line, or put a caption over it: {_quote(flag.instead, 30)}",
            flag.interval,
        )
        for flag in flags
        if flag.kind == "risky_talk"
    ]


def _first_done(heard: HeardClass, move: str) -> Interval | None:
    return next((one for one in done_intervals(heard) if one.move == move), None)


def _line_of(point: PointFinding) -> str:
    return point.line or point.point


def _point_todo(
    heard: HeardClass, move: MoveFinding, points: Sequence[PointFinding], rank: int
) -> _Todo | None:
    """Make one fix of a move's points of one kind; ``None`` when the move was not done."""
    interval = _first_done(heard, move.move)
    if interval is None:
        return None
    gap = gap_for(heard, interval)
    lines = " ".join(_quote(_line_of(point), 30) for point in points)
    names = "; ".join(
        f"{point.point} ({'said late' if point.verdict == 'late' else 'not said'})"
        for point in points
    )
    what = f"{move.move}: {names}"
    return _Todo(rank, gap.at_ms, what, f"{_laid(gap)}: {lines}", interval.id)


def _laid(gap: Gap) -> str:
    """Say where to lay a line; none is recorded over talk."""
    at = format_clock(gap.at_ms)
    if gap.fits:
        return f"Record over the gap at {at}, or put it there as a caption"
    why = "" if gap.fits is None else ", as no gap is long enough to record over"
    return f"Put a caption at {at}{why}"


def _points(heard: HeardClass, moves: Sequence[MoveFinding]) -> list[_Todo]:
    """Make fixes of the plan's points that were not given in time, one a move and kind."""
    todos = []
    for move in moves:
        for kind, rank in (("safety", _SAFETY), ("form", _FORM)):
            wanted = [
                point
                for point in move.points
                if point.asked_by == "plan" and point.kind == kind and point.verdict != "said"
            ]
            todo = _point_todo(heard, move, wanted, rank) if wanted else None
            if todo is not None:
                todos.append(todo)
    return todos


def _suggested(heard: HeardClass, moves: Sequence[MoveFinding]) -> list[_Todo]:
    """Suggest the lexicon's safety points that were never given, for a few moves."""
    todos = []
    for move in moves:
        interval = _first_done(heard, move.move)
        points = [
            point
            for point in move.points
            if point.asked_by == "lexicon" and point.kind == "safety" and point.verdict == "missing"
        ]
        if interval is None or not points or interval.kind != "work":
            continue
        how = f"Say next time, early in the move: {_quote(_line_of(points[0]), 30)}"
        what = f"{move.move}: consider a safety point: {points[0].point}"
        todos.append(_Todo(_SUGGESTED, start_ms(interval), what, how, interval.id))
    return todos[:_MOST_SUGGESTED]


def _conflicts(flags: Sequence[Flag]) -> list[_Todo]:
    return [
        _Todo(
            _CONFLICT,
            flag.at_ms,
            f"{flag.move or 'Class'}: {_quote(flag.other_text)} and {_quote(flag.text)} disagree",
            "Keep the one you mean, cut the other, or say in a caption why they differ",
            flag.interval,
        )
        for flag in flags
        if flag.kind == "contradiction"
    ]


_PARTS = {
    "no_warm_up": "No warm-up was done",
    "no_cool_down": "No cool-down was done",
}


def _structure(flags: Sequence[Flag]) -> list[_Todo]:
    """Make fixes of missing parts and uneven sides."""
    parts = [
        _Todo(_MISSING_PART, flag.at_ms, _PARTS[flag.kind], flag.instead, flag.interval)
        for flag in flags
        if flag.kind in _PARTS
    ]
    sides = [
        _Todo(
            _SIDES,
            flag.at_ms,
            f"{flag.move}: the sides are uneven ({flag.text})",
            "Trim the longer side, or put a caption after the shorter: "
            f"{_quote(flag.instead, 30)}; next time run both sides by the same clock",
            flag.interval,
        )
        for flag in flags
        if flag.kind == "side_imbalance"
    ]
    order = [
        _Todo(
            _ORDER,
            flag.at_ms,
            flag.why.removesuffix("."),
            "Change the plan that viewers see, or name the next move in a caption",
            flag.interval,
        )
        for flag in flags
        if flag.kind == "order"
    ]
    return [*parts, *sides, *order]


def _calls(time_calls: Sequence[TimeCall]) -> list[_Todo]:
    """Make one fix of all wrong time calls."""
    wrong = [call for call in time_calls if call.verdict == "wrong"]
    if not wrong:
        return []
    first = wrong[0]
    if len(wrong) == 1 and first.actual_left_ms is not None:
        left = format_seconds(first.actual_left_ms)
        what = f"Wrong time call at {format_clock(first.at_ms)}: {_quote(first.text)}, {left} left"
        how = f"Cut it, or put a caption over it: \u201c{left} left\u201d"
    else:
        what = f"{len(wrong)} wrong time calls: {_clocks([call.at_ms for call in wrong])}"
        how = "Lay a countdown over the picture, and call time from a clock next time"
    return [_Todo(_CALLS, first.at_ms, what, how, first.interval)]


def _promised(promises: Sequence[Promise]) -> list[_Todo]:
    """Make one fix a kind of broken promise; parts of the class are fixed elsewhere."""
    todos: dict[str, _Todo] = {}
    for promise in promises:
        if promise.verdict != "broken" or promise.what in todos:
            continue
        truth = f": {promise.why}" if promise.why else ""
        what = f"Promise not kept at {format_clock(promise.at_ms)}: {_quote(promise.text)}{truth}"
        how = f"Put a caption there with {_truth(promise)}, or cut the promise"
        todos[promise.what] = _Todo(_PROMISE, promise.at_ms, what, how)
    return list(todos.values())


def _truth(promise: Promise) -> str:
    """Say in a few words what a promise should have been; words that sent for kit are many."""
    if isinstance(promise.found, int | float):
        name = promise.what.replace("_", "-")
        is_length = promise.what in PROMISED_IN_SECONDS
        found = f"{promise.found:.0f} s of {name}" if is_length else f"{promise.found:g} {name}"
        return f"what is true ({found})"
    if promise.what == "equipment":
        return "all the kit that is used"
    return f"what is true ({promise.what.replace('_', '-')}: {promise.found or 'as it was'})"


def _named(one: Interval) -> str:
    """Name what was done, with its side."""
    return f"{one.move_done}, {one.side}" if one.side in ("left", "right") else one.move_done


def _lengths(heard: HeardClass) -> list[_Todo]:
    """Make one fix of all long intervals and one of all short ones."""
    todos = []
    for timing, how in (
        ("long", "Cut the surplus where nothing is said, or end on the clock next time"),
        ("short", "Leave room for the full length next time, or correct the plan viewers see"),
    ):
        off = [one for one in done_intervals(heard) if one.timing == timing]
        if not off:
            continue
        named = [
            f"{_named(one)} at {format_clock(start_ms(one))} "
            f"({format_seconds((one.length_ms or 0) - (one.planned_ms or 0), signed=True)})"
            for one in off[:4]
        ]
        more = f" and {len(off) - 4} more" if len(off) > 4 else ""
        what = f"Ran {timing}: {', '.join(named)}{more}"
        todos.append(_Todo(_LENGTHS, start_ms(off[0]), what, how, off[0].id))
    return todos


def _silences(flags: Sequence[Flag]) -> list[_Todo]:
    """Make one fix of all silences."""
    silent = [flag for flag in flags if flag.kind == "dead_air"]
    if not silent:
        return []
    first = silent[0]
    what = f"Silence inside the work at {_clocks([flag.at_ms for flag in silent])}"
    how = "Record a form point, a breath or the time left over each gap"
    return [_Todo(_SILENCE, first.at_ms, what, how, first.interval)]


def _breaths(heard: HeardClass, moves: Sequence[MoveFinding]) -> list[_Todo]:
    """Make one fix of all work moves without a breathing prompt."""
    silent = [
        interval
        for move in moves
        if move.breathing.verdict == "missing"
        and (interval := _first_done(heard, move.move)) is not None
        and interval.kind == "work"
    ]
    if not silent:
        return []
    names = ", ".join(one.move for one in silent[:6])
    more = f" and {len(silent) - 6} more" if len(silent) > 6 else ""
    gap = gap_for(heard, silent[0])
    others = ", and once in each of the other moves" if len(silent) > 1 else ""
    how = f"{_laid(gap)}: \u201cBreathe out on the effort\u201d{others}"
    return [_Todo(_BREATH, gap.at_ms, f"No breathing prompt: {names}{more}", how, silent[0].id)]


def list_fixes(
    heard: HeardClass,
    moves: Sequence[MoveFinding],
    time_calls: Sequence[TimeCall],
    promises: Sequence[Promise],
    flags: Sequence[Flag],
) -> tuple[Fix, ...]:
    """List at most 15 fixes, the most important first; none for what is unclear."""
    parts_fixed = {flag.kind.removeprefix("no_") for flag in flags}
    todos = [
        *_risks(flags),
        *_points(heard, moves),
        *_conflicts(flags),
        *_structure(flags),
        *_calls(time_calls),
        *_promised([one for one in promises if one.what not in parts_fixed]),
        *_lengths(heard),
        *_silences(flags),
        *_breaths(heard, moves),
        *_suggested(heard, moves),
    ]
    ranked = sorted(todos, key=lambda todo: (todo.rank, todo.at_ms))[:MOST_FIXES]
    return tuple(
        Fix(place, todo.what, todo.how, todo.at_ms, todo.interval)
        for place, todo in enumerate(ranked, start=1)
    )
