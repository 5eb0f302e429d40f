"""Read the kept classes: for their progress, each once, and for what was said in others."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from itertools import islice
from typing import Any

from reviewkit.edits.own_words import OwnWordsByPoint, gather_own_words
from reviewkit.errors import ReviewkitError
from reviewkit.kept.forgetting import plan_rows
from reviewkit.kept.keeping import document_of
from reviewkit.model import Plan, Transcript
from reviewkit.progress.figures import ClassRecord, class_record
from reviewkit.progress.overview import Overview, make_overview
from reviewkit.report.wording import clean
from reviewkit.store import ReviewSummary, Store

# Own words are looked for in so many classes, which takes no time that anybody notices.
MOST_CLASSES = 50


def look_back(store: Store) -> Overview:
    """Put all kept classes together.

    A class that was reviewed more than once counts as its latest review says; one that
    cannot be read any more is left out, and said so. Of older programs' reviews the
    document is made anew once, which takes the time of a review.
    """
    records: list[ClassRecord] = []
    left_out: list[str] = []
    seen: dict[bytes, int] = {}
    for summary in store.list_reviews():
        key = _key(store.get_review(summary.id).transcript)
        if key in seen:
            left_out.append(f"{_named(summary)}: the same transcript as review {seen[key]}")
            continue
        seen[key] = summary.id
        try:
            records.append(look_at(store, summary))
        except ReviewkitError as error:
            left_out.append(f"{_named(summary)}: {error}")
    return make_overview(records, left_out)


def latest_of_plan(store: Store, plan: Plan) -> ReviewSummary | None:
    """Give the latest kept review made with the intervals of a plan, None where there is none."""
    return next(
        (
            one
            for one in store.list_reviews()
            if plan_rows(store.get_review(one.id).plan_text) == plan.rows
        ),
        None,
    )


def look_at(store: Store, summary: ReviewSummary) -> ClassRecord:
    """Give the record of one kept class.

    Raises:
        InputError: What it was made from cannot be read any more.
    """
    document = json.loads(document_of(store, summary.id))
    return class_record(summary.id, summary.title, summary.made_at, document)


def own_words_of(store: Store, transcript: Transcript) -> OwnWordsByPoint:
    """Gather the coach's own words from the latest classes of a store, one left out.

    Only what stands in kept documents is read: nothing is reviewed anew for it.
    """
    others = _others(store, _key(transcript.data))
    return gather_own_words(islice(others, MOST_CLASSES))


def _others(store: Store, besides: bytes) -> Iterator[tuple[str, dict[str, Any]]]:
    for summary in store.list_reviews():
        if _key(store.get_review(summary.id).transcript) == besides:
            continue
        if document := store.get_document(summary.id):
            yield summary.title, json.loads(document)


def _key(transcript: bytes) -> bytes:
    """Tell transcripts apart by what they hold."""
    return hashlib.sha256(transcript).digest()


def _named(summary: ReviewSummary) -> str:
    return f"review {summary.id}, {clean(summary.title)}"
