"""What time it is for a page: the kitchen's clock, or the one that it was given."""

from __future__ import annotations

import datetime as dt
from contextlib import suppress
from functools import partial

from starlette.requests import Request

from stillroom.records.days import Records
from stillroom.refusal import Refused, Unreadable
from stillroom.running.clock import Clock, WatchedClock
from stillroom.running.handle import note_clock_set


def now_of(request: Request) -> dt.datetime:
    """
    Return the moment, in the kitchen's time zone.

    Where the clock was set, the days under way are told so first: nothing is shown or
    decided by two clocks.
    """
    state = request.app.state
    clock: Clock = state.clock
    if isinstance(clock, WatchedClock) and state.records is not None:
        clock.heed(partial(note_clock_set, ledger=state.records.ledger))
    return clock.now()


def watched(records: Records | None) -> WatchedClock:
    """
    Return the kitchen's clock as it is watched from now on.

    It may have been set while no pages were served, in the midst of a day: that is
    told first. Where it cannot be now, the first page that asks the time tries again;
    where it cannot be read, the pages say why that need it.
    """
    clock = WatchedClock()
    if records is not None:
        with suppress(Refused, Unreadable):
            clock.begin(partial(note_clock_set, ledger=records.ledger))
    return clock


def by_this_clock(request: Request) -> tuple[dt.datetime, dt.datetime | None, str]:
    """
    Return the moment, and what tells this clock from one that is set later.

    That is when the computer was switched on by it, and the name of that start;
    nothing of a clock that nobody watches.
    """
    at = now_of(request)
    clock: Clock = request.app.state.clock
    if isinstance(clock, WatchedClock):
        return *clock.look(), clock.boot
    return at, None, ""
