"""Whether it is time to ask what became of jars: not before they can be there. Pure."""

from __future__ import annotations

import datetime as dt

from stillroom.running.events import KeptPlan
from stillroom.running.fold import RunState
from stillroom.running.so_far import minute_0


def is_due(state: RunState, batch_id: str, load_id: str, at: dt.datetime) -> bool:
    """
    Return whether jars of a batch were said to be filled, or should be by now.

    That is once they were said closed, once their load was on its clock, or once the
    hour is past at which the plan has its load boil, or has them closed where they go
    into no canner (``load_id`` is empty then). Also where no plan was kept to tell.

    Parameters
    ----------
    at : datetime
        Now, in the kitchen's own zone.
    """
    run = state.load(load_id)
    if run is not None and (run.is_in or run.lifted_at is not None):
        return True
    closes = next((b.closes for b in state.batches if b.id == batch_id), "")
    if (batch_id, closes) in state.steps_done:
        return True
    if state.plan is None or state.begun_at is None:
        return True
    minute = _planned_min(state.plan, batch_id, load_id, closes)
    return minute is None or at >= _planned_start(state, state.plan, at) + dt.timedelta(
        minutes=minute
    )


def _planned_min(plan: KeptPlan, batch: str, load: str, closes: str) -> int | None:
    if load:
        boils = (each.boil_min for each in plan.timetable.loads if each.id == load)
        return next(boils, None)
    ends = (
        s.end_min for s in plan.timetable.steps if (s.batch, s.step) == (batch, closes)
    )
    return next(ends, None)


def _planned_start(state: RunState, plan: KeptPlan, at: dt.datetime) -> dt.datetime:
    """
    Minute 0 of the plan on the day of the run.

    A day begun later than its plan is that much later in all of it, until the rest is
    planned again by the clock as it is.
    """
    assert state.begun_at is not None
    begun = state.begun_at.astimezone(at.tzinfo)
    start = minute_0(begun, plan.problem)
    return start if state.taken else max(start, begun)
