"""Loads without a whole process whose jars are booked so: they are over. Pure."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from stillroom.running.due import is_due
from stillroom.running.fold import RunState
from stillroom.running.load_run import LoadRun
from stillroom.stock.fold import Stock


def may_be_given_up(state: RunState, at: datetime) -> bool:
    """Whether jars of a load are due and have no clock: the stock is worth asking."""
    return any(_waits(state, each, at) for each in state.loads)


def _waits(state: RunState, run: LoadRun, at: datetime) -> bool:
    idle = run.boiling_since is None and run.lifted_at is None
    return idle and any(is_due(state, b, run.load.id, at) for b, _ in run.load.jars)


def given_up_in(
    state: RunState, run: str, stock: Stock, at: datetime
) -> frozenset[str]:
    """Return the loads that have no clock and are booked all the same."""
    return frozenset(
        each.load.id
        for each in state.loads
        if _waits(state, each, at)
        and all(stock.from_run(run, b, each.load.id) for b, _ in each.load.jars)
    )


def without_given_up(state: RunState, run: str, stock: Stock, at: datetime) -> RunState:
    """
    Return the run without the loads that have no clock and are booked all the same.

    They were booked as never processed. The stove would go on to say that they cannot
    wait, and to call them still to come, for as long as it names the day. Who has the
    booking taken back, or starts their clock on a page of before, has them back.
    """
    gone = given_up_in(state, run, stock, at)
    if not gone:
        return state
    plan = state.plan
    if plan is not None:
        by = plan.timetable
        loads = tuple(load for load in by.loads if load.id not in gone)
        plan = replace(plan, timetable=replace(by, loads=loads))
    kept = tuple(each for each in state.loads if each.load.id not in gone)
    return replace(state, loads=kept, plan=plan)
