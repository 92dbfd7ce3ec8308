"""The days that are under way at the stove, as the pages name them."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from starlette.requests import Request

from stillroom.running.fold import RunState
from stillroom.running.handle import PREFIX, lately_written, under_way
from stillroom.running.lots_made import worked_on
from stillroom.running.under_way import is_under_way, left_of, was_left
from stillroom.web.as_booked import as_booked
from stillroom.web.now import now_of


@dataclass(frozen=True, slots=True, kw_only=True)
class DayBegun:
    """A day that was begun at the stove, and what is still to come of it."""

    run: str
    plan_day: dt.date
    """The day of its plan, by which its board is found."""
    day: dt.date
    """The day on which it is worked."""
    begun: str
    """Clock time, "8:02"."""
    to_come: str
    """"load 2 is still to come"."""
    goes_on: bool
    """Under way; else it was left some days ago with loads to come."""


def day_at_the_stove(request: Request) -> DayBegun | None:
    """Return the day that is under way and that the stove shows; `None` if none is."""
    if request.app.state.records is None:
        return None
    at = now_of(request)
    going = under_way(at, ledger=request.app.state.records.ledger)
    return next((_told(run, state, at) for run, state in going.items()), None)


def days_beside(request: Request, shown: str) -> tuple[DayBegun, ...]:
    """Return the days, but for the one that is shown, that wait for somebody."""
    at = now_of(request)
    lately = lately_written(request.app.state.records.ledger)
    left = (
        (run, as_booked(request, run, state, at))
        for run, state in lately.items()
        if run != shown and was_left(state, at)
    )
    return tuple(_told(run, state, at) for run, state in left if was_left(state, at))


def going_beside(request: Request, run: str, at: dt.datetime) -> dict[str, RunState]:
    """Return the other days that are under way, by their day, "2026-09-12"."""
    going = under_way(at, ledger=request.app.state.records.ledger)
    return {
        name.removeprefix(PREFIX): state for name, state in going.items() if name != run
    }


def _told(run: str, state: RunState, at: dt.datetime) -> DayBegun:
    assert state.begun_at is not None
    return DayBegun(
        run=run,
        plan_day=dt.date.fromisoformat(run.removeprefix(PREFIX)),
        day=worked_on(state, run, at.tzinfo),
        begun=f"{state.begun_at.astimezone(at.tzinfo):%-H:%M}",
        to_come=left_of(state).words,
        goes_on=is_under_way(state, at),
    )
