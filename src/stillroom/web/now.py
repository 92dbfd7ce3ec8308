"""What time it is for a page: the kitchen's clock, or the one that it was given."""

from __future__ import annotations

import datetime as dt
from functools import partial

from starlette.requests import Request

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
