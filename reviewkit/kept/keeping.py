"""What is kept of a review, and a kept review made anew from what it was made from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import lru_cache
from importlib.metadata import version
from pathlib import PurePath

from reviewkit.drafting import SOURCE as DRAFTED
from reviewkit.model import Correction, HeardClass, Lexicon, Plan, Review, Transcript
from reviewkit.prepared import prepared_lexicon
from reviewkit.read.plan_text import read_plan_text
from reviewkit.read.transcript import parse_transcript
from reviewkit.report.document import document_text
from reviewkit.report.plan_files import plan_text
from reviewkit.report.strip import strip
from reviewkit.review import conclude, hear_class
from reviewkit.store import NewReview, Store, StoredReview

TYPED = "typed plan"


@dataclass(frozen=True, slots=True)
class HeardReview:
    """A transcript and what was heard in it, before any correction."""

    transcript: Transcript
    heard: HeardClass


def to_keep(
    review: Review,
    transcript: bytes,
    made_at: datetime,
    *,
    title: str = "",
    tolerance_ms: int | None = None,
) -> NewReview:
    """Give what is kept of a review that has no corrections yet.

    Args:
        review: As it was made.
        transcript: The file that it was made from.
        made_at: When it was made, with its time zone.
        title: What the coach calls the class; the plan's title or the transcript's name
            when empty.
        tolerance_ms: What the review was made with.
    """
    plan = review.heard.plan
    return NewReview(
        title=title or plan.title or PurePath(review.transcript.source).stem,
        made_at=made_at,
        transcript_name=review.transcript.source,
        transcript=transcript,
        plan_name="" if plan.source in (TYPED, DRAFTED) else plan.source,
        plan_text=plan_text(plan),
        is_drafted=plan.is_drafted,
        scores=score_values(review),
        picture=strip(review),
        tolerance_ms=tolerance_ms,
        program=version("reviewkit"),
        document=document_text(review),
    )


def refresh(store: Store, review_id: int, review: Review) -> str:
    """Keep a review that was judged anew in the place of what it said; give its document."""
    document = document_text(review)
    store.refresh_review(review_id, score_values(review), strip(review), document)
    return document


def score_values(review: Review) -> dict[str, float | None]:
    """Give the scores of a review by name, 0 to 100; None where there is nothing to score."""
    return {name: score.value for name, score in review.findings.scores}


def own_lexicon(store: Store) -> Lexicon:
    """Read the bundled lexicon with the coach's own lines on top.

    Raises:
        InputErrors: Own lines that do not fit the bundled ones (any more).
    """
    return _lexicon_with(tuple((one.file, one.line) for one in store.list_lexicon_lines()))


@lru_cache(maxsize=2)
def _lexicon_with(own_lines: tuple[tuple[str, str], ...]) -> Lexicon:
    """Read the lexicon once for the same lines: it takes longer than a cue sheet."""
    return prepared_lexicon(own_lines=own_lines)


def plan_of(stored: StoredReview) -> Plan:
    """Read the plan of a kept review."""
    name = stored.plan_name or (DRAFTED if stored.is_drafted else TYPED)
    return replace(read_plan_text(name, stored.plan_text), is_drafted=stored.is_drafted)


def hear_again(store: Store, stored: StoredReview, lexicon: Lexicon | None = None) -> HeardReview:
    """Listen to the class of a kept review anew; with the lexicon of its store when None."""
    transcript = parse_transcript(stored.transcript_name, stored.transcript)
    lexicon = lexicon or own_lexicon(store)
    heard = hear_class(transcript, plan_of(stored), lexicon, tolerance_ms=stored.tolerance_ms)
    return HeardReview(transcript, heard)


def document_of(store: Store, review_id: int) -> str:
    """Give the document of a kept review as it stands, made anew where it is not kept.

    Raises:
        Missing: There is no such review.
        InputError: What it was made from cannot be read any more.
    """
    return store.get_document(review_id) or _make_document(store, review_id)


def _make_document(store: Store, review_id: int) -> str:
    stored = store.get_review(review_id)
    corrections = [one.correction for one in store.list_corrections(review_id)]
    return refresh(store, review_id, review_again(store, stored, corrections))


def review_again(
    store: Store,
    stored: StoredReview,
    corrections: Sequence[Correction],
    lexicon: Lexicon | None = None,
) -> Review:
    """Review the class of a kept review anew, with what the coach has put right."""
    again = hear_again(store, stored, lexicon)
    return conclude(again.transcript, again.heard, corrections, tolerance_ms=stored.tolerance_ms)
