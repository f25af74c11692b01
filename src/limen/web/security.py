"""Who may ask, how much may be sent, and what a page may do: for one's own machine.

Another page open in the same browser can send requests to this server, and a name
elsewhere can be made to lead to it.  So the name asked for must be ours exactly; what
changes something must come from our own pages and say so in a header that no other
page can send; and bodies are counted while they come in.
"""

import re
from collections.abc import Iterable, Mapping, MutableMapping
from typing import Any

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from limen.findings import Message as Words
from limen.web.plain_form import plain_form
from limen.words import say

OURS = "limen-desk"
NAMES = ("127.0.0.1", "localhost")
MOST_BYTES = 2_200_000
"""A site file may have 2 MB; the rest is what a form puts around it."""
MOST_CHECKED = 60_000_000
"""A record on paper carries its photos, and so does what a card saved of a visit."""
WITH_PHOTOS = ("/verify", "/visits/take-in")
MOST_PICTURE = 15_200_000
"""A floor plan may have 15 MB; the rest is what a form puts around it."""
PLAN = re.compile(r"/sites/[\w-]{1,40}/plan(?:/add)?")
MOST_DRAINED = 300_000_000
"""So much of a body that is too large is let through unread, to be answered."""

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' blob: data:",
        "font-src 'self'",
        "connect-src 'self'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    )
)
HEADERS: Mapping[str, str] = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "same-origin",
}
_READS = frozenset({"GET", "HEAD"})
_HTTP_PORT = 80


class Guarded:
    """An application that is asked only by its own pages, on this machine."""

    def __init__(self, app: ASGIApp) -> None:
        """Guard an application."""
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or refuse it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        told = _with_headers(send)
        headers = Headers(scope=scope)
        refused = _refused(scope, headers)
        if refused is not None:
            status, why = refused
            await _say(status, why, scope, receive, told)
            return
        most = _most(scope["path"])
        if _asks_first(headers, most):
            await _say(413, "too_large", scope, receive, told)
            return
        body = await _body(receive, most) if scope["method"] not in _READS else b""
        if body is None:
            await _say(413, "too_large", scope, receive, told)
            return
        await self._answered(scope, _again(body, receive), told)

    async def _answered(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Hand the request on; own up to whatever goes wrong before an answer."""
        begun = False

        async def told(message: MutableMapping[str, Any]) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            await self.app(scope, receive, told)
        except Exception:
            if not begun:
                await _say(500, "broken", scope, receive, send)
            raise


def _most(path: str) -> int:
    """Bytes that a body may have."""
    if path in WITH_PHOTOS:
        return MOST_CHECKED
    return MOST_PICTURE if PLAN.fullmatch(path) else MOST_BYTES


def _refused(scope: Scope, headers: Headers) -> tuple[int, str] | None:
    """Status and reason, if the request is none of ours."""
    here = set(_hosts(scope))
    hosts = headers.getlist("host")
    if len(hosts) != 1 or hosts[0].lower() not in here:
        return 421, "host"
    if scope["method"] in _READS:
        return None
    host = hosts[0].lower()
    ours = OURS in headers or plain_form(scope["path"], scope["method"], headers, host)
    if not ours or not _from_here(headers, host):
        return 403, "elsewhere"
    return None


def _hosts(scope: Scope) -> Iterable[str]:
    _, port = scope.get("server") or ("", None)
    for name in NAMES:
        yield f"{name}:{port}"
        if port == _HTTP_PORT:
            yield name


def _from_here(headers: Mapping[str, str], host: str) -> bool:
    """Whether a page of ours sent it; a browser says so, and no page can lie there."""
    site, origin = headers.get("sec-fetch-site"), headers.get("origin")
    if site is not None and site != "same-origin":
        return False
    if origin is not None and origin.lower() != f"http://{host}":
        return False
    return site is not None or origin is not None


def _asks_first(headers: Headers, most: int) -> bool:
    """Whether a sender waits to be told that its body is too large.

    Browsers do not wait, and are shown an answer only once all is sent: for them the
    rest is let through unread.
    """
    waits = headers.get("expect", "").lower() == "100-continue"
    length = headers.get("content-length", "")
    return waits and length.isascii() and length.isdigit() and int(length) > most


async def _body(receive: Receive, most: int) -> bytes | None:
    """The whole body; None if there is more than anyone needs."""
    pieces: list[bytes] = []
    size = 0
    while True:
        message = await receive()
        if message["type"] != "http.request":
            return b""
        piece = message.get("body", b"")
        size += len(piece)
        if size <= most:
            pieces.append(piece)
        else:
            pieces.clear()
        if not message.get("more_body", False) or size > MOST_DRAINED:
            return b"".join(pieces) if size <= most else None


def _again(body: bytes, receive: Receive) -> Receive:
    """Hand a body on that was read already, then whatever comes after it."""
    given = False

    async def give() -> Message:
        nonlocal given
        if given:
            return await receive()
        given = True
        return {"type": "http.request", "body": body, "more_body": False}

    return give


def _with_headers(send: Send) -> Send:
    async def told(message: MutableMapping[str, Any]) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers[name] = value
            headers.setdefault("Cache-Control", "no-store")
        await send(message)

    return told


async def _say(
    status: int, why: str, scope: Scope, receive: Receive, send: Send
) -> None:
    words = say(Words(f"desk.guard.{why}"))
    await PlainTextResponse(words, status)(scope, receive, send)
