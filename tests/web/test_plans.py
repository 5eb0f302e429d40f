from __future__ import annotations

from reviewkit.store import Store
from tests.web.visitor import BAD_PLAN, PLAN, Visitor, words


def checked(page: Visitor, text: str) -> dict[str, object]:
    answer = page.post("/plans/check", {"plan_text": text})
    assert answer.headers["content-type"] == "application/json"
    return dict(answer.json())


def test_a_typed_plan_is_laid_out_with_its_total(page: Visitor) -> None:
    check = checked(page, PLAN)
    assert check["total"] == "2 intervals, 1:20 of work, 1:40 in all"
    assert check["problems"] == []
    assert check["rows"] == [
        {"at": "0:00", "part": "Main", "move": "Squat", "work": "40s", "rest": "20s"},
        {"at": "1:00", "part": "Main", "move": "Plank", "work": "40s", "rest": "20s"},
    ]


def test_rounds_are_told_apart(page: Visitor) -> None:
    rows = checked(page, "Main, 2 rounds: 40s each\n- Squat\n")["rows"]
    assert isinstance(rows, list)
    assert [row["part"] for row in rows] == ["Main, round 1", "Main, round 2"]


def test_a_move_that_comes_again_makes_no_round(page: Visitor) -> None:
    rows = checked(page, "Main: 40s each\n- Squat\n- Plank\n- Squat\n- Row\n")["rows"]
    assert isinstance(rows, list)
    assert {row["part"] for row in rows} == {"Main"}


def test_every_problem_is_told_with_its_line(page: Visitor) -> None:
    check = checked(page, f"{BAD_PLAN}\nCool-down: 30q\n- Stretch\n")
    assert check["rows"] == []
    problems = check["problems"]
    assert isinstance(problems, list)
    assert [one["line"] for one in problems] == [1, 4]
    assert problems[0]["text"] == '"40z work" is no length of time; write 40s, 1m30s or 0:45'


def test_nothing_typed_is_no_problem_yet(page: Visitor) -> None:
    assert checked(page, " \n") == {"total": "", "rows": [], "problems": []}


def test_pasted_bytes_that_are_no_plan_are_told(page: Visitor) -> None:
    assert checked(page, "%PDF-1.7 \x00\x01")["problems"]


def test_without_a_plan_one_is_drafted_put_right_and_used(page: Visitor, store: Store) -> None:
    draft = page.wait(page.send(plan_from="none", title="Drafted"))
    assert draft.startswith("/drafts/")
    shown = page.get(draft)
    assert "<textarea" in shown.text
    assert "Review by this plan" in words(shown)
    assert not store.list_reviews()
    page.wait(page.post(draft, {"plan_text": PLAN}))
    (kept,) = store.list_reviews()
    assert (kept.title, kept.is_drafted) == ("Drafted", False)
    stored = store.get_review(kept.id)
    assert "Squat" in stored.plan_text
    assert stored.plan_name == "drafted from the talk, then corrected"


def test_a_draft_that_stands_is_told_to_be_one(page: Visitor, store: Store) -> None:
    draft = page.wait(page.send(plan_from="none"))
    text = page.get(draft).text.split("<textarea")[1].split(">\n", 1)[1].split("</textarea>")[0]
    page.wait(page.post(draft, {"plan_text": text.replace("&#34;", '"')}))
    (kept,) = store.list_reviews()
    assert kept.is_drafted
    assert not store.list_plans()
    report = page.get(f"/reviews/{kept.id}/files/review.json").json()
    assert report["plan"]["is_drafted"]


def test_a_draft_with_a_problem_keeps_what_was_typed(page: Visitor, store: Store) -> None:
    draft = page.wait(page.send(plan_from="none"))
    answer = page.post(draft, {"plan_text": BAD_PLAN})
    assert answer.status_code == 422
    assert "Line 1" in words(answer)
    assert BAD_PLAN in answer.text
    assert not store.list_reviews()
    empty = page.post(draft, {"plan_text": ""})
    assert "typed plan: is empty; write one line for each move" in words(empty)


def test_a_draft_can_be_checked_without_script(page: Visitor) -> None:
    draft = page.wait(page.send(plan_from="none"))
    answer = page.post(draft, {"plan_text": PLAN, "then": "check"})
    assert answer.status_code == 200
    assert "2 intervals, 1:20 of work, 1:40 in all" in words(answer)


def test_a_draft_is_put_off_with_what_was_typed_and_found_again(page: Visitor) -> None:
    draft = page.wait(page.send(plan_from="none", plan_text="an older thought", title="Drafted"))
    assert "an older thought" not in page.get(draft).text
    assert "Drafted A plan is drafted from the talk" in words(page.get("/"))
    later = page.post(draft, {"plan_text": "Main: 40s\n- Half a thought", "then": "later"})
    assert later.headers["location"] == "/#making"
    assert f'href="{draft}"' in page.get("/").text
    assert "- Half a thought" in page.get(draft).text
    page.wait(page.post(draft, {"plan_text": PLAN}))
    assert "In the making" not in words(page.get("/"))


def test_a_talk_without_intervals_asks_for_the_plan(page: Visitor) -> None:
    talk = "WEBVTT\n\n00:00:01.000 --> 00:00:04.000\nhello and welcome\n"
    draft = page.wait(page.send(talk, plan_from="none"))
    assert "The talk does not tell where its intervals begin." in words(page.get(draft))


def test_plans_are_kept_listed_and_deleted(page: Visitor, store: Store) -> None:
    assert "No plans yet." in words(page.get("/plans"))
    page.review()
    (plan,) = store.list_plans()
    listed = page.get("/plans")
    assert "Small class" in words(listed)
    assert "2 intervals, 1:20 of work, 1:40 in all" in words(listed)
    assert page.post(f"/plans/{plan.id}/delete").status_code == 303
    assert not store.list_plans()
    assert page.post(f"/plans/{plan.id}/delete").status_code == 404
    assert len(store.list_reviews()) == 1
