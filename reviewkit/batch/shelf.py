"""A batch whose documents are those of the kept reviews, with no folder beside the store."""

from __future__ import annotations

import json
from typing import Any

from reviewkit.kept.keeping import document_of
from reviewkit.store import NewReview, Store


class Shelf:
    """The store as the place of documents and of reviews alike; knows its own batch alone."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._digests: dict[str, str] = {}

    def has(self, name: str, digest: str) -> bool:
        """Tell whether a class was reviewed before from the very same things."""
        self._digests[name] = digest
        return self.has_digest(digest)

    def has_digest(self, digest: str) -> bool:
        """Tell whether a review of that digest is kept."""
        return self._store.has_digest(digest)

    def add_review_once(self, review: NewReview) -> int:
        """Keep a review unless one of its digest is kept, and give the id of that one."""
        return self._store.add_review_once(review)

    def write(self, name: str, text: str) -> None:
        """Write nothing: the document is kept with its review."""

    def drop(self, name: str) -> None:
        """Delete nothing: an earlier review of other files is one of its own."""

    def find(self, name: str) -> int | None:
        """Give the id of a class's review, None where it was deleted meanwhile."""
        return self._store.find_digest(self._digests[name])

    def read(self, review_id: int) -> dict[str, Any]:
        """Read the document of a review, as the coach has put it right.

        Raises:
            Missing: It was deleted meanwhile.
        """
        document: dict[str, Any] = json.loads(document_of(self._store, review_id))
        return document
