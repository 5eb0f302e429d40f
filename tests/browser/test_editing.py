"""From a review into the edit: what to do is listed, and the files come (chromium)."""

from __future__ import annotations

import zipfile

import pytest
from playwright.sync_api import Page, expect

from reviewkit.edits import FILES
from tests.browser.chromium import Windows


@pytest.fixture
def screen(windows: Windows, sample: str) -> Page:
    return windows.open(sample)


def test_all_files_come_in_one_at_the_chosen_rate(screen: Page) -> None:
    screen.get_by_label("Frames a second of your video").select_option("29.97-drop")
    with screen.expect_download() as coming:
        screen.get_by_role("button", name="All files in one").click()
    assert coming.value.suggested_filename.endswith("-edit.zip")
    with zipfile.ZipFile(coming.value.path()) as archive:
        assert set(archive.namelist()) == set(FILES)
        assert b"FCM: DROP FRAME" in archive.read("markers.edl")
    expect(screen.get_by_role("heading", name="Take into the edit")).to_be_visible()


def test_a_file_comes_alone_at_the_chosen_rate(screen: Page) -> None:
    screen.get_by_label("Frames a second of your video").select_option("25")
    screen.get_by_text("One file alone").click()
    with screen.expect_download() as coming:
        screen.get_by_role("button", name="markers.csv").first.click()
    assert coming.value.suggested_filename.endswith("-markers.csv")
    first, *_ = coming.value.path().read_text("utf-8").splitlines()[1:]
    seconds, frame = first.split(",")[0], first.split(",")[4]
    assert int(frame) == round(25 * float(seconds))


def test_what_to_do_is_listed_and_leads_to_its_moment(screen: Page) -> None:
    part = screen.locator("#edit")
    expect(part).to_contain_text("long as filmed")
    first = part.locator(".fixes:visible .at").first
    first.click()
    line = (first.get_attribute("href") or "").lstrip("#")
    expect(screen.locator(f"#{line}")).to_be_in_viewport()
