"""Flag classes that ran without a warm-up or without a cool-down.

Judged from what was done: a planned warm-up that was skipped is none. When the plan
names no part of the class as warm-up or cool-down, the talk is asked before anything
is said, because the whole class may be gentle.
"""

from __future__ import annotations

from reviewkit.findings.places import done_intervals, end_ms, start_ms
from reviewkit.language.wordsets import word_set
from reviewkit.model import Flag, HeardClass, Interval, PlanKind

_TALK = {
    "warm-up": word_set("warm warming warmup loosen loosening mobilise mobility"),
    "cool-down": word_set("cool cooling cooldown stretch stretches stretching"),
}
_BLOCK_WORDS = {
    "warm-up": ("warm", "arrive", "loosen", "wake", "prep", "mobil"),
    "cool-down": ("cool", "stretch", "settle", "close", "finish", "wind down", "relax", "rest"),
}


def _was_done(heard: HeardClass, kind: PlanKind) -> bool:
    """Tell whether an interval of a kind, or of a block named like it, was done."""
    done = done_intervals(heard)
    return any(
        one.kind == kind or any(word in one.block.lower() for word in _BLOCK_WORDS[kind])
        for one in done
        if one.kind != "work" or one.status != "added"
    )


def _is_heard(heard: HeardClass, kind: PlanKind, low_ms: int, high_ms: int) -> bool:
    """Tell whether words of a kind fall into a stretch of the class."""
    return any(
        low_ms <= word.start_ms < high_ms and word.norm in _TALK[kind] for word in heard.talk.words
    )


def _names_parts(heard: HeardClass) -> bool:
    """Tell whether the plan says of any row that it is warm-up or cool-down."""
    return any(row.kind != "work" for row in heard.plan.rows)


def _planned(heard: HeardClass, kind: PlanKind) -> bool:
    return any(row.kind == kind for row in heard.plan.rows)


def _reason(heard: HeardClass, kind: PlanKind, rest: str) -> str:
    planned = (
        "was planned but not done" if _planned(heard, kind) else "was neither planned nor done"
    )
    return f"A {kind} {planned}; {rest}"


def _flag(heard: HeardClass, kind: PlanKind, interval: Interval) -> Flag:
    if kind == "warm-up":
        why = _reason(heard, kind, "viewers start the work cold.")
        at_ms, name = start_ms(interval), "no_warm_up"
        instead = (
            "Put two or three easy minutes of the first moves in front, or say to warm up first."
        )
    else:
        why = _reason(heard, kind, "the class ends at full effort.")
        at_ms, name = end_ms(interval), "no_cool_down"
        instead = "Add two or three slow minutes at the end, or name a class to cool down with."
    return Flag(name, at_ms, "", None, "", why, interval=interval.id, instead=instead)


def find_missing_parts(heard: HeardClass) -> tuple[Flag, ...]:
    """Flag a missing warm-up (at the first interval) and cool-down (at the last one)."""
    done = done_intervals(heard)
    if not done:
        return ()
    flags = []
    first, last = done[0], done[-1]
    spans = {"warm-up": (0, end_ms(first)), "cool-down": (start_ms(last), heard.talk.length_ms + 1)}
    kinds: tuple[tuple[PlanKind, Interval], ...] = (("warm-up", first), ("cool-down", last))
    for kind, interval in kinds:
        if _was_done(heard, kind):
            continue
        if _names_parts(heard) or not _is_heard(heard, kind, *spans[kind]):
            flags.append(_flag(heard, kind, interval))
    return tuple(flags)
