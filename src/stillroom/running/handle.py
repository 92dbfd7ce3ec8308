"""The shell round `decide`: read the run, decide, write what follows."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from typing import Protocol

from stillroom.records.ledger import Entry, MovedOn, Recorded
from stillroom.refusal import granted
from stillroom.running.codec import from_entry, to_entry
from stillroom.running.commands import Command
from stillroom.running.decide import decide
from stillroom.running.fold import RunState, fold
from stillroom.running.so_far import minute_of

TRIES = 3
PREFIX = "run/"
LET_GO = dt.timedelta(hours=24)
"""A run in which nothing happened for so long no longer keeps the stove's page."""


class Ledger(Protocol):
    """What a run needs of the records."""

    def read(self, stream: str) -> tuple[Recorded, ...]:
        """Return the stream in order."""
        ...

    def newest_stream(self, prefix: str) -> str | None:
        """Return the stream, of those that begin so, that was begun last."""
        ...

    def last_written_stream(self, prefix: str) -> str | None:
        """Return the stream, of those that begin so, that was last written to."""
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


def run_at_the_stove(
    planned: dt.date | None, at: dt.datetime, *, ledger: Ledger
) -> str | None:
    """
    Return the run that the stove is to show: the one with jars on the fire, if any.

    Else that of the planned day, once it is begun; until then one that was begun and is
    still worked, be it between two loads. So a clock stays in sight while a day file is
    being changed, cannot be read, or is already tomorrow's; also one that was started
    from a page that a device kept open for days.
    """
    names = (ledger.newest_stream(PREFIX), ledger.last_written_stream(PREFIX))
    lately: dict[str, dt.datetime] = {}
    hot: dict[str, dt.datetime] = {}
    worked: dict[str, dt.datetime] = {}
    for name in dict.fromkeys(n for n in names if n is not None):
        state = state_of(name, ledger=ledger)
        if state.last_at is None or at - state.last_at >= LET_GO:
            continue
        lately[name] = state.last_at
        if state.on_the_fire:
            hot[name] = state.last_at
        if _is_worked(state, at):
            worked[name] = state.last_at
    if hot:
        return max(hot, key=lambda name: hot[name])
    if planned is None:
        return next(iter(lately), None)
    mine = run_id(planned)
    if not worked or state_of(mine, ledger=ledger).begun_at is not None:
        return mine
    return max(worked, key=lambda name: worked[name])


def _is_worked(state: RunState, at: dt.datetime) -> bool:
    """Whether loads of a run are to come still, on its day or by its plan."""
    if state.begun_at is None:
        return False
    if all(run.lifted_at is not None or run.all_broke for run in state.loads):
        return False
    begun = state.begun_at.astimezone(at.tzinfo)
    if begun.date() == at.date():
        return True
    plan = state.plan
    if plan is None:
        return False
    return minute_of(at, begun, plan.problem) <= plan.timetable.finish_min


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
