"""A review on paper, as chromium lays it out."""

from __future__ import annotations

from tests.browser.chromium import Windows

A4_INSIDE_MARGINS_PX = 680
CUT_WORDS = """() => [...document.querySelectorAll("#track .box")].flatMap((box) => {
    const room = box.querySelector(".room").getBoundingClientRect().width;
    const shown = [...box.querySelectorAll(".fits")].filter((one) => one.checkVisibility());
    const cut = shown.filter((one) => one.getComputedTextLength() > room - 6);
    return cut.map((one) => one.textContent);
})"""


def test_words_on_the_drawing_are_fitted_to_the_paper(windows: Windows, sample: str) -> None:
    window = windows.open(sample, viewport={"width": 1600, "height": 900})
    width = "document.getElementById('track').getBoundingClientRect().width"
    on_screen = window.evaluate(width)
    assert on_screen > A4_INSIDE_MARGINS_PX
    window.evaluate("dispatchEvent(new Event('beforeprint'))")
    window.emulate_media(media="print")
    # A change of the window's size fits the words anew, which paper does not do.
    window.evaluate("width => { document.body.style.width = `${width}px`; }", A4_INSIDE_MARGINS_PX)
    assert window.evaluate(width) < A4_INSIDE_MARGINS_PX
    assert window.evaluate(CUT_WORDS) == []
    window.emulate_media(media="screen")
    window.evaluate(
        "() => { document.body.style.width = ''; dispatchEvent(new Event('afterprint')); }"
    )
    assert window.evaluate(width) == on_screen
