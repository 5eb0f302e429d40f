"""The classes over time, two of them side by side, and all of it taken away (chromium)."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser.chromium import Windows


def test_the_classes_are_found_drawn_and_compared(
    windows: Windows, sample: str, small: str
) -> None:
    window = windows.open()
    window.get_by_role("link", name="Over time").click()
    chart = window.locator(".charts svg.chart").first
    expect(chart).to_be_visible()
    expect(chart.locator(".dot").first).not_to_have_css("fill", "rgb(0, 0, 0)")
    window.get_by_text("Points the lexicon suggests", exact=True).first.click()
    expect(window.locator(".histories").last).to_be_visible()
    window.get_by_role("link", name="Set two classes side by side").click()
    window.get_by_label("Class A").select_option(sample.rsplit("/", 1)[1])
    window.get_by_label("Class B").select_option(small.rsplit("/", 1)[1])
    window.get_by_role("button", name="Compare").click()
    expect(window.locator(".two a").first).to_have_attribute("href", sample)
    expect(window.locator(".two a").last).to_have_attribute("href", small)


def test_tables_are_taken_away(windows: Windows, sample: str) -> None:  # noqa: ARG001 - brings a class
    window = windows.open("/progress")
    with window.expect_download() as begun:
        window.get_by_role("link", name="Table of points (CSV)").click()
    assert begun.value.suggested_filename == "classes-over-time-points.csv"
    assert begun.value.path().read_text("utf-8").startswith("review,move,point,")
