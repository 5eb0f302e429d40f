"""The local file that keeps reviews, corrections, plans and the coach's own lexicon lines."""

from reviewkit.store.records import (
    LexiconLine,
    Missing,
    NewReview,
    ReviewSummary,
    SavedPlan,
    StoredCorrection,
    StoredReview,
)
from reviewkit.store.server import is_server
from reviewkit.store.store import FILE_NAME, Store, default_folder, open_data, open_store

__all__ = [
    "FILE_NAME",
    "LexiconLine",
    "Missing",
    "NewReview",
    "ReviewSummary",
    "SavedPlan",
    "Store",
    "StoredCorrection",
    "StoredReview",
    "default_folder",
    "is_server",
    "open_data",
    "open_store",
]
