"""A run as the stove shows it: without what was booked as never processed."""

from __future__ import annotations

import datetime as dt
from contextlib import suppress

from starlette.requests import Request

from stillroom.refusal import Unreadable
from stillroom.running.fold import RunState
from stillroom.running.given_up import (
    given_up_in,
    may_be_given_up,
    without_given_up,
)
from stillroom.running.handle import state_of
from stillroom.web.routes.stock import kept_stock


def state_shown(request: Request, run: str, at: dt.datetime) -> RunState:
    """Return a run as it stands at a moment."""
    state = state_of(run, ledger=request.app.state.records.ledger)
    return as_booked(request, run, state, at)


def as_booked(request: Request, run: str, state: RunState, at: dt.datetime) -> RunState:
    """
    Return a run without its loads that were given up; the stock is seldom asked.

    Where the stock cannot be read they stay: the clocks need none of it.
    """
    if may_be_given_up(state, at):
        with suppress(Unreadable), kept_stock(request).reading() as stock:
            return without_given_up(state, run, stock, at)
    return state


def given_up(
    request: Request, run: str, state: RunState, at: dt.datetime
) -> frozenset[str]:
    """Return its loads that were given up; none where the stock cannot be read."""
    if may_be_given_up(state, at):
        with suppress(Unreadable), kept_stock(request).reading() as stock:
            return given_up_in(state, run, stock, at)
    return frozenset()
