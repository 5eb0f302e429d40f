"""From a review to the next filming: the sheet, and a clock that is run by keys (chromium)."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from reviewkit.rehearse import rehearsal_files
from tests.browser.chromium import Watched, Windows
from tests.rehearse.sample import sheet

# Names what runs out of the screen, and whether there are more words than have room.
CUT_OFF = """() => {
    const $ = (id) => document.getElementById(id);
    const out = ["say", "left", "next", "name"].filter((id) => {
        const place = $(id).getBoundingClientRect();
        return place.bottom > innerHeight + 1 || place.right > innerWidth + 1;
    });
    if ($("name").scrollHeight > $("name").clientHeight + 1) out.push("name");
    const needed = $("call").offsetHeight + $("say").offsetHeight;
    return needed > $("words").clientHeight + 1 ? [...out, "words"] : out;
}"""


def open_clock(windows: Windows, sample: str) -> Page:
    """Open the clock of the sample class, with a time of its own that stands still."""
    window = windows.open("about:blank")
    window.clock.install()
    window.goto(f"{sample}/next/clock")
    return window


def test_a_review_leads_to_the_sheet_and_back(windows: Windows, sample: str) -> None:
    window = windows.open(sample)
    window.get_by_role("link", name="Prepare the next filming").click()
    window.get_by_role("link", name="Open the cue sheet").click()
    expect(window.locator("tbody tr.first").first).to_be_visible()
    expect(window.locator(".clock b").first).to_have_css("display", "block")
    window.get_by_role("link", name="Back").click()
    expect(window.get_by_role("heading", level=1)).to_have_text("The next filming")


def test_a_plan_leads_there_too(windows: Windows, small: str) -> None:  # noqa: ARG001 - brings a plan
    window = windows.open("/plans")
    window.get_by_role("link", name="Prepare the next filming").first.click()
    window.get_by_label("What was missing in").select_option("none")
    window.get_by_role("button", name="Show").click()
    expect(window.get_by_text("nothing stands out")).to_be_visible()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_whole_class_is_printed_on_one_page(windows: Windows, sample: str, paper: str) -> None:
    window = windows.open(f"{sample}/next/sheet")
    assert len(re.findall(rb"/Type\s*/Page\b", window.pdf(format=paper))) == 1


def test_the_clock_is_run_by_keys(windows: Windows, sample: str) -> None:
    window = open_clock(windows, sample)
    left, name = window.locator("#left"), window.locator("#name")
    expect(name).to_have_text("Get ready")
    expect(left).to_have_text("10")
    window.keyboard.press("Space")
    window.clock.run_for(4_000)
    expect(left).to_have_text("6")
    window.clock.run_for(7_000)
    expect(window.locator("#place")).to_have_text("1 of 19")
    expect(left).to_have_text("29")
    window.keyboard.press("Space")
    window.clock.run_for(5_000)
    expect(left).to_have_text("29")
    expect(window.locator("#state")).to_contain_text("Paused")
    window.keyboard.press("ArrowRight")
    expect(window.locator("#place")).to_have_text("2 of 19")
    window.keyboard.press("ArrowLeft")
    expect(window.locator("#place")).to_have_text("1 of 19")
    window.keyboard.press("r")
    expect(name).to_have_text("Get ready")


def test_sound_comes_only_where_it_is_asked_for(windows: Windows, sample: str) -> None:
    window = open_clock(windows, sample)
    state = window.locator("#state")
    expect(state).not_to_contain_text("Sound")
    window.keyboard.press("s")
    expect(state).to_contain_text("Sound is on.")
    window.keyboard.press("s")
    expect(state).not_to_contain_text("Sound")


def test_the_clock_comes_to_an_end(windows: Windows, sample: str) -> None:
    window = open_clock(windows, sample)
    for _ in range(19):
        window.keyboard.press("ArrowRight")
    window.keyboard.press("Space")
    window.clock.run_for(60_000)
    expect(window.locator("#call")).to_have_text("The class is over.")
    expect(window.locator("#say")).to_be_hidden()


def test_the_keys_are_shown_and_lead_away(windows: Windows, sample: str) -> None:
    window = open_clock(windows, sample)
    window.keyboard.press("?")
    expect(window.get_by_role("dialog")).to_be_visible()
    window.keyboard.press("?")
    expect(window.get_by_role("dialog")).to_be_hidden()
    window.keyboard.press("?")
    window.get_by_role("link", name="Leave the clock").press("Enter")
    expect(window.get_by_role("heading", level=1)).to_have_text("The next filming")


def test_nothing_is_cut_off_on_small_and_large_screens(windows: Windows, sample: str) -> None:
    window = open_clock(windows, sample)
    for width, height in ((1280, 720), (1920, 1080), (1024, 768), (390, 844)):
        window.set_viewport_size({"width": width, "height": height})
        for at in range(19):
            window.keyboard.press("ArrowRight")
            cut = window.evaluate(CUT_OFF)
            assert cut == [], f"{width} x {height}, interval {at + 1}"
        window.keyboard.press("r")


def test_the_file_runs_without_a_network(browser: Browser, tmp_path: Path) -> None:
    path = tmp_path / "class-clock.html"
    path.write_text(rehearsal_files(sheet())["class-clock.html"], "utf-8")
    windows = Windows(browser, Watched(path.as_uri()))
    window = windows.open("about:blank", offline=True)
    window.goto(path.as_uri())
    window.keyboard.press("ArrowRight")
    expect(window.locator("#name")).to_have_text("Arm circles")
    windows.close()
    assert windows.watched.requests == [path.as_uri()]
    assert windows.watched.complaints == []
