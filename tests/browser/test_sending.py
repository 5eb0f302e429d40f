"""From the start page to a review, in chromium as a coach would go."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Locator, Page, expect

from tests.benchmarks.speed import write_class
from tests.browser.chromium import Windows, as_file, wait_for_review
from tests.web.visitor import BAD_PLAN, PLAN, TALK

TRANSCRIPT = as_file("talk.vtt", TALK, "text/vtt")
PLAN_FILE = as_file("plan.txt", PLAN)


def rows(window: Page) -> Locator:
    return window.locator("#intervals tbody tr:not(.group)")


def send(window: Page) -> None:
    window.locator("button.main").click()


def test_a_transcript_and_a_plan_become_a_review(window: Page) -> None:
    window.get_by_label("Transcript", exact=True).set_input_files(TRANSCRIPT)
    window.get_by_label("Plan file").set_input_files(PLAN_FILE)
    send(window)
    wait_for_review(window)
    expect(window.get_by_role("heading", level=1)).to_have_text("Small class")
    expect(rows(window)).to_have_count(2)
    expect(rows(window).first).to_contain_text("on time")


def test_the_sample_class_is_one_press_away(windows: Windows, sample: str) -> None:
    window = windows.open(sample)
    expect(window.get_by_role("heading", level=1)).to_contain_text("sample")
    assert rows(window).count() > 10


def test_a_file_dropped_on_its_field_is_taken(window: Page) -> None:
    drop = """(field, [name, text]) => {
        const held = new DataTransfer();
        held.items.add(new File([text], name));
        const given = { dataTransfer: held, bubbles: true, cancelable: true };
        field.dispatchEvent(new DragEvent("drop", given));
    }"""
    window.locator(".field.drop").first.evaluate(drop, ["talk.vtt", TALK])
    window.locator(".panel.drop").evaluate(drop, ["plan.txt", PLAN])
    send(window)
    wait_for_review(window)
    expect(rows(window)).to_have_count(2)


def test_a_typed_plan_is_checked_while_it_is_typed(window: Page) -> None:
    window.get_by_label("Typed here").check()
    text = window.get_by_label("Plan as text")
    total = window.locator("[data-total]")
    expect(total).to_have_text("Nothing typed yet")
    text.press_sequentially("Main: 40s work, 20s rest\n- Squat\n- Pla")
    expect(total).to_have_text("2 intervals, 1:20 of work, 1:40 in all")
    text.fill(BAD_PLAN)
    window.get_by_role("button", name="Line 1").click()
    chosen = text.evaluate("one => one.value.slice(one.selectionStart, one.selectionEnd)")
    assert chosen == BAD_PLAN.splitlines()[0]
    text.fill(BAD_PLAN.replace("40z", "45s"))
    expect(window.locator("[data-wrong] li")).to_have_count(0)
    expect(window.locator("[data-rows] tbody tr").last).to_contain_text("45s")


def test_what_is_wrong_stands_beside_its_field_and_nothing_is_lost(window: Page) -> None:
    window.get_by_label("Transcript", exact=True).set_input_files(TRANSCRIPT)
    window.get_by_label("Typed here").check()
    window.get_by_label("Plan as text").fill(BAD_PLAN)
    window.locator("#title").fill("Small and wrong")
    send(window)
    expect(window.get_by_role("alert")).to_contain_text("cannot be reviewed yet")
    text = window.get_by_label("Plan as text")
    expect(text).to_have_value(BAD_PLAN)
    expect(text).to_have_attribute("aria-invalid", "true")
    expect(window.locator("#plan-problem")).to_contain_text("40z")
    assert "plan-problem" in (text.get_attribute("aria-describedby") or "")
    expect(window.get_by_text("talk.vtt is here already")).to_be_visible()
    text.fill(PLAN)
    send(window)
    wait_for_review(window)
    expect(window.get_by_role("heading", level=1)).to_have_text("Small and wrong")


def test_an_earlier_plan_is_picked_again(windows: Windows) -> None:
    window = windows.open()
    window.get_by_label("Transcript", exact=True).set_input_files(TRANSCRIPT)
    window.get_by_label("Typed here").check()
    window.get_by_label("Plan as text").fill(PLAN.replace("Small class", "Kept class"))
    send(window)
    wait_for_review(window)
    window.goto("/")
    window.get_by_label("Transcript", exact=True).set_input_files(TRANSCRIPT)
    window.get_by_label("An earlier plan").check()
    plans = window.get_by_label("Earlier plan", exact=True)
    chosen = plans.locator("option", has_text="Kept class").get_attribute("value")
    plans.select_option(chosen)
    send(window)
    wait_for_review(window)
    expect(window.get_by_role("heading", level=1)).to_contain_text("Kept class")


def test_without_a_plan_one_is_drafted_corrected_and_used(window: Page) -> None:
    window.get_by_label("Transcript", exact=True).set_input_files(TRANSCRIPT)
    window.get_by_label("None: draft it from the talk").check()
    send(window)
    expect(window.get_by_role("heading", level=1)).to_have_text("Drafted plan")
    text = window.get_by_label("Plan as text")
    drafted = text.input_value()
    assert "Plank" in drafted
    text.fill(drafted.replace("Plank", "Long plank, 45s"))
    expect(window.locator("[data-rows] tbody tr").last).to_contain_text("Long plank")
    send(window)
    wait_for_review(window)
    expect(rows(window).last).to_contain_text("Long plank")


def test_a_long_review_is_left_found_again_and_stopped(window: Page, tmp_path: Path) -> None:
    captions, plan = write_class(240, tmp_path)
    window.get_by_label("Transcript", exact=True).set_input_files(captions)
    window.get_by_label("Plan file").set_input_files(plan)
    window.locator("#title").fill("Far too long")
    send(window)
    expect(window.locator("[data-told]")).to_contain_text("so far")
    window.get_by_role("link", name="Leave, and let it go on").click()
    made = window.locator("#making li", has_text="Far too long")
    expect(made.locator("[data-told]")).to_contain_text("so far")
    made.get_by_role("link").click()
    window.get_by_role("button", name="Stop this review").click()
    expect(window.get_by_text("The review was stopped.")).to_be_visible()
    expect(window.get_by_text("240.vtt is here already")).to_be_visible()
    expect(window.locator("#title")).to_have_value("Far too long")
    expect(window.locator("#making")).to_have_count(0)


def test_it_all_works_without_script(windows: Windows) -> None:
    window = windows.open(java_script_enabled=False)
    window.get_by_label("Transcript", exact=True).set_input_files(TRANSCRIPT)
    window.get_by_label("Plan file").set_input_files(PLAN_FILE)
    send(window)
    wait_for_review(window)
    window.locator("#interval-row-1 a.choose").click()
    window.get_by_text("It began or ended at another moment").click()
    window.locator("[name=end_seconds]").fill("58")
    window.get_by_role("button", name="Change the times").click()
    expect(window.locator("#corrections form")).to_have_count(1)
    window.locator("#corrections").get_by_role("button", name="Undo").click()
    expect(window.locator("#corrections form")).to_have_count(0)
