"""Open a kept review as it stands: as heard, and as the coach has put it right so far."""

from __future__ import annotations

from dataclasses import dataclass

from reviewkit.model import HeardClass, Review
from reviewkit.store import StoredCorrection, StoredReview
from reviewkit.web.heard import heard_review
from reviewkit.web.state import PageState


@dataclass(frozen=True, slots=True)
class OpenReview:
    """A review as it stands, with what it was made from."""

    stored: StoredReview
    review: Review
    heard: HeardClass
    corrections: tuple[StoredCorrection, ...]


def open_review(state: PageState, review_id: int) -> OpenReview:
    """Open a review, from memory where nothing has changed.

    Raises:
        Missing: There is no such review.
    """
    stored = state.store.get_review(review_id)
    heard = heard_review(state.store, state.heard, stored)
    kept = state.store.list_corrections(review_id)
    corrections = tuple(one.correction for one in kept)
    review = state.concluded.get(review_id, heard, corrections, stored.tolerance_ms)
    return OpenReview(stored, review, heard.heard, kept)
