"""The shell round `decide`: read the run, decide, write what follows."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from typing import Protocol

from stillroom.records.ledger import Entry, MovedOn, Recorded
from stillroom.refusal import granted
from stillroom.running.codec import from_entry, to_entry
from stillroom.running.commands import Command, NoteClockSet
from stillroom.running.decide import decide
from stillroom.running.fold import RunState, fold
from stillroom.running.under_way import LET_GO, is_under_way

TRIES = 3
PREFIX = "run/"
LOOKED_AT = 4
"""So many days of those that were last written to may be under way, or left so."""


class Ledger(Protocol):
    """What a run needs of the records."""

    def read(self, stream: str) -> tuple[Recorded, ...]:
        """Return the stream in order."""
        ...

    def newest_stream(self, prefix: str) -> str | None:
        """Return the stream, of those that begin so, that was begun last."""
        ...

    def last_written_streams(self, prefix: str, *, most: int) -> tuple[str, ...]:
        """Return the streams that begin so, the last written to first; so many."""
        ...

    def append(
        self,
        stream: str,
        events: Sequence[Entry],
        *,
        after: int,
        key: str | None = None,
    ) -> int:
        """Add entries behind number ``after``, or raise `MovedOn`."""
        ...

    def answered(self, stream: str, key: str) -> int | None:
        """Return what an append with this key was answered; `None` if none was."""
        ...


def run_id(date: dt.date) -> str:
    """
    Return the stream of a day's run.

    >>> run_id(dt.date(2026, 9, 12))
    'run/2026-09-12'
    """
    return f"{PREFIX}{date.isoformat()}"


def state_of(run: str, *, ledger: Ledger) -> RunState:
    """Return the run as its events have it."""
    return fold(from_entry(entry) for entry in ledger.read(run))


def lately_written(ledger: Ledger) -> dict[str, RunState]:
    """Return the runs of late and how they stand: the newest first, then by entry."""
    newest = ledger.newest_stream(PREFIX)
    last = ledger.last_written_streams(PREFIX, most=LOOKED_AT)
    names = dict.fromkeys((*(() if newest is None else (newest,)), *last))
    return {name: state_of(name, ledger=ledger) for name in names}


def under_way(at: dt.datetime, *, ledger: Ledger) -> dict[str, RunState]:
    """
    Return the runs that are under way, the one that the stove is to show first.

    That is one with jars on the fire, the last tapped of them; then the last begun.
    """
    going = {
        name: state
        for name, state in lately_written(ledger).items()
        if is_under_way(state, at)
    }

    def first(name: str) -> tuple[bool, dt.datetime]:
        state = going[name]
        hot = bool(state.in_canners)
        moment = state.last_at if hot else state.begun_at
        assert moment is not None
        return hot, moment

    return {name: going[name] for name in sorted(going, key=first, reverse=True)}


def run_at_the_stove(
    planned: dt.date | None, at: dt.datetime, *, ledger: Ledger
) -> str | None:
    """
    Return the run that the stove is to show: one that is under way, if any.

    Else that of the planned day. So a day with jars on the fire, or loads still to
    come, stays in sight while a day file is being changed, cannot be read, or is
    tomorrow's already; also a clock that an old page of some device has started.
    """
    going = under_way(at, ledger=ledger)
    if going:
        return next(iter(going))
    if planned is not None:
        return run_id(planned)
    lately = (
        name
        for name, state in lately_written(ledger).items()
        if state.last_at is not None and at - state.last_at < LET_GO
    )
    return next(lately, None)


def note_clock_set(
    at: dt.datetime,
    by: dt.timedelta,
    switched_on: dt.datetime,
    boot: str,
    *,
    ledger: Ledger,
) -> None:
    """Have every day that is under way told by the clock as it was set; see `clock`."""
    asked = NoteClockSet(at=at, by=by, switched_on=switched_on, boot=boot)
    for name, state in lately_written(ledger).items():
        if is_under_way(state, at - by):
            handle(asked, name, ledger=ledger)


def handle(
    command: Command, run: str, *, ledger: Ledger, key: str | None = None
) -> RunState:
    """
    Decide on ``command``, write what follows in one transaction, return the new state.

    Where someone else wrote in the moment between, the run is read and decided on
    again, at most three times. With a ``key`` that was written before, this is a
    retry whose answer was lost: it writes nothing, whatever happened since.

    Raises
    ------
    Refused
        If a rule says no. Nothing is written.
    """
    if key is not None and ledger.answered(run, key) is not None:
        return state_of(run, ledger=ledger)
    for again in reversed(range(TRIES)):
        state = state_of(run, ledger=ledger)
        events = granted(decide(state, command))
        try:
            ledger.append(
                run, [to_entry(e) for e in events], after=state.sequence, key=key
            )
        except MovedOn:
            if not again:
                raise
        else:
            return fold(events, state)
    raise AssertionError("the last try returns or raises")
