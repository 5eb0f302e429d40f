"""Classes of a year by hand: review documents as they would be, with what matters set."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Any

from reviewkit.progress.figures import ClassRecord, class_record
from reviewkit.report.document import document
from reviewkit.store import NewReview
from tests.report.sample import sample_review
from tests.store.build import A_REVIEW

Document = dict[str, Any]


def a_document(**scores: float | None) -> Document:
    """Give the sample class's document, with other scores where they are named."""
    made: Document = json.loads(json.dumps(document(sample_review())))
    for name, value in scores.items():
        made["scores"][name]["value"] = value
    return made


def a_record(number: int = 1, made: Document | None = None, title: str = "Class") -> ClassRecord:
    """Give the record of a class that was reviewed ``number`` days after the first."""
    made_at = A_REVIEW.made_at + timedelta(days=number)
    return class_record(number, f"{title} {number}", made_at, made or a_document())


def a_year(scores: Sequence[float | None]) -> list[ClassRecord]:
    """Give a class for each timing score."""
    return [a_record(at, a_document(timing=score)) for at, score in enumerate(scores, start=1)]


def to_keep(number: int, made: Document | None = None) -> NewReview:
    """Give a review to keep, of a transcript of its own."""
    return replace(
        A_REVIEW,
        title=f"Class {number}",
        made_at=A_REVIEW.made_at + timedelta(days=number),
        transcript=f"class {number}".encode(),
        document=json.dumps(made or a_document()),
    )
