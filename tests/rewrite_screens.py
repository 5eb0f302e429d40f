"""Take the README's pictures of the local page anew: its screens, a cue sheet and the clock.

    python -m tests.rewrite_screens

Needs Chromium (``apt-get install chromium``). Run it after a change to the page, and look
at the pictures before they are committed.
"""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from PIL import Image
from playwright.sync_api import Page, ViewportSize, sync_playwright

from tests.browser.chromium import (
    Watched,
    Windows,
    find_chromium,
    launched,
    served,
    wait_for_review,
)

FOLDER = Path(__file__).parents[1] / ".github"
SIZE = {"width": 1100, "height": 1250}
SHEET_SIZE: ViewportSize = {"width": 1100, "height": 900}
CLOCK_SIZE: ViewportSize = {"width": 1100, "height": 620}
# An interval of the sample class that has something to do better.
CLOCK_AT = 6
COLOURS = 64


def _keep(window: Page, name: str, folder: Path) -> None:
    shot = folder / f"{name}.png"
    window.screenshot(path=shot)
    with Image.open(shot) as image:
        image.convert("RGB").quantize(COLOURS).save(FOLDER / shot.name, optimize=True)


def main() -> None:
    """Serve the page on an empty folder, review the sample class and keep what is seen."""
    path = find_chromium()
    if path is None:
        raise SystemExit("Chromium is missing; install it with: apt-get install chromium")
    with (
        TemporaryDirectory() as folder,
        sync_playwright() as playwright,
        launched(playwright, path) as browser,
        served(Path(folder) / "data") as address,
    ):
        windows = Windows(browser, Watched(address))
        window = windows.open(viewport=SIZE)
        window.get_by_role("button", name="Review the sample class").click()
        path_of_review = wait_for_review(window)
        window.wait_for_load_state("networkidle")
        _keep(window, "review-screen", Path(folder))
        window.goto("/")
        _keep(window, "start-screen", Path(folder))
        window.set_viewport_size(SHEET_SIZE)
        window.goto(f"{path_of_review}/next/sheet")
        _keep(window, "cue-sheet", Path(folder))
        window.set_viewport_size(CLOCK_SIZE)
        window.goto(f"{path_of_review}/next/clock")
        for _ in range(CLOCK_AT):
            window.keyboard.press("ArrowRight")
        _keep(window, "class-clock", Path(folder))
        windows.close()


if __name__ == "__main__":
    main()
