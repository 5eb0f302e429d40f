"""A real Chromium before the really served page, with an eye on all it asks for and objects to."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    Playwright,
    expect,
)

# Long enough for a busy machine: only what never comes is to fail.
PATIENCE_S = 150
# A form that was sent with a mistake is answered by a status of 4xx, which Chromium logs.
ANSWERED = "Failed to load resource: the server responded with a status of 4"


def find_chromium() -> str | None:
    """Give the browser that the system has, None where it has none."""
    return shutil.which("chromium")


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """Run ``reviewkit serve`` as a coach does, but on a folder of its own; give its address."""
    command = [sys.executable, "-m", "reviewkit", "serve", "--no-open", "--port", "0"]
    with subprocess.Popen(
        [*command, "--data", str(folder)],
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"PYTHONUNBUFFERED": "1"},
    ) as program:
        try:
            assert program.stdout is not None
            found = re.search(r"http://127\.0\.0\.1:\d+", program.stdout.readline())
            assert found, "the page did not start"
            yield found[0]
        finally:
            program.terminate()


@contextmanager
def launched(playwright: Playwright, path: str) -> Iterator[Browser]:
    """Start the system's Chromium, which then knows no host but this machine."""
    expect.set_options(timeout=PATIENCE_S * 1000)
    browser = playwright.chromium.launch(
        executable_path=path,
        # Chromium refuses its sandbox to root, which is who runs a container.
        chromium_sandbox=hasattr(os, "geteuid") and os.geteuid() != 0,
        args=["--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"],
    )
    try:
        yield browser
    finally:
        browser.close()


@dataclass(frozen=True, slots=True)
class Watched:
    """What windows asked for, and what the browser objected to."""

    address: str
    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def watch(self, context: BrowserContext) -> None:
        """Look at every window of a browser's profile from now on."""
        context.on("request", lambda request: self.requests.append(request.url))
        context.on("console", lambda message: self._hear(message))
        context.on("weberror", lambda error: self.complaints.append(str(error.error)))

    def _hear(self, message: ConsoleMessage) -> None:
        if message.type in {"error", "warning"} and not message.text.startswith(ANSWERED):
            self.complaints.append(message.text)

    def foreign(self) -> list[str]:
        """List what was asked for of anybody but the page itself."""
        own = (f"{self.address}/", f"blob:{self.address}/", "data:")
        return [url for url in self.requests if not url.startswith(own)]


@dataclass(frozen=True, slots=True)
class Windows:
    """Opens windows, each in a profile of its own, and closes them all."""

    browser: Browser
    watched: Watched
    contexts: list[BrowserContext] = field(default_factory=list)

    def open(self, path: str = "/", **options: Any) -> Page:
        """Open a screen of the page; ``options`` are those of a Playwright context."""
        context = self.browser.new_context(base_url=self.watched.address, **options)
        self.contexts.append(context)
        context.set_default_timeout(PATIENCE_S * 1000)
        self.watched.watch(context)
        window = context.new_page()
        window.goto(path)
        return window

    def close(self) -> None:
        for context in self.contexts:
            context.close()


def as_file(name: str, data: bytes | str, kind: str = "text/plain") -> Any:
    """Make a file to choose out of what it holds."""
    held = data.encode() if isinstance(data, str) else data
    return {"name": name, "mimeType": kind, "buffer": held}


def wait_for_review(window: Page) -> str:
    """Wait until the screen of a review is there; give its path."""
    window.wait_for_url(re.compile(r"/reviews/\d+$"))
    return re.sub(r"^http://[^/]+", "", window.url)
