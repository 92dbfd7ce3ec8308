"""
A browser without a network and without threads: asks the pages and gets the answer.

All of it happens inside the call, in one thread, so that a seed replays exactly. What
threads and sockets do is tested over real ones: tests/web/test_two_at_once.py.
"""

from __future__ import annotations

from collections.abc import Callable, Coroutine, Mapping, MutableMapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

HOST = b"127.0.0.1"


async def in_this_thread(
    func: Callable[..., Any], *args: object, **_options: object
) -> Any:
    """Stand in for ``anyio.to_thread.run_sync``."""
    return func(*args)


@dataclass(frozen=True)
class Answer:
    """What came back."""

    status_code: int
    text: str


class Browser:
    """Asks an app; what the app raises is raised."""

    def __init__(self, app: Any) -> None:
        self._app = app

    def get(self, path: str, params: Mapping[str, str] | None = None) -> Answer:
        return self._ask("GET", path, urlencode(params or {}).encode(), b"")

    def post(self, path: str, data: Mapping[str, Any]) -> Answer:
        return self._ask("POST", path, b"", urlencode(data, doseq=True).encode())

    def _ask(self, method: str, path: str, query: bytes, body: bytes) -> Answer:
        status, parts = 0, list[bytes]()

        async def receive() -> dict[str, Any]:
            return {"type": "http.request", "body": body, "more_body": False}

        async def send(message: MutableMapping[str, Any]) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
            else:
                parts.append(message.get("body", b""))

        form = b"application/x-www-form-urlencoded"
        scope = {
            "type": "http",
            "asgi": {"version": "3.0"},
            "http_version": "1.1",
            "method": method,
            "scheme": "http",
            "path": path,
            "raw_path": path.encode(),
            "query_string": query,
            "root_path": "",
            "headers": [
                (b"host", HOST),
                (b"content-type", form),
                (b"content-length", str(len(body)).encode()),
            ],
            "client": ("127.0.0.1", 50000),
            "server": ("127.0.0.1", 80),
        }
        _run(self._app(scope, receive, send))
        return Answer(status, b"".join(parts).decode())


def _run(coroutine: Coroutine[Any, Any, None]) -> None:
    """Run to the end what never waits for anything."""
    try:
        coroutine.send(None)
    except StopIteration:
        return
    coroutine.close()
    raise AssertionError("a page waited for something: the browser here cannot")
