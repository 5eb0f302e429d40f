from __future__ import annotations

import pytest

from reviewkit.store import Store
from tests.web.visitor import BAD_PLAN, PLAN, TALK, Visitor, field_value, tags, words


def test_the_first_visit_offers_a_sample_and_shows_no_reviews(page: Visitor) -> None:
    shown = words(page.get("/"))
    assert "Review the sample class" in shown
    assert "None yet." in shown
    assert "An earlier plan" not in shown


def test_a_class_with_a_typed_plan_is_reviewed_and_listed(page: Visitor, store: Store) -> None:
    review_id = page.review()
    (kept,) = store.list_reviews()
    assert (kept.id, kept.title, kept.transcript_name) == (review_id, "Small class", "talk.vtt")
    assert set(kept.scores) == {"timing", "cues", "density", "breathing"}
    listed = page.get("/")
    assert f'href="/reviews/{review_id}"' in listed.text
    assert '<svg class="strip"' in listed.text
    assert "Density of talk" in words(listed)


def test_a_plan_may_be_a_file(page: Visitor, store: Store) -> None:
    table = b"move,work,rest\nSquat,40s,20s\nPlank,40s,\n"
    files = {"transcript": ("talk.vtt", TALK.encode()), "plan_file": ("mine.csv", table)}
    page.wait(page.post("/reviews", {"plan_from": "file", "plan_text": BAD_PLAN}, files))
    (kept,) = store.list_reviews()
    assert (kept.plan_name, kept.title) == ("mine.csv", "talk")
    assert [plan.title for plan in store.list_plans()] == ["mine.csv"]


def test_an_earlier_plan_can_be_picked(page: Visitor, store: Store) -> None:
    page.review()
    (plan,) = store.list_plans()
    assert plan.text == PLAN
    page.wait(page.send(plan_from="earlier", plan_id=str(plan.id), title="Again"))
    assert [one.title for one in store.list_reviews()] == ["Again", "Small class"]
    assert len(store.list_plans()) == 1


@pytest.mark.parametrize("plan_id", ["", "77", "99999999999999999999999", "x"])
def test_an_earlier_plan_that_is_not_there_is_asked_for(page: Visitor, plan_id: str) -> None:
    answer = page.send(plan_from="earlier", plan_id=plan_id)
    assert answer.status_code == 422
    assert "plan: " in words(answer)


def test_the_sample_class_is_one_click_away(page: Visitor, store: Store) -> None:
    page.wait(page.post("/sample"))
    (kept,) = store.list_reviews()
    assert kept.title == "Harbour evening (sample)"
    assert kept.scores["timing"] is not None


def test_problems_stand_beside_their_fields_in_the_command_lines_words(page: Visitor) -> None:
    answer = page.send("no times at all\n", plan_from="typed", plan_text="", title="Mine")
    assert answer.status_code == 422
    shown = words(answer)
    assert "talk.vtt" in shown
    assert "typed plan: is empty; write one line for each move" in shown
    named = {attributes.get("id") for _, attributes in tags(answer)}
    assert {"transcript-problem", "plan-problem"} <= named
    invalid = {a.get("name") for _, a in tags(answer) if a.get("aria-invalid") == "true"}
    assert invalid == {"transcript", "plan_text"}


def test_nothing_that_was_entered_is_lost_by_an_error(page: Visitor, store: Store) -> None:
    answer = page.send(plan_from="typed", plan_text=BAD_PLAN, title="Mine <3")
    assert "Line 1" in words(answer)
    assert '"40z work" is no length of time; write 40s, 1m30s or 0:45' in words(answer)
    assert field_value(answer, "title") == "Mine <3"
    assert "Main: 40z work, 20s rest\n- Squat\n</textarea>" in answer.text
    assert "talk.vtt is here already" in words(answer)
    # The transcript need not be chosen again.
    fields = {"kept": field_value(answer, "kept"), "plan_from": "typed", "plan_text": PLAN}
    page.wait(page.post("/reviews", fields))
    assert [one.transcript_name for one in store.list_reviews()] == ["talk.vtt"]


def test_a_class_without_a_transcript_is_asked_for_one(page: Visitor) -> None:
    answer = page.post("/reviews", {"plan_text": PLAN})
    assert answer.status_code == 422
    assert "transcript: none was chosen" in words(answer)


def test_a_plan_can_be_checked_without_script(page: Visitor, store: Store) -> None:
    answer = page.send(plan_from="typed", plan_text=PLAN, then="check")
    assert answer.status_code == 200
    assert "2 intervals, 1:20 of work, 1:40 in all" in words(answer)
    assert "talk.vtt is here already" in words(answer)
    assert not store.list_reviews()


def test_a_review_is_renamed(page: Visitor, store: Store) -> None:
    review_id = page.review()
    answer = page.post(f"/reviews/{review_id}/rename", {"title": "  Tuesday \n class "})
    assert answer.status_code == 303
    assert [one.title for one in store.list_reviews()] == ["Tuesday class"]


def test_a_review_keeps_its_title_when_none_is_given(page: Visitor, store: Store) -> None:
    review_id = page.review()
    answer = page.post(f"/reviews/{review_id}/rename", {"title": "  "})
    assert answer.status_code == 422
    assert "title: write a title" in words(answer)
    assert [one.title for one in store.list_reviews()] == ["Small class"]


def test_what_a_review_cannot_tell_is_on_every_screen(page: Visitor) -> None:
    for address in ("/", "/progress", "/compare", "/plans", "/lexicon", "/nowhere"):
        assert "A cue that was said is not a movement that was safe" in words(page.get(address))


def test_what_cannot_be_one_class_is_refused_at_once(page: Visitor) -> None:
    talk = "WEBVTT\n\n00:01.000 --> 05:00.000\n" + "word " * 150_001
    answer = page.send(talk, plan_text=PLAN)
    assert answer.status_code == 422
    said = "talk.vtt: holds 150,001 words, more than anybody says in one class"
    assert said in words(answer)
