"""Stand before the page: refuse what does not come from it, and harden every answer.

The page is for one person on one machine. Another site in the same browser must neither
read it (by a name of its own that resolves to this machine) nor make it do things (by a
form that posts here).
"""

from __future__ import annotations

import logging
from http import HTTPStatus
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

FAULT = "The program came upon a fault of its own. What was kept is kept; go back and try again.\n"

logger = logging.getLogger(__name__)

SAFE_METHODS = frozenset({"GET", "HEAD"})
KNOWN_METHODS = SAFE_METHODS | {"POST"}
OWN_FETCHES = frozenset({"same-origin", "none"})

# The referrer stays on this site: with no referrer at all, browsers also leave the origin
# out of forms, and then nobody could tell our own forms from another site's.
HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
        "media-src blob:; connect-src 'self'; form-action 'self'; base-uri 'none'; "
        "frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=()",
    "cache-control": "no-store",
}


class Guard:
    """Wrap the page; ``port`` is where it is served on this machine."""

    def __init__(self, app: ASGIApp, *, port: int) -> None:
        self._app = app
        self._hosts = frozenset({f"127.0.0.1:{port}", f"localhost:{port}"})
        self._origins = frozenset(f"http://{host}" for host in self._hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or refuse it before anything of it is read."""
        if scope["type"] == "websocket":
            await send({"type": "websocket.close", "code": 1008})
            return
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        async def send_hardened(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(HEADERS)
            await send(message)

        refusal = self._refusal(scope["method"], Headers(scope=scope))
        if refusal is None:
            await self._answered(scope, receive, send_hardened)
        else:
            status, why = refusal
            await PlainTextResponse(why, status)(scope, receive, send_hardened)

    async def _answered(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let the page answer; a fault of its own is told in words and logged in full."""
        is_begun = False

        async def send_seen(message: Message) -> None:
            nonlocal is_begun
            is_begun = True
            await send(message)

        try:
            await self._app(scope, receive, send_seen)
        except Exception:
            logger.exception("a request failed")
            if is_begun:
                raise
            await PlainTextResponse(FAULT, HTTPStatus.INTERNAL_SERVER_ERROR)(scope, receive, send)

    def _refusal(self, method: str, headers: Headers) -> tuple[HTTPStatus, str] | None:
        if headers.getlist("host") not in [[host] for host in self._hosts]:
            return HTTPStatus.MISDIRECTED_REQUEST, "This page is not served under that name.\n"
        if method not in KNOWN_METHODS:
            return HTTPStatus.METHOD_NOT_ALLOWED, "This page does not know that method.\n"
        if method not in SAFE_METHODS and not self._is_own(headers):
            return HTTPStatus.FORBIDDEN, "This form does not come from this page.\n"
        return None

    def _is_own(self, headers: Headers) -> bool:
        """Tell whether a form comes from a screen of this page, of the same name."""
        if headers.get("sec-fetch-site", "same-origin") not in OWN_FETCHES:
            return False
        origin = headers.get("origin")
        if origin is None:
            referrer = urlsplit(headers.get("referer", ""))
            origin = f"{referrer.scheme}://{referrer.netloc}"
        return origin in self._origins and origin == f"http://{headers['host']}"
