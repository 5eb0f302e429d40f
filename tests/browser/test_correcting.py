"""Corrections in place, each of them kept, shown as the coach's own and taken back (chromium)."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.chromium import Watched, Windows, as_file, wait_for_review
from tests.web.visitor import PLAN, TALK


def review(window: Page) -> str:
    """Review the small class in a window; give the path of its review."""
    window.get_by_label("Transcript", exact=True).set_input_files(as_file("talk.vtt", TALK))
    window.get_by_label("Plan file").set_input_files(as_file("plan.txt", PLAN))
    window.locator("button.main").click()
    return wait_for_review(window)


@pytest.fixture(scope="module")
def path(browser: Browser, address: str) -> str:
    """The path of a review of the small class that is left as it was found."""
    windows = Windows(browser, Watched(address))
    made = review(windows.open())
    windows.close()
    return made


@pytest.fixture
def reviewed(windows: Windows, path: str) -> Iterator[Page]:
    window = windows.open(path)
    yield window
    window.goto(path)
    undo_all(window)


def choose(window: Page, item: str) -> Locator:
    """Choose a thing by its row; give the card that tells of it."""
    window.locator(f"#{item} a.choose").first.click()
    return window.locator(f"#panel #card[data-item={item}]")


def corrections(window: Page) -> Locator:
    return window.locator("#corrections .corrected > li")


def move_end(window: Page, item: str, seconds: str) -> None:
    card = choose(window, item)
    card.get_by_text("It began or ended at another moment").click()
    card.locator("[name=end_seconds]").fill(seconds)
    card.get_by_role("button", name="Change the times").click()


def undo_all(window: Page) -> None:
    count = corrections(window).count()
    for left in reversed(range(count)):
        window.locator("#corrections").get_by_role("button", name="Undo").first.click()
        expect(corrections(window)).to_have_count(left)


def test_an_edge_is_moved_shown_as_the_coachs_and_taken_back(reviewed: Page) -> None:
    row = reviewed.locator("#interval-row-1")
    before = row.inner_text()
    assert "on time" in before
    move_end(reviewed, "interval-row-1", "59")
    expect(row).to_contain_text("long")
    expect(corrections(reviewed)).to_have_count(1)
    expect(row).to_contain_text("put right by the coach")
    reviewed.reload()
    expect(row).to_contain_text("long")
    undo_all(reviewed)
    expect(row).to_have_text(before, use_inner_text=True)


def test_an_edge_that_cannot_be_is_refused_with_what_was_entered(reviewed: Page) -> None:
    card = choose(reviewed, "interval-row-1")
    card.get_by_text("It began or ended at another moment").click()
    card.locator("[name=end_minutes]").fill("0")
    card.locator("[name=end_seconds]").fill("2")
    card.get_by_role("button", name="Change the times").click()
    expect(card.get_by_role("alert")).to_be_visible()
    expect(card.locator("[name=end_seconds]")).to_have_value("2")
    expect(corrections(reviewed)).to_have_count(0)


def test_an_interval_is_given_another_move(reviewed: Page) -> None:
    card = choose(reviewed, "interval-row-2")
    card.get_by_text("Another move was done, or none").click()
    card.locator("[name=move]").select_option(label="another move, written below")
    card.locator("[name=other]").fill("Bear crawl")
    card.get_by_role("button", name="Name the move").click()
    expect(reviewed.locator("#interval-row-2")).to_contain_text("Bear crawl")
    undo_all(reviewed)
    expect(reviewed.locator("#interval-row-2")).not_to_contain_text("Bear crawl")


def test_an_interval_that_was_left_out_is_done_after_all(reviewed: Page) -> None:
    row = reviewed.locator("#interval-row-2")
    card = choose(reviewed, "interval-row-2")
    card.get_by_text("Another move was done, or none").click()
    card.locator("[name=move]").select_option(label="none: this was no interval")
    card.get_by_role("button", name="Name the move").click()
    expect(row).to_contain_text("skipped")
    card.get_by_text("It was done after all").click()
    for name, value in (
        ("start_minutes", "1"),
        ("start_seconds", "11"),
        ("end_minutes", "1"),
        ("end_seconds", "51"),
    ):
        card.locator(f"[name={name}]").fill(value)
    card.get_by_role("button", name="Mark as done").click()
    expect(row).to_contain_text("on time")
    undo_all(reviewed)
    expect(row).not_to_contain_text("put right by the coach")


def test_a_point_is_marked_as_said_and_offered_as_a_line_of_the_lexicon(reviewed: Page) -> None:
    point = reviewed.locator("#point-1-1")
    expect(point).to_contain_text("missing")
    card = choose(reviewed, "point-1-1")
    card.get_by_text("It was said", exact=True).click()
    line = card.locator("option", has_text="brace your middle").get_attribute("value")
    card.get_by_label("The line that gave it").select_option(line)
    card.get_by_label("Only these words").fill("brace your middle")
    card.get_by_role("button", name="Mark as said").click()
    expect(point).not_to_contain_text("missing")
    expect(corrections(reviewed)).to_contain_text("to your lexicon?")
    reviewed.locator("#corrections").get_by_role("button", name="Add to my lexicon").click()
    expect(reviewed.locator(".offer")).to_have_count(0)
    undo_all(reviewed)
    reviewed.goto("/lexicon")
    line_there = reviewed.locator(".kept-list li", has_text="brace your middle")
    expect(line_there).to_have_count(1)
    line_there.get_by_role("button").click()
    expect(line_there).to_have_count(0)


def test_a_point_is_marked_as_not_said(reviewed: Page) -> None:
    card = choose(reviewed, "point-0-0")
    card.get_by_text("It was not said").click()
    card.get_by_role("button", name="Mark as not said").click()
    expect(reviewed.locator("#point-0-0")).to_contain_text("missing")
    undo_all(reviewed)
    expect(reviewed.locator("#point-0-0")).not_to_contain_text("missing")


def test_a_finding_is_set_aside_with_a_reason_and_one_thing_is_taken_back_alone(
    reviewed: Page,
) -> None:
    item = reviewed.locator("#flags li", has_text="Dead air").first.get_attribute("id") or ""
    card = choose(reviewed, item)
    card.get_by_text("Set this finding aside").click()
    card.get_by_label("Reason").fill("The music carries this one")
    card.get_by_role("button", name="Set aside").click()
    expect(corrections(reviewed)).to_contain_text(["The music carries this one"])
    move_end(reviewed, "interval-row-2", "59")
    expect(corrections(reviewed)).to_have_count(2)
    aside = corrections(reviewed).filter(has_text="The music carries")
    aside.get_by_role("button", name="Undo").click()
    expect(corrections(reviewed)).to_have_count(1)
    expect(corrections(reviewed)).not_to_contain_text("The music carries")


def test_two_windows_at_once_lose_nothing(windows: Windows, reviewed: Page, path: str) -> None:
    left, right = reviewed, windows.open(path)
    move_end(left, "interval-row-1", "59")
    expect(corrections(left)).to_have_count(1)
    # This window was opened before the other one changed anything.
    move_end(right, "interval-row-2", "59")
    expect(corrections(right)).to_have_count(2)
    left.reload()
    expect(corrections(left)).to_have_count(2)


def test_the_drawing_is_walked_by_keys_and_tells_what_is_chosen(reviewed: Page) -> None:
    first = reviewed.locator("#track .item[tabindex='0']")
    expect(first).to_have_count(1)
    first.focus()
    reviewed.keyboard.press("ArrowDown")
    reviewed.keyboard.press("ArrowRight")
    item = reviewed.evaluate("document.activeElement.dataset.item")
    reviewed.keyboard.press("Enter")
    expect(reviewed.locator(f"#panel #card[data-item='{item}']")).to_be_visible()
    reviewed.keyboard.press("Escape")
    expect(reviewed.locator("#panel #card")).to_have_count(0)
    assert reviewed.evaluate("document.activeElement.dataset.item") == item
