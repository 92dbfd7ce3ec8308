"""The plan that a run goes by, kept with the run: made, marked, and shown again."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import msgspec

from stillroom.planning.day import Day
from stillroom.planning.dayplan import After, DayPlan, LeftOut, MadeBatch, Spare
from stillroom.planning.gathered import CANNER_RUN, SEAL_CHECK
from stillroom.planning.how_good.by_the_hour import by_the_hour
from stillroom.planning.how_good.lateness import weighted_lateness
from stillroom.planning.problem import Problem
from stillroom.planning.problem import Want as DueWant
from stillroom.planning.timetable import Answer, Timetable
from stillroom.planning.which_batches.around import after_tasks
from stillroom.planning.which_batches.missed_most import missed_most_first
from stillroom.planning.which_batches.served_since import served_as_in
from stillroom.planning.which_batches.spares import all_promised, spares_for
from stillroom.refusal import Caution
from stillroom.running.day_mark import mark_of
from stillroom.running.events import KeptPlan, PlanTaken
from stillroom.running.fold import RunState
from stillroom.running.loads import number_in

AGAIN = "second thoughts"
"""Who made a plan that was taken over during the day."""


def kept(plan: DayPlan, day_text: str) -> KeptPlan | None:
    """Return what a run keeps of a plan; `None` where there is no timetable."""
    if plan.problem is None or not isinstance(plan.answer, Answer):
        return None
    return KeptPlan(
        of=mark_of(day_text), problem=plan.problem, timetable=plan.answer.timetable
    )


def mark_of_plan(plan: DayPlan, day_text: str) -> str:
    """Mark that tells one plan of a day file from another; empty without timetable."""
    mine = kept(plan, day_text)
    if mine is None:
        return ""
    return hashlib.sha256(msgspec.json.encode(mine, order="deterministic")).hexdigest()


def plan_now(plan: DayPlan, state: RunState, day_text: str) -> DayPlan:
    """
    Return the plan of a day as the run goes by it.

    It is ``plan`` itself where the run has none of its own, or was begun by another day
    file. What was left out since is no batch of it any more, what was taken in is one.
    """
    mine, answer = state.plan, plan.answer
    if mine is None or mine.of != mark_of(day_text) or not isinstance(answer, Answer):
        return plan
    if mine.timetable == answer.timetable and mine.problem == plan.problem:
        return plan
    if not _has_its_batches(plan, mine.problem):
        return plan
    late = weighted_lateness(mine.problem, mine.timetable)
    finish = mine.timetable.finish_min
    again = bool(state.taken)
    holds = not again and late <= answer.lateness
    if holds and plan.bound_of != "this kitchen" and plan.problem is not None:
        holds = mine.problem.batches == plan.problem.batches
    known = answer.lower_bound_min if holds else 0
    here = _here(mine.problem, state)
    made = (*plan.batches, *(spare.made for spare in plan.spare))
    return replace(
        plan,
        problem=mine.problem,
        batches=served_as_in(mine.problem, [b for b in made if b.id in here], made),
        left_out=tuple(_still_out(plan, here)),
        **_once_over(plan, mine, here),
        cautions=_cautions(plan, mine.problem, mine.timetable),
        answer=replace(
            answer,
            timetable=as_called(mine.timetable, state),
            made_by=AGAIN if again else answer.made_by,
            finish_min=finish,
            lateness=late,
            lower_bound_min=known,
            proven=not again and finish <= known,
            remarks=() if again else answer.remarks,
        ),
    )


def taken_of(plan: DayPlan, state: RunState, day_text: str) -> PlanTaken | None:
    """Plan that was taken over last, where ``plan`` is that one: see `plan_now`."""
    mine = state.plan
    if mine is None or not state.taken or mine.of != mark_of(day_text):
        return None
    return state.taken[-1] if mine.problem == plan.problem else None


def _has_its_batches(plan: DayPlan, problem: Problem) -> bool:
    """
    Whether a plan has every canned batch of a run, jar for jar.

    One day file, planned anew after what was learned since, may divide its fruit into
    other batches: what it leaves out then is fruit that is in the run's pots.
    """
    jars = {b.id: b.jars for b in (*plan.batches, *(s.made for s in plan.spare))}
    canned = [b for b in problem.batches if b.jars and b.process is not None]
    return all(jars.get(batch.id) == batch.jars for batch in canned)


def _cautions(
    plan: DayPlan, problem: Problem, timetable: Timetable
) -> tuple[Caution, ...]:
    """Those of the day, and of the hours as they are now in place of the morning's."""
    morning: set[str] = set()
    if plan.problem is not None and isinstance(plan.answer, Answer):
        was = by_the_hour(plan.day, plan.problem, plan.answer.timetable)
        morning = {caution.text for caution in was}
    return (
        *by_the_hour(plan.day, problem, timetable),
        *(caution for caution in plan.cautions if caution.text not in morning),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFile:
    """
    What the day file that a run was begun by says beside the plan of the run.

    Nothing at all where another one stands by now, or its plan is not there: what is
    begun never asks it, and nothing is taken in from the file of another day.
    """

    day: Day | None = None
    spares: tuple[Spare, ...] = ()
    """Batches that the run is without, the most missed first."""
    promised: tuple[DueWant, ...] = ()
    """What was promised by an hour when the day began."""
    missed: tuple[str, ...] = ()
    """Batches of the day, those that would be missed most first."""
    keeps: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Batch to what stays of it where it is left out."""


def own_file(plan: object, state: RunState, day_text: str) -> OwnFile:
    """
    Return what the day file says to a run.

    Parameters
    ----------
    plan : object
        What the day file that stands now was planned to; not only a `DayPlan`, as it
        may be in the making, unreadable, or refused.
    state : RunState
        The run.
    day_text : str
        That day file.
    """
    mine = state.plan
    if mine is None or not isinstance(plan, DayPlan) or mine.of != mark_of(day_text):
        return OwnFile()
    if not _has_its_batches(plan, mine.problem):
        return OwnFile()
    spares = spares_for(plan, {b.id for b in mine.problem.batches})
    made = (*plan.batches, *(spare.made for spare in (*plan.spare, *spares)))
    return OwnFile(
        day=plan.day,
        spares=spares,
        promised=promised_so_far(plan, state, day_text),
        missed=tuple(missed_most_first(plan.day, made)),
        keeps={batch.id: keeps_of(batch) for batch in made},
    )


def keeps_of(batch: MadeBatch) -> tuple[str, ...]:
    """What stays of a batch that is left out: food that it would have drawn."""
    return tuple(
        f"{draw.text} of {draw.lot}" for draw in batch.draws if draw.count is None
    )


def promised_so_far(
    plan: DayPlan, state: RunState, day_text: str
) -> tuple[DueWant, ...]:
    """
    What was promised by an hour of the day of a run, also what it makes no jars for.

    Those were left out in the morning, by the plan or the day file, or since; none
    where the run was begun by another day file.
    """
    mine = state.plan
    if mine is None or mine.of != mark_of(day_text):
        return ()
    spares = spares_for(plan, _here(mine.problem, state))
    return all_promised(mine.problem, spares, plan)


def _here(problem: Problem, state: RunState) -> set[str]:
    """Batches that a run makes: what was begun and then left out has no jars."""
    out = {left.batch for taken in state.taken for left in taken.left_out}
    # what was left out and taken in again has jars again
    return {b.id for b in problem.batches if b.jars or b.id not in out}


def _still_out(plan: DayPlan, here: Collection[str]) -> Iterator[LeftOut]:
    """What was left out in the morning, without what was taken in since."""
    for left in plan.left_out:
        each = tuple((name, jars) for name, jars in left.each if name not in here)
        if len(each) == len(left.each):
            yield left
        elif each:
            jars = sum(jars for _, jars in each)
            yield replace(
                left,
                batches=tuple(name for name, _ in each),
                each=each,
                jars=jars,
            )


def _once_over(plan: DayPlan, mine: KeptPlan, here: Collection[str]) -> dict[str, Any]:
    """What is due after the day: of what it makes, from the hours that it has now."""
    canned = [b.id for b in mine.problem.batches if b.process is not None]
    afters = []
    for after in plan.afterwards:
        every = after.later in (CANNER_RUN, SEAL_CHECK)  # also what was taken in since
        of = dict.fromkeys((*after.batches, *(canned if every else ())))
        afters.append(replace(after, batches=tuple(b for b in of if b in here)))
    known = {after.later for after in afters}
    for later in (CANNER_RUN, SEAL_CHECK):  # the morning's plan may have canned nothing
        if later not in known:
            afters.append(After(batches=tuple(canned), later=later))
    due = tuple(after for after in afters if after.batches)
    tasks = after_tasks(plan.day, mine.problem, mine.timetable, due)
    return {"afterwards": due, "after_tasks": tasks}


def as_called(timetable: Timetable, state: RunState) -> Timetable:
    """The same with its loads called as the board at the stove calls them."""
    number = {run.load.id: number_in(run.load.name) for run in state.loads}
    loads = tuple(replace(load, number=number.get(load.id)) for load in timetable.loads)
    return replace(timetable, loads=loads)
