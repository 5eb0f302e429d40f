from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from reviewkit.errors import InputError
from reviewkit.kept.forgetting import find_class, look_up
from reviewkit.store import Store, open_store
from tests.store.build import A_CORRECTION, A_REVIEW, titled

PLAN = "Main: 40s work, 20s rest\n- Squat\n- Plank\n"
TYPED_OTHERWISE = "Main: 40 on 20 off\n* Squat\n* Plank\n"


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return open_store(tmp_path)


def test_a_class_is_found_by_number_or_title(store: Store) -> None:
    first, second = store.add_review(titled("Tuesday")), store.add_review(titled("Friday row"))
    assert find_class(store, f" {second} ").id == second
    assert find_class(store, "friday  ROW").id == second
    assert find_class(store, "Tuesday").id == first


def test_a_number_wins_over_a_title(store: Store) -> None:
    first = store.add_review(titled("2"))
    assert store.add_review(titled("other")) == 2
    assert find_class(store, "2").id == 2
    assert find_class(store, str(first)).id == first


def test_a_title_of_several_is_not_guessed(store: Store) -> None:
    for _ in range(2):
        store.add_review(titled("Tuesday"))
    with pytest.raises(InputError, match="several classes; say which: 1, 2"):
        find_class(store, "tuesday")


def test_nothing_else_is_taken_for_a_class(store: Store) -> None:
    store.add_review(titled("Tuesday"))
    with pytest.raises(InputError, match="neither the number nor the title"):
        find_class(store, "Tues")


def test_what_goes_with_a_class_is_counted(store: Store) -> None:
    review_id = store.add_review(A_REVIEW)
    store.add_correction(review_id, A_CORRECTION)
    found = look_up(store, find_class(store, str(review_id)))
    assert (found.transcript_bytes, found.corrections) == (len(A_REVIEW.transcript), 1)
    assert found.plans == ()


def test_a_plan_goes_only_where_no_other_class_was_made_with_it(store: Store) -> None:
    store.save_plan("Other", "Main: 30s work\n- Lunge\n")
    saved = store.save_plan("Mine", TYPED_OTHERWISE)
    mine = store.add_review(replace(A_REVIEW, plan_text=PLAN))
    assert [one.id for one in look_up(store, find_class(store, str(mine))).plans] == [saved]
    store.add_review(replace(A_REVIEW, plan_text=PLAN))
    assert look_up(store, find_class(store, str(mine))).plans == ()
