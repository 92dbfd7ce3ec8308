"""A run as the stove shows it: without what was booked as never processed."""

from __future__ import annotations

import datetime as dt
from contextlib import suppress

from starlette.requests import Request

from stillroom.refusal import Refusal, Unreadable
from stillroom.running.fold import RunState
from stillroom.running.given_up import (
    given_up_in,
    may_be_given_up,
    without_given_up,
)
from stillroom.running.handle import state_of
from stillroom.running.rules import OUR_RECORD
from stillroom.stock.lotcode import printed
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


def booked_since(
    request: Request, run: str, load: str, key: str | None
) -> Refusal | None:
    """
    Return why a load is not taken back into its canner: its jars are booked as out.

    The clock and what is booked of it would say two things. `None` where none is, and
    where the stock cannot be read: then nothing could be booked either. A retry, by its
    ``key``, was answered before.
    """
    ledger = request.app.state.records.ledger
    known = state_of(run, ledger=ledger).load(load)
    if known is None or known.lifted_at is None:
        return None
    if key is not None and ledger.answered(run, key) is not None:
        return None
    with suppress(Unreadable), kept_stock(request).reading() as stock:
        for batch, _ in known.load.jars:
            code = stock.from_run(run, batch, load)
            made = stock.made(code) if code is not None else None
            if code is not None and made is not None and made.batch.process_min:
                return Refusal(
                    f"{batch} of {known.load.name} is booked as {printed(code)}, with "
                    "its process",
                    instead="take that entry back on the page of the lot first",
                    source=OUR_RECORD,
                )
    return None
