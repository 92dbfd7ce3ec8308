"""What time it is for a page: the kitchen's clock, or the one that it was given."""

from __future__ import annotations

import datetime as dt

from starlette.requests import Request

from stillroom.running.clock import Clock, WallClock


def clock_of(request: Request) -> Clock:
    """Return the clock that the pages go by."""
    return getattr(request.app.state, "clock", None) or WallClock()


def now_of(request: Request) -> dt.datetime:
    """Return the moment, in the kitchen's time zone."""
    return clock_of(request).now()
