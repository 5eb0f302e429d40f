"""Say by the plan which lengths that were promised are those of a warm-up or a cool-down."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from reviewkit.findings.places import work_start_ms
from reviewkit.model import HeardClass, Mark, PlanKind, PlanRow

COOL_LENGTH = "cool_length"
_KINDS: Mapping[str, PlanKind] = {"warm_length": "warm-up", COOL_LENGTH: "cool-down"}
_MAYBE = "maybe_"
# What may turn out to be the length of a part: lengths that nothing explains, and minutes.
_OPEN = ("length", "minutes")
_MINUTE_S = 60
# How far a length may be off the plan's: told by its place alone, or by nothing.
_NEAR, _SAME = 0.15, 0.03
# So much of the class, and at least so many seconds, is no part of it but the whole.
_WHOLE, _WHOLE_LEAST_S = 0.85, 240
_LONGEST_PART_S = 600


def part_as_planned(heard: HeardClass, mark: Mark) -> Mark:
    """Give a claim of a length as one of a part, or of the whole class, where the plan says so."""
    rows = heard.plan.rows
    if mark.value is None or heard.plan.is_drafted:
        return mark
    said_s = mark.value * (_MINUTE_S if mark.ref == "minutes" else 1)
    if mark.ref in _KINDS:
        is_whole = max(_WHOLE_LEAST_S, _WHOLE * _all_s(rows)) <= said_s
        return replace(mark, ref="minutes", value=said_s / _MINUTE_S) if is_whole else mark
    is_placed = mark.ref.startswith(_MAYBE) and mark.ref.removeprefix(_MAYBE) in _KINDS
    if not (is_placed or mark.ref in _OPEN) or _is_of_work(rows, said_s):
        return mark
    near = _NEAR if is_placed else _SAME
    fits = [what for what, kind in _KINDS.items() if _is_of_part(rows, kind, said_s, near)]
    if is_placed:
        part = mark.ref.removeprefix(_MAYBE)
        is_of_it = part in fits or _is_cut_short(heard, mark, _KINDS[part], said_s)
        fits = [part] if is_of_it else []
    return replace(mark, ref=fits[0], value=said_s) if len(fits) == 1 else mark


def is_part_planned(heard: HeardClass, mark: Mark) -> bool:
    """Tell whether the plan has a warm-up, or a cool-down, about as long as a claim of one."""
    return _is_of_part(heard.plan.rows, _KINDS[mark.ref], mark.value or 0.0, _NEAR)


def _is_cut_short(heard: HeardClass, mark: Mark, kind: PlanKind, said_s: float) -> bool:
    """Tell whether a length at the start or end is of a part that is planned shorter.

    It was promised before the work, and no block of work is so long.
    """
    rows = heard.plan.rows
    part = [row for row in rows if row.kind == kind]
    blocks = {row.block for row in rows if row.kind == "work"}
    lengths = [_all_s([row for row in rows if row.block == block]) for block in blocks]
    return (
        mark.start_ms < work_start_ms(heard)
        and bool(part)
        and _all_s(part) < said_s <= min(_LONGEST_PART_S, _WHOLE * _all_s(rows))
        and all(abs(one - said_s) > _NEAR * said_s for one in lengths)
    )


def _all_s(rows: Sequence[PlanRow]) -> float:
    return sum(row.work_ms + (row.rest_ms or 0) for row in rows) / 1000


def _is_of_work(rows: Sequence[PlanRow], said_s: float) -> bool:
    """Tell whether the plan has a length of work or of a rest that is as long."""
    work = [row for row in rows if row.kind == "work"]
    return 1000 * said_s in {ms for row in work for ms in (row.work_ms, row.rest_ms)}


def _is_of_part(rows: Sequence[PlanRow], kind: PlanKind, said_s: float, near: float) -> bool:
    """Tell whether a part is planned about as long, with its rests or without, or by one row."""
    part = [row for row in rows if row.kind == kind]
    lengths = {_all_s(part), sum(row.work_ms for row in part) / 1000}
    lengths |= {row.work_ms / 1000 for row in part}
    return any(abs(one - said_s) <= near * said_s for one in lengths)
