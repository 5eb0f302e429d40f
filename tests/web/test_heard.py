from __future__ import annotations

import pytest

from reviewkit.kept.keeping import HeardReview
from reviewkit.review import conclude
from reviewkit.store import Store
from reviewkit.web.heard import KEPT_CLASSES, HeardCache, heard_review
from tests.web.visitor import Visitor


@pytest.fixture
def heard(page: Visitor, store: Store) -> HeardReview:
    return heard_review(store, HeardCache(), store.get_review(page.review()))


def test_a_class_is_listened_to_once(heard: HeardReview) -> None:
    cache = HeardCache()
    times: list[int] = []

    def hear() -> HeardReview:
        times.append(1)
        return heard

    assert cache.get(1, hear) is heard
    assert cache.get(1, hear) is heard
    cache.drop(1)
    cache.get(1, hear)
    cache.clear()
    cache.get(1, hear)
    assert len(times) == 3


def test_only_the_last_classes_are_kept(heard: HeardReview) -> None:
    cache = HeardCache()
    for review_id in range(KEPT_CLASSES + 1):
        cache.put(review_id, heard)
    times: list[int] = []

    def hear() -> HeardReview:
        times.append(1)
        return heard

    cache.get(KEPT_CLASSES, hear)
    assert not times
    cache.get(0, hear)
    assert times


def test_a_stored_class_is_heard_as_it_was(page: Visitor, store: Store) -> None:
    kept = store.get_review(page.review())
    again = heard_review(store, HeardCache(), kept)
    review = conclude(again.transcript, again.heard)
    assert {name: score.value for name, score in review.findings.scores} == kept.scores
    assert review.heard.plan.title == "Small class"
    assert review.heard.plan.minutes == 2
    assert review.heard.plan.source == "typed plan"
    assert review.transcript.source == "talk.vtt"
