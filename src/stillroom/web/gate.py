"""
The gate before every page: who may ask, how much may come in, what a page may load.

A program on the keeper's own machine is still reached by every web page that she has
open. A foreign name that points here (DNS rebinding) is stopped by the Host, a foreign
page that posts here by its Origin.
"""

from __future__ import annotations

from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

OWN_NAMES = frozenset({"localhost", "127.0.0.1", "::1"})
LARGEST_BODY = 2_000_000
"""Bytes that a request may bring. A day file is a few thousand. [B]"""
TEXT_OR_FILE = {"max_files": 1, "max_fields": 10, "max_part_size": LARGEST_BODY}
"""What a sent form may hold that takes a text or a file: no fewer bytes than that."""

HEADERS = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; "
    "style-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; "
    "manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}


class Gate:
    """
    Outermost layer of the pages.

    Answers 421 to a foreign Host, 403 to what a foreign page loads into itself or
    posts, 413 to more than `LARGEST_BODY` bytes, and gives every other answer the
    headers above.
    """

    def __init__(self, app: ASGIApp, *, port: int | None = None, at: str = "") -> None:
        self.app = app
        self.port = port
        self.at = at
        self.names = OWN_NAMES | ({at} if at else frozenset())

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or turn it away."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers[name] = value
                if not scope["path"].startswith("/static/"):
                    headers.setdefault("Cache-Control", "no-store")
            await send(message)

        refused = self._turned_away(scope)
        if refused is not None:
            await refused(scope, receive, send_with_headers)
            return
        await self.app(scope, _counted(receive), send_with_headers)

    @property
    def _in_the_house(self) -> str:
        """Return how it is opened elsewhere in the house, and the end of a sentence."""
        if not self.at:
            return ". For a phone in the house, start it with --at."
        return f", or as http://{self.at}:{self.port}/ in the house."

    def _turned_away(self, scope: Scope) -> Response | None:
        from stillroom.web.pages import word_page

        headers = Headers(scope=scope)
        host = headers.get("host", "")
        request = Request(scope)
        if _name(host) not in self.names:
            address = f"http://127.0.0.1:{self.port}/" if self.port else "localhost"
            return word_page(
                request,
                421,
                "This is not the address of this house",
                f"The page was asked for as {host or 'nobody'!r}.",
                f"Open it as {address} on the machine that runs it{self._in_the_house}",
            )
        if _is_embedded(headers):
            return word_page(
                request,
                403,
                "That was asked for by a page that is not ours",
                "Another page would have loaded this into itself.",
                "Open the page here.",
            )
        if scope["method"] not in {"GET", "HEAD"} and not _own_page(headers, host):
            return word_page(
                request,
                403,
                "That came from a page that is not ours",
                "Another page tried to write here; nothing was changed.",
                "Open the page here and do it again.",
            )
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > LARGEST_BODY:
            return word_page(request, 413, *too_large())
        return None


def too_large() -> tuple[str, str, str]:
    """Headline, reason and advice for a body that is too large."""
    return (
        "That is too large",
        f"At most {LARGEST_BODY / 1e6:g} MB are read at once; nothing was changed.",
        "A day file is a few thousand letters: choose that one.",
    )


def _name(host: str) -> str:
    """Name in a Host header, without its port."""
    try:
        return urlsplit(f"//{host}").hostname or ""
    except ValueError:
        return ""


def _own_page(headers: Headers, host: str) -> bool:
    """Whether a writing request comes from a page of ours, or from no page at all."""
    origin = headers.get("origin")
    if origin is not None:
        return origin in {f"http://{host}", f"https://{host}"}
    # No browser leaves both out on a POST from a page; a command-line client does.
    return headers.get("sec-fetch-site", "same-origin") in {"same-origin", "none"}


def _is_embedded(headers: Headers) -> bool:
    """
    Whether a foreign page loads it as an image, a frame, a script.

    It could not read the answer; but it would have days planned, one after another.
    Whoever follows a link from elsewhere opens a document of its own.
    """
    return (
        headers.get("sec-fetch-site") in {"cross-site", "same-site"}
        and headers.get("sec-fetch-dest", "document") != "document"
    )


def _counted(receive: Receive) -> Receive:
    """`receive`, which stops where a body without a stated length grows too large."""
    come = 0

    async def counted() -> Message:
        nonlocal come
        message = await receive()
        if message["type"] == "http.request":
            come += len(message.get("body", b""))
            if come > LARGEST_BODY:
                raise HTTPException(413)
        return message

    return counted
