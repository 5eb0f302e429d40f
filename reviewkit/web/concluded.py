"""Keep what was concluded lately: every card and every click asks for the same review."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass
from threading import Lock

from reviewkit.kept.keeping import HeardReview
from reviewkit.model import Correction, Review
from reviewkit.review import conclude

KEPT_REVIEWS = 4


@dataclass(frozen=True, slots=True)
class _Kept:
    heard: HeardReview
    corrections: tuple[Correction, ...]
    tolerance_ms: int | None
    review: Review


class ConcludedCache:
    """The reviews concluded last, by id; safe to share between threads.

    A review is concluded anew when its corrections changed or its class was heard anew.
    """

    def __init__(self) -> None:
        self._lock = Lock()
        self._kept: OrderedDict[int, _Kept] = OrderedDict()

    def drop(self, review_id: int) -> None:
        """Forget a review, as when its class is forgotten."""
        with self._lock:
            self._kept.pop(review_id, None)

    def get(
        self,
        review_id: int,
        heard: HeardReview,
        corrections: tuple[Correction, ...],
        tolerance_ms: int | None,
    ) -> Review:
        """Give the review of a class as heard and as put right; one at a time."""
        with self._lock:
            kept = self._kept.pop(review_id, None)
            if (
                kept is None
                or kept.heard is not heard
                or (kept.corrections, kept.tolerance_ms) != (corrections, tolerance_ms)
            ):
                review = conclude(
                    heard.transcript, heard.heard, corrections, tolerance_ms=tolerance_ms
                )
                kept = _Kept(heard, corrections, tolerance_ms, review)
            self._kept[review_id] = kept
            while len(self._kept) > KEPT_REVIEWS:
                self._kept.popitem(last=False)
            return kept.review
