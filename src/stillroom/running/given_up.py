"""Loads that never ran and whose jars are booked so: nothing of them is to come."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from stillroom.running.fold import RunState
from stillroom.running.stood import stood_too_long
from stillroom.stock.fold import Stock


def may_be_given_up(state: RunState, at: datetime) -> bool:
    """Whether jars of a load stood too long, so that the stock is worth asking."""
    return any(stood_too_long(state, each, at) is not None for each in state.loads)


def without_given_up(state: RunState, run: str, stock: Stock, at: datetime) -> RunState:
    """
    Return the run without the loads that stood too long and are booked all the same.

    They were booked as never processed. The stove would go on to ask for that, and to
    call them still to come, for as long as it names the day.
    """
    gone = {
        each.load.id
        for each in state.loads
        if stood_too_long(state, each, at) is not None
        and all(stock.from_run(run, b, each.load.id) for b, _ in each.load.jars)
    }
    if not gone:
        return state
    plan = state.plan
    if plan is not None:
        by = plan.timetable
        loads = tuple(load for load in by.loads if load.id not in gone)
        plan = replace(plan, timetable=replace(by, loads=loads))
    kept = tuple(each for each in state.loads if each.load.id not in gone)
    return replace(state, loads=kept, plan=plan)
