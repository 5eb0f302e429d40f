"""What is kept: found again, given another title, taken away, deleted (chromium)."""

from __future__ import annotations

import json

from playwright.sync_api import Locator, Page, expect

from tests.browser.chromium import Windows
from tests.browser.test_correcting import review


def entry(window: Page, path: str) -> Locator:
    """Find a review in the list of earlier ones."""
    return window.locator(".reviews > li", has=window.locator(f"a[href='{path}']"))


def forget(window: Page, path: str) -> None:
    """Forget a class from the list of earlier reviews, and go back there."""
    one = entry(window, path)
    one.get_by_text("Rename or forget").click()
    one.get_by_role("link", name="Forget this class").click()
    window.get_by_role("button", name="for good").click()
    expect(window.get_by_role("heading", level=1)).to_have_text("Forgotten")
    window.get_by_role("link", name="Go to your reviews").click()


def test_a_review_is_renamed_and_forgotten(window: Page) -> None:
    path = review(window)
    window.goto("/")
    one = entry(window, path)
    expect(one.locator(".figures dd")).to_have_count(4)
    expect(one.locator("svg.strip")).to_be_visible()
    one.get_by_text("Rename or forget").click()
    one.get_by_label("Title").fill("Evening <b>at</b> the quay")
    one.get_by_role("button", name="Rename").click()
    expect(one.locator(".what")).to_have_text("Evening <b>at</b> the quay")
    forget(window, path)
    expect(entry(window, path)).to_have_count(0)
    window.goto(path)
    expect(window.get_by_role("heading", level=1)).to_have_text("Not possible")


def test_a_review_forgotten_in_another_window_is_said_to_be_gone(windows: Windows) -> None:
    left = windows.open()
    path = review(left)
    right = windows.open()
    forget(right, path)
    left.locator("#interval-row-1 a.choose").click()
    expect(left.get_by_role("heading", level=1)).to_have_text("Not possible")


def test_two_windows_send_at_once(windows: Windows) -> None:
    both = [windows.open(), windows.open()]
    for number, window in enumerate(both):
        window.locator("#title").fill(f"Sent at once {number}")
    paths = {review(window) for window in both}
    assert len(paths) == 2
    both[0].goto("/")
    for number in (0, 1):
        expect(both[0].locator(".what", has_text=f"Sent at once {number}")).to_have_count(1)


def test_the_files_are_taken_away(windows: Windows, sample: str) -> None:
    window = windows.open(sample)
    links = window.locator("#files a")
    assert links.count() >= 5
    with window.expect_download() as begun:
        window.locator("#files a[href$='review.json']").click()
    assert begun.value.suggested_filename.endswith("review.json")
    assert json.loads(begun.value.path().read_text("utf-8"))
