"""The coach's own recording: chosen, never sent, and at every time on the page a press away.

It needs chromium, as everything in this folder.
"""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.chromium import Windows, as_file
from tests.browser.recordings import wav, webm

LONG_S = 480
FILM = as_file("my class.webm", webm(LONG_S), "video/webm")
SOUND = as_file("my class.wav", wav(LONG_S), "audio/wav")
# It plays on after a jump, and a busy machine looks late.
LATE_S = 5


def choose(window: Page, file: object) -> None:
    window.get_by_label("Your own video or audio").set_input_files(file)  # type: ignore[arg-type]
    expect(window.locator("#video")).to_have_js_property("duration", LONG_S)


def moment(window: Page) -> float:
    """Stop the recording and tell where it is, in seconds."""
    window.evaluate("document.getElementById('video').pause()")
    return float(window.evaluate("document.getElementById('video').currentTime"))


def press_time_of_interval(window: Page, number: int) -> float:
    """Press the time of an interval in its table; give the moment it stands for, in seconds."""
    link = window.locator(f"#interval-row-{number} a.at").first
    link.click()
    return int(link.get_attribute("data-at") or "") / 1000


@pytest.mark.parametrize("recording", [FILM, SOUND], ids=["video", "sound"])
def test_a_time_on_the_page_jumps_there_in_the_recording(
    windows: Windows, sample: str, recording: object
) -> None:
    window = windows.open(sample)
    choose(window, recording)
    for number in (7, 3):
        wanted = press_time_of_interval(window, number)
        assert wanted <= moment(window) < wanted + LATE_S


def test_the_offset_counts_both_ways_and_is_remembered(windows: Windows, sample: str) -> None:
    window = windows.open(sample)
    choose(window, FILM)
    window.get_by_text("Times do not fit?").click()
    field = window.get_by_label("Shift in seconds")
    field.fill("12.5")
    field.press("Tab")
    wanted = press_time_of_interval(window, 4)
    assert wanted + 12.5 <= moment(window) < wanted + 12.5 + LATE_S
    window.reload()
    expect(window.locator("#offset-shown")).to_have_text("12.5")


def test_the_first_words_set_the_offset(windows: Windows, sample: str) -> None:
    window = windows.open(sample)
    choose(window, FILM)
    window.evaluate("document.getElementById('video').currentTime = 60")
    window.get_by_text("Times do not fit?").click()
    window.get_by_role("button", name="The first words are now").click()
    first_s = int(window.locator(".line[data-starts]").first.get_attribute("data-starts") or "")
    expect(window.get_by_label("Shift in seconds")).to_have_value(f"{60 - first_s / 1000:.1f}")


def test_the_talk_follows_the_recording(windows: Windows, sample: str) -> None:
    window = windows.open(sample)
    choose(window, FILM)
    line = window.locator(".line[data-starts]").nth(40)
    at_s = int(line.get_attribute("data-starts") or "") / 1000
    window.evaluate("at => { document.getElementById('video').currentTime = at; }", at_s + 0.05)
    expect(window.locator(".line.now")).to_have_attribute(
        "data-starts", line.get_attribute("data-starts") or ""
    )


def test_an_edge_takes_its_time_from_the_recording(windows: Windows, sample: str) -> None:
    window = windows.open(sample)
    choose(window, FILM)
    window.locator("#interval-row-3 a.choose").first.click()
    card = window.locator("#panel #card")
    card.get_by_text("It began or ended at another moment").click()
    window.evaluate("document.getElementById('video').currentTime = 125.5")
    card.get_by_role("button", name=re.compile("Use the recording.s time")).first.click()
    expect(card.locator("[name=start_minutes]")).to_have_value("2")
    expect(card.locator("[name=start_seconds]")).to_have_value("5.5")


def test_the_recording_is_never_sent(windows: Windows, sample: str) -> None:
    window = windows.open(sample)
    before = len(windows.watched.requests)
    choose(window, FILM)
    press_time_of_interval(window, 5)
    moment(window)
    own = ("blob:", f"{windows.watched.address}/static/")
    assert [url for url in windows.watched.requests[before:] if not url.startswith(own)] == []


def test_what_cannot_be_played_is_said(windows: Windows, sample: str) -> None:
    window = windows.open(sample)
    window.get_by_label("Your own video or audio").set_input_files(
        as_file("notes.mp4", b"no film at all", "video/mp4")
    )
    expect(window.get_by_text("This browser cannot play that file.")).to_be_visible()
