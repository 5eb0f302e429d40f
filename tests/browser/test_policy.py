"""The page's policy bites in chromium: nothing from elsewhere, no script but its own."""

from __future__ import annotations

from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread

import pytest
from playwright.sync_api import Browser

from tests.browser.chromium import Watched, Windows


@pytest.fixture
def careless(browser: Browser, address: str) -> Iterator[Windows]:
    """Windows in which the browser may have something to object to."""
    some = Windows(browser, Watched(address))
    yield some
    some.close()


@pytest.mark.parametrize(
    "script",
    [
        "document.head.append(Object.assign(document.createElement('script'), {textContent: 'x'}))",
        "document.body.insertAdjacentHTML('beforeend', '<p style=\"color: red\">x</p>')",
        "new Image().src = 'https://elsewhere.example/'",
        "void fetch('https://elsewhere.example/').catch(() => {})",
    ],
    ids=["inline script", "inline style", "picture", "fetch"],
)
def test_what_is_not_the_pages_own_is_stopped_and_seen(careless: Windows, script: str) -> None:
    window = careless.open()
    with window.expect_console_message(lambda message: "Content Security Policy" in message.text):
        window.evaluate(f"() => {{ {script} }}")
    assert careless.watched.complaints


@pytest.fixture
def elsewhere(address: str) -> Iterator[str]:
    """The address of another site on this machine, which frames the page and posts to it."""
    lure = f"<iframe src='{address}/'></iframe><form method=post action='{address}/sample'></form>"

    class Site(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            self.send_response(200)
            self.send_header("Content-Type", "text/html")
            self.end_headers()
            self.wfile.write(lure.encode())

        def log_message(self, *_: object) -> None:
            """Stay quiet."""

    with ThreadingHTTPServer(("127.0.0.1", 0), Site) as site:
        Thread(target=site.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{site.server_port}/"
        site.shutdown()


def test_another_site_can_neither_frame_nor_drive_the_page(
    careless: Windows, elsewhere: str
) -> None:
    window = careless.open("about:blank")
    with window.expect_console_message(lambda message: "frame-ancestors" in message.text):
        window.goto(elsewhere)
    assert window.frames[1].get_by_text("Reviewkit").count() == 0
    with window.expect_navigation() as sent:
        window.evaluate("document.forms[0].submit()")
    assert sent.value.status == 403
