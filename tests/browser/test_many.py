"""Many classes at once, with the processes that the page really starts."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.batch.classes import PLAN, captions
from tests.browser.chromium import Windows, as_file

DROP = """(field, files) => {
    const dropped = new DataTransfer();
    for (const [name, text] of files) dropped.items.add(new File([text], name));
    for (const kind of ["dragenter", "drop"]) {
        field.dispatchEvent(new DragEvent(kind, { dataTransfer: dropped, bubbles: true }));
    }
}"""


def drop(window: Page, *files: tuple[str, bytes]) -> None:
    window.locator("[data-drop]").evaluate(DROP, [[name, data.decode()] for name, data in files])


def test_classes_dropped_together_end_at_their_summary(windows: Windows) -> None:
    window = windows.open()
    window.get_by_role("link", name="Review many classes at once").click()
    window.wait_for_url("**/batch")
    drop(window, ("mon.vtt", captions("first")), ("tue.vtt", captions("second")))
    drop(window, ("plan.csv", PLAN.encode()), ("bad.vtt", b"nothing"))
    expect(window.locator("[data-chosen]")).to_have_text(
        "4 files: mon.vtt, tue.vtt, plan.csv, bad.vtt"
    )
    window.get_by_role("button", name="Review these classes").click()
    window.wait_for_url(re.compile(r"/batch/[\w-]+$"))
    expect(window.get_by_role("heading", name="All classes")).to_be_visible()
    expect(window.locator(".lead")).to_contain_text("2 classes reviewed, 1 left out")
    expect(window.locator("#failed")).to_contain_text("bad.vtt: no timed speech")
    with window.expect_download() as taken:
        window.get_by_role("link", name="Page to read and keep").click()
    assert taken.value.suggested_filename == "library-summary.html"
    window.get_by_role("link", name="mon", exact=True).click()
    window.wait_for_url(re.compile(r"/reviews/\d+$"))
    expect(window.get_by_role("heading", level=1)).to_be_visible()


def test_without_a_script_the_page_looks_again_by_itself(windows: Windows) -> None:
    window = windows.open("/batch", java_script_enabled=False)
    sent = [as_file("wed.vtt", captions("third")), as_file("wed-plan.csv", PLAN)]
    window.get_by_label("Transcripts and plans").set_input_files(sent)
    window.get_by_role("button", name="Review these classes").click()
    expect(window.get_by_role("heading", name="All classes")).to_be_visible()
    expect(window.get_by_role("link", name="wed", exact=True)).to_be_visible()
