"""Every screen is fit for all: audited by axe-core in chromium, light and dark, narrow to wide."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from importlib.resources import files
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Page

from tests.benchmarks.speed import write_class
from tests.browser.chromium import Windows, as_file, wait_for_review
from tests.browser.test_correcting import choose
from tests.corpus import class_folders, load_class
from tests.forms import render
from tests.web.visitor import BAD_PLAN, PLAN, TALK

# A short class that has something of every kind, so that its screen has too.
RICH_TALK = """WEBVTT

00:01.000 --> 00:06.000
welcome in three moves forty seconds each and no kit needed

00:08.000 --> 00:11.000
first up is squats in three two one go

00:14.000 --> 00:19.000
sit back into your heels keep your chest tall and breathe out as you stand

00:20.000 --> 00:24.000
if it's easier hold on to a chair

00:26.000 --> 00:28.000
halfway ten seconds left

00:32.000 --> 00:37.000
if your knees hurt just push through the pain

00:46.000 --> 00:51.000
three two one and rest

01:08.000 --> 01:11.000
plank next three two one go

01:48.000 --> 01:51.000
three two one and stop well done
"""
RICH_PLAN = (
    "Rich class, 4 minutes\nMain: 40s work, 20s rest\n- Squat (say: chest tall)\n- Plank\n- Lunge\n"
)

SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")
COLOURS = {"color-contrast", "link-in-text-block"}
# To look at colours takes longest by far, and a list has no others in its hundredth line.
MORE_OF_THE_SAME = (
    ".passage:nth-of-type(n+12), .passage > .line:nth-of-type(n+6), "
    "tbody:nth-of-type(n+8), tbody > tr:nth-of-type(n+12), #track > .item:nth-of-type(n+120)"
)
WIDTHS = (360, 800, 1600)
AXE = (files("axe_playwright_python") / "axe.min.js").read_text("utf-8")
AUDIT = """async ([scheme, colours, same]) => {
    const found = [], resultTypes = ["violations"];
    // All is audited in the light; in the dark nothing but colours is another.
    if (scheme === "light") {
        const rules = Object.fromEntries(colours.map((name) => [name, { enabled: false }]));
        found.push(...(await axe.run(document, { resultTypes, rules })).violations);
    }
    const place = { include: document, exclude: [...document.querySelectorAll(same)] };
    found.push(...(await axe.run(place, { resultTypes, runOnly: colours })).violations);
    return found
        .filter((one) => one.impact === "serious" || one.impact === "critical")
        .flatMap((one) => one.nodes.map((node) => `${one.id}: ${node.html.slice(0, 200)}`));
}"""
TOO_WIDE = """() => [...document.querySelectorAll("body *")]
    .filter((one) => one.getBoundingClientRect().right > innerWidth + 1)
    .map((one) => one.outerHTML.slice(0, 120)).slice(0, 5)"""


def start(window: Page) -> None:
    window.goto("/")


def start_typing(window: Page) -> None:
    window.goto("/")
    window.get_by_label("Typed here").check()
    window.get_by_label("Plan as text").fill(PLAN)
    window.locator("[data-rows] tbody td").first.wait_for()


def start_with_problems(window: Page) -> None:
    window.goto("/")
    window.get_by_label("Typed here").check()
    window.get_by_label("Plan as text").fill(BAD_PLAN)
    window.locator("button.main").click()
    window.get_by_role("alert").wait_for()


def earlier_reviews(window: Page) -> None:
    window.goto("/")
    window.get_by_text("Rename or forget").first.click()
    window.get_by_text("What a review cannot tell").click()


def working(window: Page) -> None:
    """Keep the screen that waits, by never letting it know that the review is made."""
    state = {"step": 1, "told": "Listening through the class, 0:07 so far", "next": None}
    window.route("**/working/*/state", lambda route: route.fulfill(json=state))
    window.goto("/")
    window.get_by_role("button", name="Review the sample class").click()
    window.locator(".steps .now").wait_for()


def draft(window: Page) -> None:
    window.goto("/")
    window.get_by_label("Transcript", exact=True).set_input_files(as_file("talk.vtt", TALK))
    window.get_by_label("None: draft it from the talk").check()
    window.locator("button.main").click()
    window.get_by_role("heading", name="Drafted plan").wait_for()


def plans(window: Page) -> None:
    window.goto("/plans")
    window.get_by_text("Show or delete").first.click()


def lexicon(window: Page) -> None:
    window.goto("/lexicon")
    window.get_by_text("Add a line to any").click()
    window.get_by_label("Line", exact=True).fill("nothing that can be read")
    window.get_by_role("button", name="Add the line").click()


def over_time(window: Page) -> None:
    window.goto("/progress")
    for summary in window.locator("main details summary").all():
        summary.click()


def side_by_side(window: Page) -> None:
    window.goto("/compare")
    window.locator(".two").wait_for()


def next_filming(window: Page) -> None:
    window.goto("/plans")
    window.get_by_role("link", name="Prepare the next filming").first.click()
    window.get_by_role("heading", name="The next filming").wait_for()


def cue_sheet(window: Page) -> None:
    next_filming(window)
    window.get_by_role("link", name="Open the cue sheet").click()
    window.locator("tbody tr.first").first.wait_for()


def class_clock(window: Page) -> None:
    next_filming(window)
    window.get_by_role("link", name="Open the class clock").click()
    window.locator("#left").wait_for()
    window.keyboard.press("?")
    window.get_by_role("dialog").wait_for()


def forget(window: Page) -> None:
    window.goto("/")
    window.get_by_text("Rename or forget").first.click()
    window.get_by_role("link", name="Forget this class").first.click()
    window.get_by_role("heading", name="Forget a class").wait_for()


def many_classes(window: Page) -> None:
    window.goto("/batch")
    window.get_by_role("button", name="Review these classes").click()
    window.locator(".problem p").first.wait_for()


def send_many(window: Page) -> None:
    window.goto("/batch")
    sent = [as_file("talk.vtt", TALK), as_file("talk-plan.txt", PLAN), as_file("bad.vtt", "none")]
    window.get_by_label("Transcripts and plans").set_input_files([*sent, as_file("x.mp4", "x")])
    window.get_by_role("button", name="Review these classes").click()


def batch_at_work(window: Page) -> None:
    """Keep the screen that waits, by never answering how far it is."""
    window.route("**/batch/*/state", lambda _: None)
    send_many(window)
    window.locator("progress").wait_for()


def batch_done(window: Page) -> None:
    send_many(window)
    window.get_by_role("heading", name="All classes").wait_for()


def nothing_there(window: Page) -> None:
    window.goto("/reviews/999999")


def open_forms(window: Page) -> None:
    for summary in window.locator("#card details summary").all():
        summary.click()


SCREENS = (
    start,
    start_typing,
    start_with_problems,
    earlier_reviews,
    working,
    draft,
    plans,
    lexicon,
    over_time,
    side_by_side,
    next_filming,
    cue_sheet,
    class_clock,
    forget,
    many_classes,
    batch_at_work,
    batch_done,
    nothing_there,
)


def overflow(window: Page, width: int) -> Iterator[str]:
    """Make a window so wide, and tell what is wider."""
    window.set_viewport_size({"width": width, "height": 900})
    room = window.evaluate("innerWidth - document.documentElement.scrollWidth")
    if room < 0:
        yield f"{width} px: scrolls sideways: {window.evaluate(TOO_WIDE)}"


def audit(window: Page, widths: tuple[int, ...] = WIDTHS) -> Iterator[str]:
    """Look at a screen in every width, light and dark; give what keeps people out."""
    window.evaluate(AXE)
    for width in widths:
        yield from overflow(window, width)
        for scheme in SCHEMES:
            window.emulate_media(color_scheme=scheme)
            asked = [scheme, sorted(COLOURS), MORE_OF_THE_SAME]
            yield from (f"{width} px, {scheme}: {found}" for found in window.evaluate(AUDIT, asked))


@pytest.mark.parametrize("show", SCREENS, ids=lambda show: show.__name__)
@pytest.mark.usefixtures("sample", "small")
def test_a_screen_keeps_nobody_out(window: Page, show: Callable[[Page], None]) -> None:
    show(window)
    assert list(audit(window)) == []


def test_a_whole_review_keeps_nobody_out(windows: Windows) -> None:
    """It has something in every part, something chosen, all the forms open, and a correction."""
    window = windows.open(reduced_motion="reduce")
    window.get_by_label("Transcript", exact=True).set_input_files(as_file("talk.vtt", RICH_TALK))
    window.get_by_label("Plan file").set_input_files(as_file("plan.txt", RICH_PLAN))
    window.locator("button.main").click()
    wait_for_review(window)
    flag = window.locator("#flags li").first.get_attribute("id") or ""
    choose(window, flag).get_by_text("Set this finding aside").click()
    window.get_by_label("Reason").fill("Shown, not said")
    window.get_by_role("button", name="Set aside").click()
    window.locator("#corrections .corrected").wait_for()
    for part in ("fixes", "edit", "intervals", "points", "breathing", "calls", "promises", "flags"):
        assert window.locator(f"#{part} :is(tbody td, li)").count()
    for summary in window.locator("#edit details summary").all():
        summary.click()
    choose(window, "interval-row-3").wait_for()
    open_forms(window)
    assert list(audit(window)) == []
    choose(window, "interval-row-1").wait_for()
    open_forms(window)
    assert list(audit(window, widths=(360,))) == []


def longest_fixture(folder: Path) -> tuple[Path, Path]:
    """Write the labelled class in which most is said as captions; give them and its plan."""
    longest = max(class_folders(), key=lambda path: (path / "said.csv").stat().st_size)
    captions = folder / "longest.vtt"
    captions.write_text(render(load_class(longest), "vtt"), encoding="utf-8")
    return captions, longest / "plan.csv"


def an_hour(folder: Path) -> tuple[Path, Path]:
    return write_class(60, folder)


@pytest.mark.parametrize("write", [longest_fixture, an_hour])
def test_a_long_class_keeps_nobody_out(
    window: Page, tmp_path: Path, write: Callable[[Path], tuple[Path, Path]]
) -> None:
    captions, plan = write(tmp_path)
    window.get_by_label("Transcript", exact=True).set_input_files(captions)
    window.get_by_label("Plan file").set_input_files(plan)
    window.locator("button.main").click()
    wait_for_review(window)
    assert window.locator(".line").count() > 150
    # What a whole review has was audited in every width; here there is only more of it.
    assert list(audit(window, widths=(360,))) == []
    assert [found for width in WIDTHS for found in overflow(window, width)] == []


def test_one_thing_of_a_review_keeps_nobody_out(windows: Windows, sample: str) -> None:
    window = windows.open(f"{sample}/about/point-0-0")
    open_forms(window)
    assert list(audit(window)) == []


def test_the_audit_sees_what_keeps_people_out(window: Page) -> None:
    window.evaluate("document.body.append(document.createElement('input'))")
    window.evaluate("document.querySelector('h1').style.color = '#777'")
    window.evaluate("document.querySelector('h1').style.width = '500px'")
    found = " ".join(audit(window))
    for fault in (
        "360 px: scrolls sideways",
        "light: label: <input>",
        "light: color-contrast: <h1",
        "dark: color-contrast: <h1",
    ):
        assert fault in found
