"""
Whether a day is under way at the stove: begun, and with something still to come. Pure.

A day is over when its loads are out and its steps are done. Else it is let go of when
nobody was there any more: see decision 0103.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from stillroom.in_a_list import all_of
from stillroom.jar_count import counted
from stillroom.running.fold import RunState
from stillroom.running.hands import hands
from stillroom.running.load_run import LoadRun

LET_GO = timedelta(hours=24)
"""A run in which nothing happened for so long no longer keeps the stove's page."""
NIGHT = timedelta(hours=8)
"""Steps alone keep it for the day of the last tap, or so long after it."""
NAMED = 3
"""So many loads are called by their names; of more it is said how many."""
TOLD_FOR = timedelta(days=3)
"""So long a day that was left with loads to come is named at the stove."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """What is still to come of a day that was begun."""

    loads: tuple[LoadRun, ...]
    """Those that are not out, and of which a jar is left."""
    steps: int
    """At least so many: the next of every pair of hands."""

    @property
    def words(self) -> str:
        """Say it: "load 1 is in the canner; load 2 is still to come"; empty if none."""
        inside = [run.load.name for run in self.loads if run.is_in]
        waits = [run.load.name for run in self.loads if not run.is_in]
        said = [
            f"{_named(names)} {'is' if len(names) == 1 else 'are'} {where}"
            for names, where in ((inside, "in the canner"), (waits, "still to come"))
            if names
        ]
        if not said and self.steps:
            be = "is" if self.steps == 1 else "are"
            said = [f"{counted(self.steps, 'step')} {be} still to be done"]
        return "; ".join(said)


def _named(loads: list[str]) -> str:
    """A few by their names, more by their number."""
    return all_of(loads) if len(loads) <= NAMED else counted(len(loads), "load")


def left_of(state: RunState) -> Left:
    """Return what is still to come of a run; nothing of one that was not begun."""
    if state.begun_at is None:
        return Left(loads=(), steps=0)
    loads = tuple(
        run
        for run in state.loads
        if run.lifted_at is None and (run.is_in or not run.all_broke)
    )
    steps = {
        (todo.batch, todo.step)
        for one in hands(None, state)
        for todo in (one.now, one.step, one.then)
        if todo is not None and todo.step
    }
    return Left(loads=loads, steps=len(steps))


def is_under_way(state: RunState, at: datetime) -> bool:
    """Return whether a day goes on at the stove at a moment, in the kitchen's zone."""
    last = state.last_at
    if state.begun_at is None or last is None or at - last >= LET_GO:
        return False
    left = left_of(state)
    if left.loads:
        return True
    same_day = last.astimezone(at.tzinfo).date() == at.date()
    return bool(left.steps) and (same_day or at - last < NIGHT)


def was_left(state: RunState, at: datetime) -> bool:
    """Return whether it is under way, or was left with loads to come some days ago."""
    last = state.last_at
    if last is None:
        return False
    lately = at - last < TOLD_FOR
    return is_under_way(state, at) or (lately and bool(left_of(state).loads))
