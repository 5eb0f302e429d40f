"""Keep what was heard lately: hearing a class takes seconds, judging it anew does not."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, replace
from threading import Lock

from reviewkit.drafting import SOURCE as DRAFTED
from reviewkit.model import HeardClass, Lexicon, Transcript
from reviewkit.read import read_lexicon
from reviewkit.read.plan_text import read_plan_text
from reviewkit.read.transcript import parse_transcript
from reviewkit.review import hear_class
from reviewkit.store import Store, StoredReview

KEPT_CLASSES = 8
TYPED = "typed plan"


@dataclass(frozen=True, slots=True)
class HeardReview:
    """A transcript and what was heard in it, before any correction."""

    transcript: Transcript
    heard: HeardClass


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


def own_lexicon(store: Store) -> Lexicon:
    """Read the bundled lexicon with the coach's own lines on top.

    Raises:
        InputErrors: Own lines that do not fit the bundled ones (any more).
    """
    return read_lexicon(own_lines=[(one.file, one.line) for one in store.list_lexicon_lines()])


def _plan_name(stored: StoredReview) -> str:
    return stored.plan_name or (DRAFTED if stored.is_drafted else TYPED)


def heard_review(store: Store, cache: HeardCache, stored: StoredReview) -> HeardReview:
    """Give what is heard in a stored review's class, from memory or by listening anew."""

    def hear() -> HeardReview:
        transcript = parse_transcript(stored.transcript_name, stored.transcript)
        plan = replace(
            read_plan_text(_plan_name(stored), stored.plan_text), is_drafted=stored.is_drafted
        )
        lexicon = own_lexicon(store)
        return HeardReview(
            transcript, hear_class(transcript, plan, lexicon, tolerance_ms=stored.tolerance_ms)
        )

    return cache.get(stored.id, hear)
