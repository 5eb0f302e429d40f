"""The sample class with markup, formulas and escapes in every field a person can fill."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any

from reviewkit.model import Review
from tests.report.sample import sample_review

HOSTILE = "<script src=//x>alert(1)</script><img onerror=a()>\"' | `*_[b](c) $x^2$ \x1b[31m\u202e"
# Fields that hold one of a few fixed words, or an id that the program gives.
_FIXED = {
    "kind", "asked_by", "verdict", "status", "timing", "side", "clock", "what", "id", "interval",
    "ref", "format", "label",
}  # fmt: skip


def hostile_review() -> Review:
    """Put the hostile text in place of every free text of the sample."""
    review: Review = _spoil(sample_review(), "")
    what = tuple(replace(fix, what=HOSTILE) for fix in review.findings.fixes)
    findings = replace(review.findings, fixes=what)
    transcript = replace(review.transcript, warnings=(HOSTILE,))
    return replace(review, findings=findings, transcript=transcript)


def _spoil(value: Any, name: str) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return type(value)(
            **{one.name: _spoil(getattr(value, one.name), one.name) for one in fields(value)}
        )
    if isinstance(value, tuple):
        return tuple(_spoil(one, name) for one in value)
    if isinstance(value, str) and value and name not in _FIXED | {"scores", "profile", "labels"}:
        return HOSTILE
    return value
