"""Judge a promised warm-up and cool-down, and promises to do without."""

from __future__ import annotations

from reviewkit.findings.claims import claims, verdict_on, work_end_ms
from reviewkit.findings.places import done_intervals
from reviewkit.model import HeardClass, Mark, PlanKind, Promise, PromiseVerdict

_SHORT_SHARE = 0.75
_LENGTHS: tuple[tuple[str, str, PlanKind], ...] = (
    ("warm_length", "warm_up", "warm-up"),
    ("cool_length", "cool_down", "cool-down"),
)


def _was_done(heard: HeardClass, kind: PlanKind) -> bool:
    return any(one.kind == kind for one in done_intervals(heard))


def _is_known(heard: HeardClass) -> bool:
    """Tell whether the plan says of its rows which part of the class they are."""
    return any(row.kind != "work" for row in heard.plan.rows)


def _judge_part(
    heard: HeardClass, mark: Mark, what: str, kind: PlanKind, *, wanted: bool
) -> Promise:
    was_done = _was_done(heard, kind)
    found = "done" if was_done else "not done"
    said = "promised" if wanted else "none"
    if wanted and not was_done and not _is_known(heard):
        why = "the plan does not say which rows are warm-up or cool-down"
        return verdict_on(what, mark, found, "unclear", why, said=said)
    verdict: PromiseVerdict = "kept" if was_done == wanted else "unclear"
    if wanted and not was_done:
        verdict = "broken"
    return verdict_on(what, mark, found, verdict, said=said)


def _judge_part_length(heard: HeardClass, mark: Mark, what: str, kind: PlanKind) -> Promise:
    """Judge a promised length of a part by its intervals and the rests inside it."""
    claimed_s = mark.value or 0.0
    part = [one for one in done_intervals(heard) if one.kind == kind]
    if not part:
        return verdict_on(what, mark, 0.0, "broken" if _is_known(heard) else "unclear")
    first, last = part[0].start, part[-1].end
    span_s = (last.at_ms - first.at_ms) / 1000 if first and last else 0.0
    is_short = span_s < _SHORT_SHARE * claimed_s and claimed_s - span_s > 15
    why = f"the {kind} took {span_s:.0f} s" if is_short else ""
    return verdict_on(what, mark, round(span_s), "broken" if is_short else "kept", why)


def judge_parts(heard: HeardClass) -> list[Promise]:
    """Judge every promise of a warm-up or cool-down made before the work was over."""
    end = work_end_ms(heard)
    kinds: tuple[tuple[str, str, PlanKind, bool], ...] = (
        ("warm_up", "warm_up", "warm-up", True),
        ("no_warm_up", "warm_up", "warm-up", False),
        ("cool_down", "cool_down", "cool-down", True),
        ("no_cool_down", "cool_down", "cool-down", False),
    )
    judged = [
        _judge_part(heard, mark, what, kind, wanted=wanted)
        for ref, what, kind, wanted in kinds
        for mark in claims(heard, ref)
        if mark.start_ms < end
    ]
    lengths = [
        _judge_part_length(heard, mark, what, kind)
        for ref, what, kind in _LENGTHS
        for mark in claims(heard, ref)
        if mark.value and mark.start_ms < end
    ]
    return [*judged, *lengths]
