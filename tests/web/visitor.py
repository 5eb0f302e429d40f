"""A browser of few words: it opens screens, sends forms and waits for reviews."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from html import unescape
from html.parser import HTMLParser
from typing import Any

from anyio.from_thread import BlockingPortal, start_blocking_portal
from httpx import ASGITransport, AsyncClient, Response
from starlette.types import ASGIApp

from reviewkit.store import Store
from reviewkit.web.app import make_app

PORT = 8765
HERE = f"http://127.0.0.1:{PORT}"
SECRET = "a-secret-of-this-start"  # noqa: S105 - the tests' own
PATIENCE_S = 60

TALK = """WEBVTT

00:00:01.000 --> 00:00:04.000
welcome in everyone first up is squats

00:00:08.000 --> 00:00:11.000
starting in three two one go

00:00:14.000 --> 00:00:18.000
sit back into your heels and keep your chest tall

00:00:46.000 --> 00:00:51.000
three two one and rest

00:01:08.000 --> 00:01:11.000
plank next three two one go

00:01:14.000 --> 00:01:19.000
brace your middle and keep breathing

00:01:48.000 --> 00:01:51.000
three two one and stop well done
"""
PLAN = "Small class, 2 minutes\nMain: 40s work, 20s rest\n- Squat (say: chest tall)\n- Plank\n"
BAD_PLAN = "Main: 40z work, 20s rest\n- Squat\n"

Files = Mapping[str, tuple[str, bytes]]


@dataclass(frozen=True, slots=True)
class Visitor:
    """Sends what a browser on the page's own screens would send."""

    portal: BlockingPortal
    client: AsyncClient

    def request(self, method: str, address: str, **sent: Any) -> Response:
        """Send a request as it is given, and nothing else."""
        return self.portal.call(partial(self.client.request, method, address, **sent))

    def get(self, address: str, headers: Mapping[str, str] | None = None) -> Response:
        return self.request("GET", address, headers=headers)

    def post(
        self, address: str, fields: Mapping[str, str] | None = None, files: Files | None = None
    ) -> Response:
        sent = {"form_token": SECRET, **(fields or {})}
        return self.request("POST", address, data=sent, files=files, headers={"Origin": HERE})

    def send(self, talk: str = TALK, **fields: str) -> Response:
        return self.post("/reviews", fields, {"transcript": ("talk.vtt", talk.encode())})

    def wait(self, sent: Response) -> str:
        """Wait until a review that was sent is over; give the address it led to."""
        assert sent.status_code == 303, sent.text
        until = time.monotonic() + PATIENCE_S
        while time.monotonic() < until:
            state = self.get(f"{sent.headers['location']}/state").json()
            if state["next"]:
                return str(state["next"])
            time.sleep(0.02)
        raise AssertionError("the review took too long")

    def review(self, **fields: str) -> int:
        """Review the small class; give the id of the review."""
        address = self.wait(self.send(**{"plan_text": PLAN, **fields}))
        return int(address.removeprefix("/reviews/"))


@contextmanager
def visit(store: Store) -> Iterator[Visitor]:
    """Serve a page of this store in process, for as long as it is visited."""
    app = make_app(store, port=PORT, secret=SECRET)
    with (
        start_blocking_portal() as portal,
        portal.wrap_async_context_manager(app.router.lifespan_context(app)),
    ):
        yield knock(portal, app)


def knock(portal: BlockingPortal, app: ASGIApp) -> Visitor:
    """Give a visitor of any page."""
    return Visitor(portal, AsyncClient(transport=ASGITransport(app), base_url=HERE))


class _Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.seen: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))


def tags(answer: Response) -> list[tuple[str, dict[str, str | None]]]:
    """Give the elements of a screen with their attributes, in order."""
    reader = _Tags()
    reader.feed(answer.text)
    return reader.seen


def field_value(answer: Response, name: str) -> str:
    """Give what a single-line field of a screen holds."""
    for tag, attributes in tags(answer):
        if tag == "input" and attributes.get("name") == name:
            return attributes.get("value") or ""
    raise AssertionError(f"no field {name}")


def words(answer: Response) -> str:
    """Give a screen's text without its tags, on one line."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", answer.text)).split())
