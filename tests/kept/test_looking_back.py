from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from reviewkit.kept.looking_back import look_back
from reviewkit.store import Store, open_store
from tests.progress.build import a_document, to_keep


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return open_store(tmp_path)


def test_classes_come_in_the_order_in_which_they_were_reviewed(store: Store) -> None:
    for number in (2, 1, 3):
        store.add_review(to_keep(number, a_document(timing=number)))
    assert [one.figures["timing"] for one in look_back(store).classes] == [1, 2, 3]


def test_a_class_reviewed_twice_counts_once_as_its_latest_review_says(store: Store) -> None:
    first = to_keep(1, a_document(timing=10))
    again = to_keep(2, a_document(timing=20))
    store.add_review(first)
    store.add_review(replace(again, transcript=first.transcript))
    overview = look_back(store)
    assert [one.figures["timing"] for one in overview.classes] == [20]
    assert overview.left_out == ("review 1, Class 1: the same transcript as review 2",)


def test_a_class_that_cannot_be_read_is_left_out_and_said_so(store: Store) -> None:
    store.add_review(to_keep(1))
    store.add_review(replace(to_keep(2), document=None))
    overview = look_back(store)
    assert len(overview.classes) == 1
    assert overview.left_out[0].startswith("review 2, Class 2: ")
