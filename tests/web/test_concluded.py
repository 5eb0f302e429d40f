from __future__ import annotations

from typing import Any

import pytest

from reviewkit.kept.keeping import HeardReview
from reviewkit.model import Correction, Review, SetAside
from reviewkit.web import concluded
from tests.report.sample import sample_review

SAMPLE = sample_review()


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[tuple[Correction, ...]]:
    """Give the list in which every conclusion leaves its corrections."""
    made: list[tuple[Correction, ...]] = []

    def conclude(*made_from: Any, **_: Any) -> Review:
        made.append(made_from[2])
        return SAMPLE

    monkeypatch.setattr(concluded, "conclude", conclude)
    return made


def test_a_review_is_concluded_once_until_something_changes(
    made: list[tuple[Correction, ...]],
) -> None:
    cache = concluded.ConcludedCache()
    heard, anew = (HeardReview(SAMPLE.transcript, SAMPLE.heard) for _ in range(2))
    aside = (SetAside("length i2", "no matter"),)
    for _ in range(2):
        cache.get(1, heard, (), None)
    assert made == [()]
    cache.get(1, heard, aside, None)
    cache.get(1, anew, aside, None)
    cache.get(1, anew, aside, 2_000)
    assert made == [(), aside, aside, aside]


def test_the_reviews_looked_at_last_are_kept(made: list[tuple[Correction, ...]]) -> None:
    cache = concluded.ConcludedCache()
    heard = HeardReview(SAMPLE.transcript, SAMPLE.heard)
    for review_id in range(concluded.KEPT_REVIEWS + 1):
        cache.get(review_id, heard, (), None)
    cache.get(concluded.KEPT_REVIEWS, heard, (), None)
    assert len(made) == concluded.KEPT_REVIEWS + 1
    cache.get(0, heard, (), None)
    assert len(made) == concluded.KEPT_REVIEWS + 2
