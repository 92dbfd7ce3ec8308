"""The loads that a plan hands to a run."""

from __future__ import annotations

from stillroom.planning.dayplan import DayPlan
from stillroom.planning.sheet import clock
from stillroom.planning.timetable import Answer
from stillroom.running.events import RunLoad


def loads_of(plan: DayPlan) -> tuple[RunLoad, ...]:
    """Return the loads of a plan in the order of the clock; none where nothing fits."""
    if plan.problem is None or not isinstance(plan.answer, Answer):
        return ()
    processes = {process.id: process for process in plan.problem.processes}
    loads = sorted(plan.answer.timetable.loads, key=lambda load: load.boil_min)
    return tuple(
        RunLoad(
            id=load.id,
            name=f"load {number}",
            canner=load.canner,
            process_min=load.process_min,
            source=processes[load.process].source,
            jar=processes[load.process].jar,
            jars=load.jars,
            planned_boil=clock(plan.problem.starts_at, load.boil_min),
        )
        for number, load in enumerate(loads, start=1)
    )
