from __future__ import annotations

import pytest

from reviewkit.model import MarkedPoint, MovedEdge, NamedMove, SetAside
from reviewkit.store import Store
from tests.web.visitor import PLAN, Visitor, field_value, tags, words

HOSTILE = "<script>alert(1)</script>\"'><b>"


def first_item(page: Visitor, address: str, kind: str) -> str:
    """Give the first thing of a kind that can be chosen on a review's screen."""
    chosen = [
        attributes["data-item"]
        for _, attributes in tags(page.get(address))
        if (attributes.get("data-item") or "").startswith(f"{kind}-")
    ]
    assert chosen[0]
    return chosen[0]


def interval_form(page: Visitor, address: str) -> dict[str, str]:
    """Give the fields of the form that moves the edges of the first interval."""
    item = first_item(page, address, "interval")
    card = page.get(f"{address}/about/{item}")
    names = ("interval", "start_minutes", "start_seconds", "end_minutes", "end_seconds")
    fields = {name: field_value(card, name) for name in names}
    return {"correct": "edges", "item": item, **fields}


def offered(page: Visitor, address: str) -> dict[str, str]:
    """Give the lexicon line that a screen offers."""
    answer = page.get(address)
    return {name: field_value(answer, name) for name in ("file", "line")}


def test_the_screen_shows_the_review_and_needs_nothing_from_elsewhere(page: Visitor) -> None:
    answer = page.get(f"/reviews/{page.review(title='Small class')}")
    assert answer.status_code == 200
    shown = words(answer)
    for part in ("Small class", "Squat", "chest tall", "The class over time", "Take away"):
        assert part in shown
    for tag, attributes in tags(answer):
        assert "style" not in attributes
        assert not {name for name in attributes if name.startswith("on")}
        assert tag != "style"
        assert not (attributes.get("src") or "").startswith("http")


def test_every_id_is_there_once_and_every_way_inside_leads_somewhere(page: Visitor) -> None:
    answer = page.get(f"/reviews/{page.review()}")
    ids = [attributes["id"] for _, attributes in tags(answer) if "id" in attributes]
    assert len(ids) == len(set(ids))
    ways = {attributes.get("href") or "" for tag, attributes in tags(answer) if tag == "a"}
    assert {way for way in ways if way.startswith("#")} <= {f"#{one}" for one in ids}


def test_whatever_can_be_chosen_has_a_card(page: Visitor) -> None:
    address = f"/reviews/{page.review()}"
    ways = {
        attributes["href"]
        for _, attributes in tags(page.get(address))
        if "data-item" in attributes and attributes["href"]
    }
    assert ways
    for way in ways:
        assert page.get(way).status_code == 200


@pytest.mark.parametrize("item", ["interval-none", "x", "point-0-99", "..%2F..%2Fetc"])
def test_a_card_of_nothing_is_not_found(page: Visitor, item: str) -> None:
    assert page.get(f"/reviews/{page.review()}/about/{item}").status_code == 404


def test_a_review_that_is_not_there_is_not_found(page: Visitor) -> None:
    assert page.get("/reviews/77").status_code == 404
    assert page.post("/reviews/77/corrections", {"correct": "aside"}).status_code == 404
    assert page.post("/reviews/77/corrections/1/undo").status_code == 404


def test_an_edge_is_moved_shown_and_put_back(page: Visitor, store: Store) -> None:
    review_id = page.review()
    address = f"/reviews/{review_id}"
    form = interval_form(page, address)
    before = words(page.get(address))
    sent = page.post(f"{address}/corrections", {**form, "end_minutes": "1", "end_seconds": "12.3"})
    assert sent.status_code == 303
    assert sent.headers["location"] == f"{address}#{form['item']}"
    (kept,) = store.list_corrections(review_id)
    assert kept.correction == MovedEdge(form["interval"], "end", 72_300)
    after = words(page.get(address))
    assert "put right by the coach" in after
    assert "ends at 1:12.3" in after
    undone = page.post(f"{address}/corrections/{kept.id}/undo")
    assert (undone.status_code, store.list_corrections(review_id)) == (303, ())
    assert words(page.get(address)) == before


def test_the_list_shows_a_review_as_it_stands(page: Visitor, store: Store) -> None:
    review_id = page.review()
    address = f"/reviews/{review_id}"
    before = store.get_review(review_id)
    form = interval_form(page, address)
    page.post(f"{address}/corrections", {**form, "end_minutes": "1", "end_seconds": "12.3"})
    corrected = store.get_review(review_id)
    assert corrected.scores["timing"] != before.scores["timing"]
    (kept,) = store.list_corrections(review_id)
    page.post(f"{address}/corrections/{kept.id}/undo")
    assert store.get_review(review_id).scores == before.scores


def test_a_wrong_entry_comes_back_with_what_was_typed(page: Visitor, store: Store) -> None:
    review_id = page.review()
    form = interval_form(page, f"/reviews/{review_id}")
    answer = page.post(
        f"/reviews/{review_id}/corrections", {**form, "end_minutes": "0", "end_seconds": "1"}
    )
    assert answer.status_code == 422
    assert "Ended: must lie after" in words(answer)
    assert ("end_seconds", "1") in {
        (attributes.get("name"), attributes.get("value")) for _, attributes in tags(answer)
    }
    assert store.list_corrections(review_id) == ()


def test_another_move_and_a_set_aside_finding_are_kept(page: Visitor, store: Store) -> None:
    review_id = page.review()
    address = f"/reviews/{review_id}"
    form = interval_form(page, address)
    named = {"correct": "move", "item": form["item"], "interval": form["interval"]}
    page.post(f"{address}/corrections", {**named, "move": "other", "other": HOSTILE})
    flag = first_item(page, address, "flag")
    finding = field_value(page.get(f"{address}/about/{flag}"), "finding")
    aside = {"correct": "aside", "item": flag, "reason": HOSTILE, "finding": finding}
    page.post(f"{address}/corrections", aside)
    kept = [one.correction for one in store.list_corrections(review_id)]
    assert kept == [NamedMove(form["interval"], HOSTILE), SetAside(finding, HOSTILE)]
    for way in (address, f"{address}/about/{form['item']}", f"{address}/about/{flag}"):
        answer = page.get(way)
        assert answer.status_code == 200
        assert "<b>" not in answer.text
        assert "alert(1)</script>" not in answer.text


def test_a_point_marked_as_said_is_offered_to_the_lexicon(page: Visitor, store: Store) -> None:
    review_id = page.review(plan_text=PLAN.replace("chest tall", "chest lifted"))
    address = f"/reviews/{review_id}"
    card = f"{address}/about/point-0-0"
    line = next(
        attributes["value"]
        for tag, attributes in tags(page.get(card))
        if tag == "option" and attributes.get("value")
    )
    said = {
        "correct": "point", "item": "point-0-0", "of_move": "Squat", "point": "chest lifted",
        "verdict": "said", "line": line or "", "words": "welcome in everyone",
    }  # fmt: skip
    assert page.post(f"{address}/corrections", said).status_code == 303
    (kept,) = store.list_corrections(review_id)
    assert isinstance(kept.correction, MarkedPoint)
    assert kept.correction.text == "welcome in everyone"
    offers = [offered(page, way) for way in (address, card)]
    assert offers == [{"file": "point_lines.csv", "line": "welcome in everyone,chest-tall"}] * 2
    page.post("/lexicon", offers[0])
    assert "to your lexicon?" not in words(page.get(address))


def test_a_correction_needs_the_form_s_token(page: Visitor, store: Store) -> None:
    review_id = page.review()
    form = interval_form(page, f"/reviews/{review_id}")
    forged = {**form, "end_minutes": "1", "form_token": "guess"}
    assert page.post(f"/reviews/{review_id}/corrections", forged).status_code == 403
    assert store.list_corrections(review_id) == ()


def test_the_way_back_is_always_to_the_review(page: Visitor) -> None:
    review_id = page.review()
    form = interval_form(page, f"/reviews/{review_id}")
    moved = {**form, "end_minutes": "1", "item": "x\r\nSet-Cookie: a=b"}
    sent = page.post(f"/reviews/{review_id}/corrections", moved)
    assert sent.headers["location"] == f"/reviews/{review_id}"


def test_only_what_was_heard_can_be_picked_out_of_the_talk(page: Visitor) -> None:
    screen = page.get(f"/reviews/{page.review()}")
    boxes = {
        str(one["id"]): "disabled" in one
        for tag, one in tags(screen)
        if tag == "input" and one.get("class") == "only"
    }
    assert boxes["only-risky_talk"]
    assert not boxes["only-time_call"]
    assert "risky talk ! (none)" in words(screen)
