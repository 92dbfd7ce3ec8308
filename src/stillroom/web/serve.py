"""Serving the pages on this machine, and ending at once when asked to."""

from __future__ import annotations

import errno
import socket
from collections.abc import Callable
from types import FrameType

import uvicorn
from starlette.applications import Starlette

from stillroom.refusal import Fault, Unreadable

HOST = "127.0.0.1"


class _Server(uvicorn.Server):
    """
    A server that says when it listens, and for which being stopped is no failure.

    On the first signal it calls ``app.state.on_closing``, each in turn: a page that
    holds a stream open ends it there, or the server would wait for it.
    """

    def __init__(
        self, config: uvicorn.Config, app: Starlette, ready: Callable[[], None]
    ) -> None:
        super().__init__(config)
        self._app = app
        self._ready = ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            self._ready()

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        # Not handed to the library, which would raise the signal again at the end:
        # being asked to stop is how a day at the pages ends.
        if self.should_exit:
            self.force_exit = True
            return
        self.should_exit = True
        for close in self._app.state.on_closing:
            close()


def listen(port: int) -> socket.socket:
    """
    Return a socket that listens on this machine alone.

    Parameters
    ----------
    port : int
        1 to 65535, or 0 for any free one.

    Raises
    ------
    Unreadable
        Where the port is taken or not ours to use, with how to choose another.
    """
    if not 0 <= port <= 65535:
        raise Unreadable(Fault(f"port {port} is outside 1 to 65535", key="--port"))
    another = port + 5 if 1024 <= port <= 65000 else 8770
    how = (
        f"choose another: stillroom serve --port {another} (or make run PORT={another})"
    )
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((HOST, port))
        listener.listen(128)
    except OSError as error:
        listener.close()
        if error.errno == errno.EADDRINUSE:
            what = f"port {port} is taken by another program; {how}"
        elif error.errno == errno.EACCES:
            what = f"port {port} is kept for the system; {how}"
        else:
            what = f"port {port} cannot be used ({error.strerror}); {how}"
        raise Unreadable(Fault(what, key="--port")) from None
    return listener


def serve(
    app: Starlette, port: int, *, ready: Callable[[str], None] | None = None
) -> None:
    """
    Serve the pages until Ctrl-C or SIGTERM.

    Parameters
    ----------
    app : Starlette
        The pages.
    port : int
        Port on 127.0.0.1; 0 for any free one.
    ready : callable, optional
        Called with the address as soon as the pages can be opened.

    Raises
    ------
    Unreadable
        Where the port cannot be used.
    """
    listener = listen(port)
    address = f"http://{HOST}:{listener.getsockname()[1]}/"
    config = uvicorn.Config(
        app, log_level="warning", timeout_graceful_shutdown=2, lifespan="off"
    )
    server = _Server(config, app, lambda: ready(address) if ready else None)
    with listener:
        server.run(sockets=[listener])
