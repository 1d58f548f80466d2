"""Headers: what every answer tells the browser, and how large a question may be. Plain ASGI, so that files stream through."""

from __future__ import annotations

from collections.abc import MutableMapping
from typing import Any

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LARGEST_BYTES = 100 * 2**20
"""a scan of some million points; photos are far below"""
TOO_LARGE = "This is larger than 100 MB; send a smaller file (a scan thinned to a few million points is enough)."
POLICY = (
    "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; "
    "worker-src 'self' blob:; connect-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
ALWAYS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "permissions-policy": "geolocation=(), microphone=(), payment=(), usb=()",
}


class TooLarge(Exception):
    """More came than was said."""


class Wrapped:
    """The application with its headers and its limit."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        said = Headers(scope=scope).get("content-length", "0")
        if not said.isdecimal() or int(said) > LARGEST_BYTES:
            await PlainTextResponse(TOO_LARGE, 413)(scope, receive, _with_headers(send))
            return
        body = Counted(receive)
        try:
            await self.app(scope, body.receive, _with_headers(send))
        except Exception:  # what lies between may have wrapped it in a group of its own
            if body.came <= LARGEST_BYTES:
                raise
            await PlainTextResponse(TOO_LARGE, 413)(scope, receive, _with_headers(send))


class Counted:
    """A body whose bytes are counted as they come: it need not say before how many there are."""

    def __init__(self, receive: Receive) -> None:
        self._receive = receive
        self.came = 0

    async def receive(self) -> Message:
        """The next part. Raises TooLarge."""
        message = await self._receive()
        self.came += len(message.get("body", b""))
        if self.came > LARGEST_BYTES:
            raise TooLarge
        return message


def _with_headers(send: Send) -> Send:
    async def sending(message: MutableMapping[str, Any]) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in ALWAYS.items():
                headers.setdefault(name, value)
            if "cache-control" not in headers:
                headers["cache-control"] = "no-cache"
        await send(message)

    return sending
