"""What stands before every request: who may ask, how much, and what a browser may do with the answer.

The page listens on one machine, but any web site open in the same browser can send requests there. So the Host must be
one of ours (no foreign name that resolves to this machine), the Origin must be the page itself, and whatever changes
something must be sent by script of the page or by its own forms.
"""

from __future__ import annotations

import logging
from collections.abc import Iterable
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_BYTES = 2_000_000  # of a request; a plan may be as large as the reader takes
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "form-action 'self'; frame-ancestors 'none'; base-uri 'none'"
)
_HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",  # with none at all a form of our own would come without its Origin
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=()",
    "cache-control": "no-store",
}
_TOO_LARGE = "This is more than the page takes."
_SAFE = ("GET", "HEAD")
_log = logging.getLogger("advisor.page")


class Guard:
    """An ASGI layer that refuses strangers, bounds bodies, sets headers, and turns a fault of ours into an apology."""

    def __init__(self, app: ASGIApp, hosts: Iterable[str]) -> None:
        self.app = app
        self.hosts = frozenset(host.lower() for host in hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer it here."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        refused = self._refusal(scope["method"], headers)
        started = False

        async def answer(message: Message) -> None:
            nonlocal started
            if message["type"] == "http.response.start":
                started = True
                own = MutableHeaders(scope=message)
                for name, value in _HEADERS.items():
                    own.setdefault(name, value)
            await send(message)

        if refused:
            status, words = refused
            await PlainTextResponse(words, status)(scope, receive, answer)
            return
        try:
            await self.app(scope, _bounded(receive), answer)
        except Exception:
            _log.exception("a request failed: %s", scope["path"])
            if not started:
                await apology()(scope, receive, answer)

    def _refusal(self, method: str, headers: Headers) -> tuple[int, str] | None:
        host = headers.get("host", "").lower()
        if host not in self.hosts:
            return 421, "This page is not for that name."
        origin = headers.get("origin")
        if origin is not None and urlsplit(origin).netloc.lower() != host:
            return 403, "Only the page itself may ask."
        if origin is None and method not in _SAFE and headers.get("sec-fetch-site", "same-origin") != "same-origin":
            return 403, "Only the page itself may ask."
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > MOST_BYTES:
            return 413, _TOO_LARGE
        return None


def apology(*_: object) -> PlainTextResponse:
    """What a person reads where the fault is ours; the log has the rest."""
    return PlainTextResponse("Something went wrong here, not with your plan. Nothing was changed.", 500)


def _bounded(receive: Receive) -> Receive:
    seen = 0

    async def part() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > MOST_BYTES:
            raise HTTPException(413, _TOO_LARGE)
        return message

    return part
