"""The loads that a plan hands to a run, and the steps that a day can teach."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from stillroom.methods.learned import may_be_learned
from stillroom.planning.dayplan import DayPlan, MadeBatch
from stillroom.planning.daytime import clock_time
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.rinses import at_the_shortest
from stillroom.planning.timetable import Answer, Timetable
from stillroom.planning.waits.load_names import LoadNames
from stillroom.running.events import BOILING_WATER, RunLoad, RunStep
from stillroom.running.fold import RunState

_AND = "; "
"""Between what two products of one load have apart: their sources, their bands."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """What is published for the jars of a batch, in the words of a load."""

    jar: str
    source: str
    how_known: str
    band: str
    method: str
    pressure_psi: float | None
    raw: bool = False


def published_for(batches: Iterable[MadeBatch]) -> dict[str, Published]:
    """Return what is published for each batch of a day that is canned."""
    return {
        batch.id: Published(
            jar=batch.jar,
            source=batch.process.source,
            how_known=batch.process.how_known,
            band=batch.process.band_ft,
            method=batch.process.method,
            pressure_psi=batch.process.pressure_psi,
            raw=batch.process.pack == "raw",
        )
        for batch in batches
        if batch.process is not None
    }


def published_as_begun(state: RunState) -> dict[str, Published]:
    """
    Return what a run has of each batch in its loads, whatever the day file says now.

    Where jars of a batch fill a load of their own its words are theirs alone; of a
    load of two products each has the words of both.
    """
    loads = [run.load for run in state.loads]
    loads += [load for taken in state.taken for load in taken.loads]
    found: dict[str, Published] = {}
    for load in sorted(loads, key=lambda load: len(load.jars)):
        for batch, _ in load.jars:
            found.setdefault(
                batch,
                Published(
                    jar=load.jar,
                    source=load.source,
                    how_known=load.how_known,
                    band=load.band,
                    method=load.method,
                    pressure_psi=load.pressure_psi,
                    raw=load.raw,
                ),
            )
    return found


def loads_of(plan: DayPlan) -> tuple[RunLoad, ...]:
    """
    Return the loads of a plan in the order of the clock; none where nothing fits.

    Each names the published process of every product that is in it.
    """
    if plan.problem is None or not isinstance(plan.answer, Answer):
        return ()
    published = published_for(plan.batches)
    return loads_in(plan.problem, plan.answer.timetable, published)


def loads_in(
    problem: Problem, timetable: Timetable, published: Mapping[str, Published]
) -> tuple[RunLoad, ...]:
    """Return the loads of a timetable in the order of the clock."""
    rests = {canner.id: canner.rest_min for canner in problem.canners}
    called = LoadNames(problem, timetable)
    taken = []
    loads = sorted(timetable.loads, key=lambda load: load.boil_min)
    for load in loads:
        aboard = [published[batch] for batch, _ in load.jars]
        taken.append(
            RunLoad(
                id=load.id,
                name=called.short(load.id),
                canner=load.canner,
                process_min=load.process_min,
                source=_each_once(each.source for each in aboard),
                how_known=_each_once(each.how_known for each in aboard),
                band=_each_once(each.band for each in aboard),
                jar=_each_once(each.jar for each in aboard),
                jars=load.jars,
                planned_boil=clock_time(problem.starts_at, load.boil_min),
                method=aboard[0].method if aboard else BOILING_WATER,
                pressure_psi=aboard[0].pressure_psi if aboard else None,
                raw=any(each.raw for each in aboard),
                rest_min=rests[load.canner],
            )
        )
    return tuple(taken)


def names_of(plan: DayPlan) -> dict[str, str]:
    """Return what each load of a plan is called at the stove and on its pages."""
    return {load.id: load.name for load in loads_of(plan)}


def number_in(name: str) -> int | None:
    """
    Return the number of a load in what it is called; `None` where that has none.

    >>> number_in("load 3"), number_in("the long canner")
    (3, None)
    """
    _, _, number = name.rpartition(" ")
    return int(number) if number.isascii() and number.isdecimal() else None


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
    """Each once, though some come from a load that had two of them already."""
    apart = dict.fromkeys(words)
    if len(apart) > 1:
        apart = dict.fromkeys(part for each in apart for part in each.split(_AND))
    return _AND.join(apart)
