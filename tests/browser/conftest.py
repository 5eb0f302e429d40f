from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.chromium import (
    Watched,
    Windows,
    as_file,
    find_chromium,
    launched,
    served,
    wait_for_review,
)
from tests.web.visitor import PLAN, TALK

# Everything slow is made once and is gone when this folder is done: while Playwright runs, no
# other test of the same process could run an event loop.


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    path = find_chromium()
    if path is None:
        pytest.skip("Chromium is not installed; apt-get install chromium brings it")
    with sync_playwright() as playwright, launched(playwright, path) as one:
        yield one


@pytest.fixture(scope="package")
def address(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:  # noqa: ARG001 - nothing is served where there is no browser
    with served(tmp_path_factory.mktemp("data")) as one:
        yield one


@pytest.fixture(scope="package")
def sample(browser: Browser, address: str) -> str:
    """The path of a review of the sample class, left as it was found."""
    windows = Windows(browser, Watched(address))
    window = windows.open()
    window.get_by_role("button", name="Review the sample class").click()
    path = wait_for_review(window)
    windows.close()
    return path


@pytest.fixture(scope="package")
def small(browser: Browser, address: str, sample: str) -> str:  # noqa: ARG001 - the first of two
    """The path of a second review, of a small class, which keeps a plan as well."""
    windows = Windows(browser, Watched(address))
    window = windows.open()
    window.get_by_label("Transcript", exact=True).set_input_files(as_file("small.vtt", TALK))
    window.get_by_label("Plan file").set_input_files(as_file("small.txt", PLAN))
    window.get_by_label("Title").first.fill("Small and kept")
    window.locator("button.main").click()
    path = wait_for_review(window)
    windows.close()
    return path


@pytest.fixture
def windows(browser: Browser, address: str) -> Iterator[Windows]:
    """Windows that ask nobody else for anything and have nothing to object to."""
    some = Windows(browser, Watched(address))
    yield some
    some.close()
    assert some.watched.foreign() == []
    assert some.watched.complaints == []


@pytest.fixture
def window(windows: Windows) -> Page:
    return windows.open()
