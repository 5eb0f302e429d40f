"""The words a review is told in: one place, so that every form says the same."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from reviewkit.model import PROMISED_IN_SECONDS, Interval, PlanRow
from reviewkit.times import format_clock

MINUTES_FROM_MS = 100_000
DASH, MINUS = "\N{EN DASH}", "\N{MINUS SIGN}"
NONE = DASH

SCORE_NAMES = {
    "timing": "Timing",
    "cues": "Cues",
    "density": "Density of talk",
    "breathing": "Breathing",
}
FLAG_NAMES = {
    "risky_talk": "risky talk",
    "contradiction": "contradiction",
    "dead_air": "dead air",
    "side_imbalance": "uneven sides",
    "order": "moves traded places",
    "no_warm_up": "no warm-up",
    "no_cool_down": "no cool-down",
}
PROMISE_NAMES = {
    "minutes": "length",
    "rounds": "rounds",
    "moves": "moves",
    "work": "work time",
    "rest": "rest time",
    "equipment": "equipment",
    "warm_up": "warm-up",
    "cool_down": "cool-down",
    "jumping": "no jumping",
    "floor": "no floor work",
    "no_running": "no running",
    "no_burpees": "no burpees",
    "no_kneeling": "no kneeling",
    "no_sit_ups": "no sit-ups",
}
_SECONDS = " s"
_PROMISE_UNITS = {
    "minutes": " min",
    **dict.fromkeys(PROMISED_IN_SECONDS, _SECONDS),
}
CLOCK_NAMES = {
    "words": "a time for every word",
    "captions": "a time for every caption",
    "blocks": "a time for every block of text",
}
_HIDDEN = {"Cc", "Cs", "Co", "Cn"}
_BIDI = re.compile("[\u202a-\u202e\u2066-\u2069\u200e\u200f\u061c]")


def clean(text: str) -> str:
    """Make foreign text fit to print: one line, without control or steering characters."""
    visible = "".join(
        " " if unicodedata.category(character) in _HIDDEN else character
        for character in _BIDI.sub("", text)
    )
    return " ".join(visible.split())


def name_kind(kind: str) -> str:
    """Name a kind of flag or promise in plain words."""
    return FLAG_NAMES.get(kind) or PROMISE_NAMES.get(kind) or kind.replace("_", " ")


def say_length(length_ms: int | None) -> str:
    """Write a length: ``57 s``, from 100 seconds ``2:05 min``; a dash for none."""
    if length_ms is None:
        return NONE
    return f"{_figure(length_ms)} {_unit(length_ms)}"


def say_length_range(interval: Interval) -> str:
    """Write the length as done with its range: ``57 s (56 to 58)``."""
    if interval.length_ms is None:
        return NONE
    length = say_length(interval.length_ms)
    if interval.length_low_ms is None or interval.length_high_ms is None:
        return length
    is_long = interval.length_ms >= MINUTES_FROM_MS
    low, high = (
        _clock(at_ms) if is_long else f"{max(0, at_ms) / 1000:.0f}"
        for at_ms in (interval.length_low_ms, interval.length_high_ms)
    )
    return f"{length} ({low} to {high})" if low != high else length


def say_drift(interval: Interval) -> str:
    """Write length less plan, ``+17 s``; nothing when there is nothing to compare."""
    if interval.length_ms is None or interval.planned_ms is None:
        return ""
    drift_s = round((interval.length_ms - interval.planned_ms) / 1000)
    return f"{'+' if drift_s > 0 else MINUS if drift_s < 0 else '±'}{abs(drift_s)} s"


def say_verdict(interval: Interval) -> str:
    """Say how an interval went: ``long +17 s``, ``skipped``, ``swapped, on time`` ..."""
    if interval.status == "skipped":
        return "skipped"
    if interval.status == "added":
        return "added"
    timing: str = interval.timing or "unclear"
    if timing in ("long", "short"):
        timing = f"{timing} {say_drift(interval)}"
    return f"swapped, {timing}" if interval.status == "swapped" else timing


def say_by_coach(found: object) -> str:
    """Say what the coach did to a finding: put it right, or set it aside and why; or nothing."""
    notes = ["put right by the coach"] if getattr(found, "by_coach", False) else []
    if reason := clean(getattr(found, "set_aside", "")):
        notes.append(f"set aside: {reason}")
    return "; ".join(notes)


def say_move(interval: Interval | PlanRow) -> str:
    """Name an interval's move with its side, and what was done in its place."""
    instead = getattr(interval, "done_instead", "")
    return clean(f"{interval.move}{say_side(interval)}" + (f" → {instead}" if instead else ""))


def say_side(interval: Interval | PlanRow) -> str:
    """Write the side of a move behind its name; nothing where it has none."""
    return {"": "", "each": ", each side"}.get(interval.side, f", {interval.side}")


def say_moment(at_ms: int | None) -> str:
    """Write a moment for people, a dash for none."""
    return NONE if at_ms is None else format_clock(at_ms)


def say_left(left_ms: int | None) -> str:
    """Write seconds left, a dash when nobody can say."""
    return NONE if left_ms is None else f"{left_ms / 1000:.0f} s"


def say_value(value: float | str | None, what: str = "") -> str:
    """Write what a promise said or found, in the unit of what it is about."""
    if value is None:
        return NONE
    if isinstance(value, str):
        return clean(value)
    if what == "rest" and not value:
        return "no rest"
    unit = _PROMISE_UNITS.get(what, "")
    # Nobody speaks of tenths of a second.
    return f"{value:.0f}{unit}" if unit == _SECONDS else f"{value:.4g}{unit}"


def say_score(value: float | None) -> str:
    """Write a score of 100, or that there is none."""
    return "no score" if value is None else f"{value:.0f}"


def quote(text: str) -> str:
    """Put someone's words in quotation marks."""
    return f"“{clean(text)}”"


def count(number: int, one: str, many: str | None = None) -> str:
    """Write a number with its noun: ``1 point``, ``3 points``."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def join_list(parts: Iterable[str]) -> str:
    """Join parts as in a sentence: ``a, b and c``."""
    *first, last = parts
    return f"{', '.join(first)} and {last}" if first else last


def _figure(length_ms: int) -> str:
    return _clock(length_ms) if length_ms >= MINUTES_FROM_MS else f"{length_ms / 1000:.0f}"


def _unit(length_ms: int) -> str:
    return "min" if length_ms >= MINUTES_FROM_MS else "s"


def _clock(length_ms: int) -> str:
    return format_clock(1000 * round(length_ms / 1000))
