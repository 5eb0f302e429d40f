"""Keep what was heard lately: hearing a class takes seconds, judging it anew does not."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock

from reviewkit.kept.keeping import HeardReview, hear_again
from reviewkit.store import Store, StoredReview

KEPT_CLASSES = 8


class HeardCache:
    """The classes heard last, by the id of their review; safe to share between threads."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._kept: OrderedDict[int, HeardReview] = OrderedDict()

    def get(self, review_id: int, hear: Callable[[], HeardReview]) -> HeardReview:
        """Give what was heard, listening once where it is not known; one class at a time."""
        with self._lock:
            found = self._kept.pop(review_id, None) or hear()
            self._keep(review_id, found)
            return found

    def put(self, review_id: int, heard: HeardReview) -> None:
        """Keep what was just heard."""
        with self._lock:
            self._keep(review_id, heard)

    def drop(self, review_id: int) -> None:
        """Forget a class, as when its review is deleted."""
        with self._lock:
            self._kept.pop(review_id, None)

    def clear(self) -> None:
        """Forget every class, as when the lexicon has changed."""
        with self._lock:
            self._kept.clear()

    def _keep(self, review_id: int, heard: HeardReview) -> None:
        self._kept[review_id] = heard
        self._kept.move_to_end(review_id)
        while len(self._kept) > KEPT_CLASSES:
            self._kept.popitem(last=False)


def heard_review(store: Store, cache: HeardCache, stored: StoredReview) -> HeardReview:
    """Give what is heard in a stored review's class, from memory or by listening anew."""
    return cache.get(stored.id, lambda: hear_again(store, stored))
