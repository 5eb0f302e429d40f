"""The words a cue sheet is told in, the same on paper, as text and on the clock."""

from __future__ import annotations

from reviewkit.rehearse.records import Cue, CuePoint, CueSheet, SpeakingRate
from reviewkit.report.wording import DASH, clean, count, say_move
from reviewkit.times import format_clock, format_length

SPLITS_AT_MS = 100


def say_title(sheet: CueSheet) -> str:
    """Name the class."""
    return clean(sheet.title)


def say_rate(rate: SpeakingRate) -> str:
    """Say which speaking rate was used."""
    whose = "your own, from last time" if rate.is_own else "a usual one"
    return f"{rate.words_per_min:g} words a minute ({whose})"


def say_clock(at_ms: int) -> str:
    """Write a moment; a tenth is added where it does not fall on a second."""
    tenths = at_ms % 1000 // SPLITS_AT_MS
    return format_clock(at_ms) + (f".{tenths}" if tenths else "")


def say_span(cue: Cue) -> str:
    """Write from when to when an interval goes."""
    return f"{say_clock(cue.start_ms)}{DASH}{say_clock(cue.end_ms)}"


def say_cue_move(cue: Cue) -> str:
    """Name an interval's move with its side."""
    return say_move(cue.row)


def say_rest(cue: Cue) -> str:
    """Write the rest that follows, nothing when there is none."""
    return f"then {format_length(cue.row.rest_ms)} rest" if cue.row.rest_ms else ""


def say_place(point: CuePoint, cue: Cue) -> str:
    """Say when a point has its time: in the rest before, in the first third, or by when."""
    if point.place == "before":
        return "before the start"
    if point.place == "first third":
        return f"by {format_clock(cue.start_ms + cue.row.work_ms // 3)}"
    return "late: no time before"


def say_last(point: CuePoint) -> str:
    """Say how a point went last time, nothing when it was fine."""
    return f"{point.last} last time" if point.last else ""


def say_calls(cue: Cue) -> str:
    """List the time calls with their clock."""
    return ", ".join(f"{say_clock(call.at_ms)} {call.text}" for call in cue.calls)


def say_ways(cue: Cue) -> str:
    """Write the easier and the harder way of a move; nothing where none is known."""
    ways = (("easier", cue.easier), ("harder", cue.harder))
    return "; ".join(f"{name}: {way}" for name, way in ways if way)


def say_warning(cue: Cue) -> str:
    """Warn where what must be said has no time, or suggestions would not fit as well."""
    free = f"{cue.time.free_ms // 1000} s"
    if cue.time.over_ms:
        needed = _seconds(cue.time.needed_ms)
        return (
            f"Interval {cue.number}, {say_cue_move(cue)}: what must be said takes {needed} of "
            f"talk, and with room to breathe it is {_seconds(cue.time.over_ms)} too long for the "
            f"{free} there are; say less, or rest longer before it."
        )
    return ""


def say_suggestion_note(cue: Cue) -> str:
    """Say that not all suggestions fit, where what must be said does."""
    if cue.time.over_ms or not cue.time.suggested_over_ms:
        return ""
    return f"all suggestions together are {_seconds(cue.time.suggested_over_ms)} too long"


def warnings(sheet: CueSheet) -> tuple[str, ...]:
    """List every warning of a sheet, in class order."""
    return tuple(said for cue in sheet.cues if (said := say_warning(cue)))


def open_points(sheet: CueSheet) -> tuple[str, ...]:
    """List what the plan asks for and last time lacked, in class order, a line each."""
    found = []
    for cue in sheet.cues:
        move = clean(cue.row.move)
        asked = [one for one in cue.points if one.last and not one.is_suggested]
        found += [f"{move}: {clean(one.text)}, {say_last(one)}" for one in asked]
        if cue.is_first and cue.is_breath_missing:
            found.append(f"{move}: breath, missing last time")
        found += [f"{move}: {one}" for one in cue.calls_last]
    return tuple(found)


def say_facts(sheet: CueSheet) -> str:
    """Say in one line how long the class is, and how fast it is spoken."""
    return (
        f"{count(len(sheet.cues), 'interval')}, {format_clock(sheet.total_ms)} in all. "
        f"Spoken time at {say_rate(sheet.rate)}."
    )


def _seconds(length_ms: int) -> str:
    """Write a length in whole seconds, never fewer than there are."""
    return f"{-(-length_ms // 1000)} s"
