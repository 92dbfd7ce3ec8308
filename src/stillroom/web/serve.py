"""Serving the pages on this machine or in the house; ending at once when asked to."""

from __future__ import annotations

import errno
import socket
from collections.abc import Callable
from contextlib import ExitStack
from types import FrameType

import uvicorn
from starlette.applications import Starlette

from stillroom.refusal import Fault, Unreadable
from stillroom.web.in_the_house import KEY

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


def listen(port: int, host: str = HOST) -> socket.socket:
    """
    Return a socket that listens on this machine alone, or at an address of its own.

    Parameters
    ----------
    port : int
        1 to 65535, or 0 for any free one.
    host : str
        Address of this machine.

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
        listener.bind((host, port))
        listener.listen(128)
    except OSError as error:
        listener.close()
        if error.errno == errno.EADDRNOTAVAIL:
            raise Unreadable(
                Fault(
                    f"{host} is not an address of this machine now: look in its "
                    "network settings which one it has",
                    key=KEY,
                )
            ) from None
        if error.errno == errno.EADDRINUSE:
            what = f"port {port} is taken by another program; {how}"
        elif error.errno == errno.EACCES:
            what = f"port {port} is kept for the system; {how}"
        else:
            what = f"port {port} cannot be used ({error.strerror}); {how}"
        raise Unreadable(Fault(what, key="--port")) from None
    return listener


def serve(
    app: Starlette,
    port: int,
    *,
    at: str = "",
    ready: Callable[[tuple[str, ...]], None] | None = None,
) -> None:
    """
    Serve the pages until Ctrl-C or SIGTERM.

    Parameters
    ----------
    app : Starlette
        The pages.
    port : int
        Port on 127.0.0.1; 0 for any free one.
    at : str, optional
        Another address of this machine, at which they are served too.
    ready : callable, optional
        Called with the addresses as soon as the pages can be opened.

    Raises
    ------
    Unreadable
        Where the port cannot be used.
    """
    with ExitStack() as open_until_then:
        listeners = [open_until_then.enter_context(listen(port))]
        port = listeners[0].getsockname()[1]
        if at:
            listeners.append(open_until_then.enter_context(listen(port, at)))
        addresses = tuple(f"http://{host}:{port}/" for host in (HOST, at) if host)
        config = uvicorn.Config(
            app, log_level="warning", timeout_graceful_shutdown=2, lifespan="off"
        )
        server = _Server(config, app, lambda: ready(addresses) if ready else None)
        server.run(sockets=listeners)
