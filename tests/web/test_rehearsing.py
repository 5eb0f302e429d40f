from __future__ import annotations

import re

import pytest

from reviewkit.store import Store
from tests.web.visitor import PLAN, Visitor, words


def test_a_review_leads_to_its_next_filming(page: Visitor) -> None:
    address = f"/reviews/{page.review()}"
    assert f'href="{address}/next"' in page.get(address).text
    screen = page.get(f"{address}/next")
    assert "2 intervals, 1:40 in all." in words(screen)
    assert "All that must be said fits" in words(screen)
    for part in ("sheet", "clock", "cue-sheet.html", "cue-sheet.md", "class-clock.html"):
        assert f'href="{address}/next/{part}"' in screen.text


def test_what_was_missing_stands_out(page: Visitor) -> None:
    plan = PLAN.replace("chest tall", "chest tall; eyes on the horizon")
    address = f"/reviews/{page.review(plan_text=plan, title='First try')}/next"
    assert "Squat: eyes on the horizon, missing last time" in words(page.get(address))
    sheet = words(page.get(f"{address}/sheet"))
    assert "missing or late last time (First try)" in sheet
    assert re.search("eyes on the horizon (by 0:13 )?missing last time", sheet)


def test_a_plan_takes_the_latest_class_made_with_it(page: Visitor, store: Store) -> None:
    page.review(title="Older")
    latest = page.review(title="Newer")
    page.review(plan_text="Main: 40s work, 20s rest\n- Lunge\n- Plank\n", title="Other plan")
    plan = next(one.id for one in store.list_plans() if "Squat" in one.text)
    screen = page.get(f"/plans/{plan}/next")
    assert f'<option value="{latest}" selected>' in screen.text
    assert f'href="/plans/{plan}/next/sheet?last={latest}"' in screen.text
    assert "last time (Newer)" in words(page.get(f"/plans/{plan}/next/sheet?last={latest}"))


@pytest.mark.parametrize("last", ["none", "99", "x"])
def test_a_plan_can_be_prepared_without_an_earlier_class(
    page: Visitor, store: Store, last: str
) -> None:
    page.review()
    plan = store.list_plans()[0].id
    screen = page.get(f"/plans/{plan}/next?last={last}")
    assert "a usual one" in words(screen)
    assert "nothing stands out" in words(screen)
    assert '<option value="none">' in screen.text
    assert "last time" not in words(page.get(f"/plans/{plan}/next/sheet?last={last}"))


def test_too_much_to_say_is_warned_of(page: Visitor, store: Store) -> None:
    many = "; ".join(f"keep the {part} just where I showed you before" for part in "abcdefgh")
    plan = store.save_plan("Crowded", f"Main: 20s work\n- Squat (say: {many})\n")
    assert "what must be said takes" in words(page.get(f"/plans/{plan}/next"))


def test_sheet_and_clock_take_their_styles_from_the_page(page: Visitor) -> None:
    address = f"/reviews/{page.review()}/next"
    for part, files in (
        ("sheet", ["cue-sheet.css"]),
        ("clock", ["class-clock.css", "class-clock.js"]),
    ):
        text = page.get(f"{address}/{part}").text
        assert "<style" not in text
        for name in files:
            assert f"/static/rehearse/{name}" in text
            assert page.get(f"/static/rehearse/{name}").status_code == 200
        assert f'href="{address}"' in text


def test_files_are_the_same_as_the_commands(page: Visitor) -> None:
    address = f"/reviews/{page.review(title='Café')}/next"
    clock = page.get(f"{address}/class-clock.html")
    assert clock.headers["content-disposition"].startswith(
        'attachment; filename="cafe-class-clock.html"'
    )
    assert "<style>" in clock.text
    assert "href=" not in clock.text
    assert page.get(f"{address}/cue-sheet.md").text.startswith("# Cue sheet: Café\n")


@pytest.mark.parametrize("address", ["/reviews/9/next", "/plans/9/next", "/reviews/9/next/sheet"])
def test_what_is_not_kept_has_no_next_filming(page: Visitor, address: str) -> None:
    assert page.get(address).status_code == 404


def test_there_are_no_other_parts(page: Visitor) -> None:
    assert page.get(f"/reviews/{page.review()}/next/cue-sheet.css").status_code == 404


def test_a_saved_plan_that_cannot_be_read_is_said(page: Visitor, store: Store) -> None:
    plan = store.save_plan("Broken", "Main: 40z work\n- Squat\n")
    assert page.get(f"/plans/{plan}/next").status_code == 422
    assert f"/plans/{plan}/next" not in page.get("/plans").text
