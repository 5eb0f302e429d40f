"""The review as one JSON document, ``reviewkit.review/1``.

Times are seconds from the start of the recording, rounded to hundredths. The shape is
published as ``review.schema.json`` beside this file; keys may be added, never renamed.
"""

from __future__ import annotations

import base64
import json
from collections.abc import Sequence
from typing import Any, get_args

from reviewkit.model import (
    Correction,
    Edge,
    Evidence,
    Fix,
    Flag,
    Interval,
    IntervalTalk,
    Label,
    MoveFinding,
    Plan,
    PlanRow,
    Promise,
    PromptFinding,
    Review,
    Score,
    TimeCall,
)
from reviewkit.payloads import to_payload
from reviewkit.report.plan_files import plan_text

FORMAT = "reviewkit.review/1"
COUNTED_LABELS: tuple[Label, ...] = ("form", "safety", "breathing", "option", "motivation")

Document = dict[str, Any]


def document(review: Review) -> Document:
    """Give the review as plain values, ready for JSON; keys in reading order."""
    heard, findings = review.heard, review.findings
    return {
        "format": FORMAT,
        "class": _class(review),
        "intervals": [_interval(one, talk) for one, talk in in_class_order(review)],
        "moves": [_move(one) for one in findings.moves],
        "time_calls": [_time_call(one) for one in findings.time_calls],
        "promises": [_promise(one) for one in findings.promises],
        "flags": [_flag(one) for one in findings.flags],
        "scores": {name: _score(score) for name, score in findings.scores},
        "fixes": [_fix(one) for one in findings.fixes],
        "cautions": list(review.cautions),
        "profile": {name: _number(value) for name, value in findings.profile},
        "lines": label_totals(findings.talk),
        "plan": _plan(heard.plan),
        "warnings": list(review.transcript.warnings),
        "made_from": _made_from(review),
    }


def document_text(review: Review) -> str:
    """Write the document as JSON text, indented, ending in a line feed."""
    text = json.dumps(document(review), indent=2, ensure_ascii=False, allow_nan=False)
    # Half a surrogate pair is legal in a JSON transcript and in no UTF-8 file.
    return text.encode("utf-8", "replace").decode("utf-8") + "\n"


def in_class_order(review: Review) -> tuple[tuple[Interval, IntervalTalk | None], ...]:
    """Pair intervals with their talk, in the order they happened.

    A skipped interval stands behind the planned one before it.
    """
    talk = review.findings.talk or (None,) * len(review.heard.intervals)
    pairs = tuple(zip(review.heard.intervals, talk, strict=True))
    ordered = sorted((pair for pair in pairs if pair[0].start), key=lambda pair: _start_ms(pair[0]))
    skipped = [pair for pair in pairs if pair[0].start is None]
    for pair in sorted(skipped, key=lambda pair: pair[0].plan_row or 0):
        ordered.insert(_place(pair[0].plan_row or 0, [one for one, _ in ordered]), pair)
    return tuple(ordered)


def label_totals(talk: Sequence[IntervalTalk | None]) -> dict[str, int]:
    """Add up the lines heard inside intervals, by label; every label appears."""
    totals: dict[str, int] = dict.fromkeys(get_args(Label), 0)
    for one in talk:
        for label, count in one.labels if one else ():
            totals[label] += count
    return totals


def _start_ms(interval: Interval) -> int:
    return interval.start.at_ms if interval.start else 0


def _place(plan_row: int, ordered: Sequence[Interval]) -> int:
    rows_before = [one.plan_row for one in ordered if one.plan_row and one.plan_row < plan_row]
    if not rows_before:
        return 0
    last = max(rows_before)
    return 1 + max(at for at, one in enumerate(ordered) if one.plan_row == last)


def _seconds(length_ms: float | None) -> float | None:
    return None if length_ms is None else round(length_ms / 1000, 2)


def _number(value: float | None) -> float | None:
    return None if value is None else round(value, 3)


def _range(low_ms: int | None, high_ms: int | None) -> list[float | None] | None:
    return None if low_ms is None or high_ms is None else [_seconds(low_ms), _seconds(high_ms)]


def _edge_range(edge: Edge | None) -> list[float | None] | None:
    return _range(edge.low_ms, edge.high_ms) if edge else None


def _class(review: Review) -> Document:
    talk, plan = review.heard.talk, review.heard.plan
    return {
        "transcript": review.transcript.source,
        "plan": None if plan.is_drafted else plan.source,
        "title": plan.title,
        "length_s": _seconds(talk.length_ms),
        "words": sum(not word.is_sound for word in talk.words),
        "timing": {"kind": talk.clock, "typical_error_s": _seconds(talk.typical_error_ms)},
    }


def _interval(one: Interval, talk: IntervalTalk | None) -> Document:
    drift = None
    if one.length_ms is not None and one.planned_ms is not None:
        drift = one.length_ms - one.planned_ms
    return {
        "id": one.id,
        "plan_row": one.plan_row,
        "block": one.block,
        "kind": one.kind,
        "round": one.round,
        "move": one.move,
        "side": one.side,
        "planned_s": _seconds(one.planned_ms),
        "status": one.status,
        "done_instead": one.done_instead or None,
        "certainty": _number(one.certainty),
        "start_s": _seconds(one.start.at_ms if one.start else None),
        "end_s": _seconds(one.end.at_ms if one.end else None),
        "start_range_s": _edge_range(one.start),
        "end_range_s": _edge_range(one.end),
        "length_s": _seconds(one.length_ms),
        "length_range_s": _range(one.length_low_ms, one.length_high_ms),
        "drift_s": _seconds(drift),
        "timing": one.timing,
        "rest_after_s": _seconds(one.rest_after_ms),
        "planned_rest_s": _seconds(one.planned_rest_ms),
        "talk": _talk(talk) if talk else None,
        "by_coach": one.by_coach,
        "set_aside": one.set_aside or None,
    }


def _talk(talk: IntervalTalk) -> Document:
    counted = dict(talk.labels)
    return {
        "words": talk.words,
        "cues": talk.cues,
        "cues_per_min": _number(talk.cues_per_min),
        "longest_silence_s": _seconds(talk.longest_silence_ms),
        **{label: counted.get(label, 0) for label in COUNTED_LABELS},
    }


def _evidence(evidence: Sequence[Evidence]) -> list[Document]:
    return [{"at_s": _seconds(one.at_ms), "text": one.text} for one in evidence]


def _move(one: MoveFinding) -> Document:
    return {
        "move": one.move,
        "points": [
            {
                "point": point.point,
                "kind": point.kind,
                "asked_by": point.asked_by,
                "verdict": point.verdict,
                "first_said_s": _seconds(point.evidence[0].at_ms) if point.evidence else None,
                "evidence": _evidence(point.evidence),
                "why": point.why,
                "line": point.line,
                "by_coach": point.by_coach,
                "set_aside": point.set_aside or None,
            }
            for point in one.points
        ],
        "breathing": _prompt(one.breathing),
        "options": _prompt(one.options),
    }


def _prompt(prompt: PromptFinding) -> Document:
    return {
        # Of a move that was never done nothing was said; its intervals say that it was skipped.
        "verdict": "said" if prompt.verdict == "said" else "missing",
        "count": len(prompt.evidence),
        "evidence": _evidence(prompt.evidence),
    }


def _time_call(one: TimeCall) -> Document:
    return {
        "at_s": _seconds(one.at_ms),
        "text": one.text,
        "interval": one.interval,
        "claimed_left_s": _seconds(one.claimed_left_ms),
        "actual_left_s": _seconds(one.actual_left_ms),
        "verdict": one.verdict,
        "set_aside": one.set_aside or None,
    }


def _promise(one: Promise) -> Document:
    return {
        "what": one.what,
        "at_s": _seconds(one.at_ms),
        "text": one.text,
        "said": one.said,
        "found": one.found,
        "verdict": one.verdict,
        "why": one.why,
        "set_aside": one.set_aside or None,
    }


def _flag(one: Flag) -> Document:
    plain = {
        "kind": one.kind,
        "at_s": _seconds(one.at_ms),
        "move": one.move,
        "round": one.round,
        "text": one.text,
        "why": one.why,
        "interval": one.interval,
        "instead": one.instead or None,
        "set_aside": one.set_aside or None,
    }
    if one.other_at_ms is None:
        return plain
    return plain | {"other_at_s": _seconds(one.other_at_ms), "other_text": one.other_text}


def _score(score: Score) -> Document:
    return {
        "value": _number(score.value),
        "parts": {name: _number(value) for name, value in score.parts},
    }


def _fix(one: Fix) -> Document:
    return {
        "rank": one.rank,
        "what": one.what,
        "how": one.how,
        "at_s": _seconds(one.at_ms),
        "interval": one.interval,
    }


def _plan(plan: Plan) -> Document:
    return {
        "is_drafted": plan.is_drafted,
        "title": plan.title,
        "minutes": plan.minutes,
        "rows": [_plan_row(row) for row in plan.rows],
    }


def _plan_row(row: PlanRow) -> Document:
    return {
        "block": row.block,
        "kind": row.kind,
        "round": row.round,
        "move": row.move,
        "side": row.side,
        "work_s": _seconds(row.work_ms),
        "rest_s": _seconds(row.rest_ms),
        "must_say": list(row.must_say),
    }


def _made_from(review: Review) -> Document | None:
    """Give all that the review can be made from again; None where the file is not known.

    A drafted plan is left out, as it would be drafted again.
    """
    plan, transcript = review.heard.plan, review.transcript
    if not transcript.data:
        return None
    given = None if plan.is_drafted else {"name": plan.source, "text": plan_text(plan)}
    return {
        "transcript": {
            "name": transcript.source,
            "base64": base64.b64encode(transcript.data).decode("ascii"),
        },
        "plan": given,
        "tolerance_s": None if review.tolerance_ms is None else review.tolerance_ms / 1000,
        "corrections": [_correction(one) for one in review.corrections],
    }


def _correction(one: Correction) -> Document:
    kind, payload = to_payload(one)
    return {"kind": kind, **json.loads(payload)}
