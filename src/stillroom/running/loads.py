"""The loads that a plan hands to a run, and the steps that a day can teach."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from stillroom.methods.learned import may_be_learned
from stillroom.planning.dayplan import DayPlan, MadeBatch
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.rinses import at_the_shortest
from stillroom.planning.timetable import Answer, Timetable
from stillroom.planning.words.sheet import clock
from stillroom.running.events import BOILING_WATER, RunLoad, RunStep
from stillroom.running.fold import RunState


def loads_of(plan: DayPlan) -> tuple[RunLoad, ...]:
    """
    Return the loads of a plan in the order of the clock; none where nothing fits.

    Each names the published process of every product that is in it.
    """
    if plan.problem is None or not isinstance(plan.answer, Answer):
        return ()
    return loads_in(plan.problem, plan.answer.timetable, plan.batches)


def loads_in(
    problem: Problem, timetable: Timetable, batches: Sequence[MadeBatch]
) -> tuple[RunLoad, ...]:
    """Return the loads of a timetable in the order of the clock."""
    rests = {canner.id: canner.rest_min for canner in problem.canners}
    made = {batch.id: batch for batch in batches}
    taken = []
    loads = sorted(timetable.loads, key=lambda load: load.boil_min)
    for number, load in enumerate(loads, start=1):
        aboard = [made[batch] for batch, _ in load.jars]
        processes = [batch.process for batch in aboard if batch.process]
        taken.append(
            RunLoad(
                id=load.id,
                name=f"load {number}",
                canner=load.canner,
                process_min=load.process_min,
                source=_each_once(process.source for process in processes),
                how_known=_each_once(process.how_known for process in processes),
                band=_each_once(process.band_ft for process in processes),
                jar=_each_once(batch.jar for batch in aboard),
                jars=load.jars,
                planned_boil=clock(problem.starts_at, load.boil_min),
                method=processes[0].method if processes else BOILING_WATER,
                pressure_psi=processes[0].pressure_psi if processes else None,
                rest_min=rests[load.canner],
            )
        )
    return tuple(taken)


def number_in(name: str) -> int | None:
    """
    Return the number of a load in what it is called.

    >>> number_in("load 3")
    3
    """
    number = name.removeprefix("load ")
    return int(number) if number.isdecimal() else None


def named_on(loads: Iterable[RunLoad], state: RunState) -> tuple[RunLoad, ...]:
    """
    Name the loads of a new plan: what has a name in the run keeps it.

    Those that have begun are "load 1" to "load 3" as before; what comes is counted on.
    """
    begun = {run.load.id: run.load.name for run in state.loads if run.has_begun}
    taken = set(begun.values())
    free = (name for n in range(1, 1000) if (name := f"load {n}") not in taken)
    return tuple(
        replace(load, name=begun[load.id] if load.id in begun else next(free))
        for load in loads
    )


def steps_of(plan: DayPlan) -> tuple[RunStep, ...]:
    """Return the steps of a plan whose minutes are of hands or fire alone."""
    if plan.problem is None:
        return ()
    product = {made.id: made.product for made in plan.batches}
    short = at_the_shortest(plan.problem)
    return tuple(
        RunStep(
            batch=batch.id,
            step=step.id,
            product=product[batch.id],
            book_min=step.duration_min if step.book_min is None else step.book_min,
            follows=_without_a_pause(batch, step.id),
        )
        for batch, least in zip(plan.problem.batches, short.batches, strict=True)
        if batch.id in product  # not what the day before has left to look at
        for step, shortest in zip(batch.steps, least.steps, strict=True)
        if step.book_min is not None or may_be_learned(step)
        # a rinse teaches nothing of a wash, and which it was may change in the day
        if step.duration_min == shortest.duration_min
    )


def _without_a_pause(batch: Batch, step: str) -> str:
    """Name the step whose end is this one's begin, if the links say so."""
    return next(
        (
            link.before
            for link in batch.links
            if link.after == step and link.at_least_min == 0 and link.at_most_min == 0
        ),
        "",
    )


def _each_once(words: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(words))
