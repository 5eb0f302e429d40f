from __future__ import annotations

from pathlib import Path

import pytest

from reviewkit.store import Store, open_store
from tests.web.visitor import TALK, Visitor, visit, words

WORD = "xylophonically"


def test_before_a_class_is_forgotten_all_of_it_is_named(page: Visitor, store: Store) -> None:
    review_id = page.review()
    screen = page.get(f"/reviews/{review_id}/forget")
    assert f"Review {review_id}: Small class" in words(screen)
    assert "with 0 corrections" in words(screen)
    assert "backups and copies of the data folder" in words(screen)
    assert len(store.list_reviews()) == 1


def test_a_forgotten_class_is_gone_from_every_screen(page: Visitor, store: Store) -> None:
    review_id, address = page.review(), "/reviews/1"
    page.get(address)
    answer = page.post(f"{address}/forget")
    assert answer.status_code == 200
    assert f"Deleted and overwritten: review {review_id}" in words(answer)
    assert "Its saved plan stays." in words(answer)
    assert not store.list_reviews()
    assert len(store.list_plans()) == 1
    for gone in ("", "/forget", "/next", "/files/review.md", "/about/interval-row-1"):
        assert page.get(f"{address}{gone}").status_code == 404
    assert "No class is kept yet." in words(page.get("/progress"))
    again = page.post(f"{address}/forget")
    assert again.status_code == 404
    assert f"There is no review {review_id}" in words(again)


def test_its_plan_goes_where_that_is_wanted(page: Visitor, store: Store) -> None:
    address = f"/reviews/{page.review()}/forget"
    assert 'name="with_plan"' in page.get(address).text
    assert "and 1 saved plan." in words(page.post(address, {"with_plan": "yes"}))
    assert not store.list_plans()


def test_a_plan_that_others_use_is_not_offered_and_stays(page: Visitor, store: Store) -> None:
    page.review()
    address = f"/reviews/{page.review()}/forget"
    assert 'name="with_plan"' not in page.get(address).text
    page.post(address, {"with_plan": "yes"})
    assert len(store.list_plans()) == 1


@pytest.mark.parametrize("plan", ["yes", ""])
def test_no_byte_of_it_is_left(tmp_path: Path, plan: str) -> None:
    talk = TALK.replace("everyone", WORD)
    with open_store(tmp_path) as store, visit(store) as page:
        address = page.wait(page.send(talk, plan_text="Main: 40s work, 20s rest\n- Squat\n"))
        assert any(WORD.encode() in path.read_bytes() for path in tmp_path.iterdir())
        page.post(f"{address}/forget", {"with_plan": plan})
        assert not any(WORD.encode() in path.read_bytes() for path in tmp_path.iterdir())
