"""
What each pair of hands has to do now and next: the plan, less what is done.

Pure. A load's own lines go away as its clock moves on; a step's when it is said done,
or the jars that it was for are in the canner.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import tzinfo

from stillroom.capital import capital
from stillroom.in_a_list import any_of
from stillroom.jar_count import jars_said
from stillroom.methods.step import Step
from stillroom.planning.begun.as_known import LOWER
from stillroom.planning.begun.warming import HEAT
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.problem import Person, Problem
from stillroom.planning.rinses import as_worked
from stillroom.planning.timetable import Answer, PlacedLoad, PlacedStep, Timetable
from stillroom.planning.words.load_words import (
    LoadWords,
    is_again,
    load_words,
    water_check,
)
from stillroom.running.behind_us import behind_us
from stillroom.running.board import LIFTED, begin_keys
from stillroom.running.card_order import card_order
from stillroom.running.events import BOILING_WATER, RunLoad
from stillroom.running.fold import NOT_BEGUN, RunState
from stillroom.running.load_run import LoadRun
from stillroom.running.rules import ClockRules, rules_for
from stillroom.running.so_far import minute_of
from stillroom.running.stood import stand_by_plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Todo:
    """One thing to do, by the plan."""

    start_min: int
    at: str
    """Clock time by the plan, "9:44"."""
    verb: str
    detail: str = ""
    until: str = ""
    """The sign that ends it."""
    caution: str = ""
    held: bool = False
    """Do not leave it."""
    called_away: str = ""
    """How closely it is watched, and what is done by who must go; empty off a fire."""
    look_in_min: int = 0
    """After so long what is looked in on wants looking at again; else 0. [min]"""
    skill: str = ""
    """What one must be able to do alone for it; empty for jars."""
    end_min: int = 0
    quarters: int = 0
    """How much of one person the plan gives for it, 0 to 4."""
    batch: str = ""
    step: str = ""
    """Empty for jars lowered or lifted: the load's own key says that."""
    begun: bool = False
    """Said to be begun, so that its minutes can be learned."""
    load: str = ""
    """Name of the load whose key says that it is done: "load 2"."""
    key: str = ""
    """That key: "Full boil now"."""
    key_when: str = ""
    """When it is tapped: "it is at a full boil"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hands:
    """One person's work from here on."""

    person: str
    now: Todo | None
    """`None` where nothing is left."""
    then: Todo | None
    """What comes behind ``now``, or behind ``step``."""
    jars: tuple[Todo, ...] = ()
    """Between ``now`` and ``step``: jars to lower or to lift."""
    step: Todo | None = None
    """
    First step behind ``now``, where that is jars.

    Their key is that of the load, and the step may be done before it is time for it.
    """
    could: tuple[tuple[str, Todo], ...] = ()
    """Where nothing is left: the next that others have and she may take over, whose."""


_WATCHED = {
    1: "look in every few minutes",
    2: "stay in the kitchen and watch it",
    3: "stay beside it: a glance at another pot, no more",
}
"""By the quarters of a person that the plan gives for it."""
NO_COLD_GLASS = (
    "Never cold jars into boiling water: the glass cracks. Hot water scalds."
)
"""To who lowers jars. The glass is published of boiling water (Penn State Extension,
Quick process pickles); that hot water scalds is common practice."""
LOOK_IN_MIN = 5
"""How long "every few minutes" is at the most: common practice, no source. [min]"""
_LOOKED_IN_ON = 1
_COULD_AT_MOST = 3


def hands(
    plan: DayPlan | None, state: RunState, zone: tzinfo | None = None
) -> tuple[Hands, ...]:
    """
    Return what everyone has to do now and next; nobody where there is no plan.

    The run's own plan goes before that of the day file, and a load's own clock before
    the hour that the plan has for lifting it. ``zone`` is the kitchen's; without it
    hours are told where the day was begun.
    """
    by = gone_by(plan, state)
    if by is None:
        return ()
    problem, timetable = by
    listed = _todos(problem, timetable, state, zone)
    everyone = []
    for person in problem.people:
        mine = [todo for who, todo in listed if who == person.id]
        mine.sort(key=lambda todo: todo.start_min)  # at one minute as they come
        everyone.append(
            _in_order(person.id, mine)
            if mine
            else replace(_in_order(person.id, mine), could=_could(person, listed))
        )
    return tuple(everyone)


def _could(
    person: Person, listed: list[tuple[str | None, Todo]]
) -> tuple[tuple[str, Todo], ...]:
    """Steps of others that somebody with nothing left does alone, the next first."""
    found = [
        (who, todo)
        for who, todo in listed
        if who is not None
        and todo.skill in {str(skill) for skill in person.skills}
        and todo.quarters <= person.quarters
        and not (todo.begun or todo.held)
        and person.arrives_min <= todo.start_min
        and todo.end_min <= person.leaves_min
    ]
    found.sort(key=lambda each: each[1].start_min)
    return tuple(found[:_COULD_AT_MOST])


def _in_order(person: str, mine: list[Todo]) -> Hands:
    first = next((n for n, todo in enumerate(mine) if todo.step), 0)
    now, then, *_ = (*mine[:1], *mine[first + 1 :], None, None)
    return Hands(
        person=person,
        now=now,
        then=then,
        jars=tuple(mine[1:first]),
        step=mine[first] if first else None,
    )


def has_step(
    plan: DayPlan | None, batch: str, step: str, state: RunState = NOT_BEGUN
) -> bool:
    """Say whether the plan has such a step, or a load for which a canner is lit."""
    by = gone_by(plan, state)
    if by is None:
        return False
    if step == HEAT and any(load.id == batch for load in by[1].loads):
        return True
    return any(
        made.id == batch and any(each.id == step for each in made.steps)
        for made in by[0].batches
    )


def gone_by(plan: DayPlan | None, state: RunState) -> tuple[Problem, Timetable] | None:
    """The plan that a run goes by: its own, before that of the day file."""
    if state.plan is not None:
        return state.plan.problem, state.plan.timetable
    if plan is None or plan.problem is None or not isinstance(plan.answer, Answer):
        return None
    return plan.problem, plan.answer.timetable


def _todos(
    problem: Problem, timetable: Timetable, state: RunState, zone: tzinfo | None
) -> list[tuple[str | None, Todo]]:
    starts_at = problem.starts_at
    worked = as_worked(problem, timetable)
    steps = {(b.id, s.id): s for b in worked.batches for s in b.steps}
    over = behind_us(problem, state)
    stand = stand_by_plan(state, zone)
    listed: list[tuple[str | None, Todo]] = []
    for placed in sorted(timetable.steps, key=card_order(problem)):
        if (placed.batch, placed.step) in over:
            continue
        step = steps[placed.batch, placed.step]
        todo = step_todo(placed, step, starts_at, state)
        if step.burner_w and placed.person and placed.quarters:
            todo = replace(
                todo,
                called_away=_called_away(problem, placed, step),
                look_in_min=_look_in_min(placed),
            )
        listed.append((placed.person, todo))
    for load in timetable.loads:
        again = is_again(load, timetable.loads)
        lift_min = _lift_min(load, problem, state, zone)
        listed += _load_todos(
            load, starts_at, state, lift_min, again=again, stood=stand.get(load.id, "")
        )
    return listed


def _look_in_min(placed: PlacedStep) -> int:
    """After how long it wants looking at again; 0 where it is over by then, or seen."""
    long = placed.end_min - placed.start_min > LOOK_IN_MIN
    return LOOK_IN_MIN if long and placed.quarters == _LOOKED_IN_ON else 0


def _called_away(problem: Problem, placed: PlacedStep, step: Step) -> str:
    """May she leave the fire: how closely it is watched, what is off, who takes it."""
    others = [
        person.id
        for person in problem.people
        if person.id != placed.person
        and str(step.skill) in {str(skill) for skill in person.skills}
        and person.arrives_min <= placed.start_min
        and placed.end_min <= person.leaves_min
    ]
    hand_on = f", or hand it to {any_of(others)}" if others else ""
    watched = _WATCHED.get(placed.quarters)
    called = f"called away: fire off first{hand_on}"
    return capital(f"{watched}; {called}." if watched else f"{called}.")


def _words(load: RunLoad) -> LoadWords:
    """The signs of a load as it is in the run."""
    return load_words(load.pressure_psi, load.process_min, raw=load.raw)


def step_todo(placed: PlacedStep, step: Step, starts_at: str, state: RunState) -> Todo:
    """One step of a batch, in the words of the stove."""
    where = " on ".join(part for part in (placed.pot, placed.burner) if part)
    words = (placed.batch, step.note, where)
    return Todo(
        start_min=placed.start_min,
        at=clock_time(starts_at, placed.start_min),
        verb=step.verb,
        detail=" · ".join(word for word in words if word),
        until=step.end_sign,
        caution=step.caution,
        held=placed.quarters >= 4,
        skill=str(step.skill),
        end_min=placed.end_min,
        quarters=placed.quarters,
        batch=placed.batch,
        step=placed.step,
        begun=(placed.batch, placed.step) in state.steps_begun,
    )


def _lift_min(
    load: PlacedLoad, problem: Problem, state: RunState, zone: tzinfo | None
) -> int:
    """When its jars are lifted: by its clock where that runs, else by the plan."""
    run, begun = state.load(load.id), state.begun_at
    if run is None or run.may_lift_at is None or begun is None:
        return load.lift_min
    here = begun if zone is None else begun.astimezone(zone)
    return minute_of(run.may_lift_at, here, problem)


def _load_todos(
    load: PlacedLoad,
    starts_at: str,
    state: RunState,
    lift_min: int,
    *,
    again: bool,
    stood: str,
) -> list[tuple[str | None, Todo]]:
    """
    Lowering until it boils, lifting until it is out.

    Where the plan that was taken over last has jars in the canner already, what is left
    of them is the boil, at its new hour. ``stood`` says of jars that stand too long
    before they go in what becomes of them.
    """
    run = state.load(load.id)
    if run is not None and (run.lifted_at is not None or run.all_broke):
        return []
    name = run.load.name if run else load.id
    detail = f"{name}, {load.canner}"
    jars = jars_said(run.whole if run else load.count)
    words = _words(run.load) if run is not None else None
    water = water_check(words, again=again) if words is not None else ""
    rules = rules_for(run.load) if run is not None else None
    lift = Todo(
        start_min=lift_min,
        at=clock_time(starts_at, lift_min),
        verb=f"Lift {jars} out",
        detail=detail,
        caution=f"{capital(rules.lid)}." if rules is not None and rules.lid else "",
        load=name,
        key=LIFTED.says,
        key_when="they are out",
    )
    if run is not None and run.has_begun:
        return [(load.lifted_by, lift)]
    if run is not None and run.venting_since is not None:
        return [
            (load.lowered_by, _close_the_vent(load, run, starts_at)),
            (load.lifted_by, lift),
        ]
    is_in = bool(state.taken) and (load.id, LOWER) in state.taken[-1].over
    at_min = load.boil_min if is_in else load.lower_min
    bring = rules.bring if rules is not None else "bring the canner to its process"
    lowering = f"Lower {jars}"
    if run is not None and run.load.method != BOILING_WATER:
        lowering += f", shut the lid, {bring}"  # a vent that is left out is no process
    lower = Todo(
        start_min=at_min,
        at=clock_time(starts_at, at_min),
        verb=capital(bring) if is_in else lowering,
        detail=f"{detail}, {jars} in since "
        f"{clock_time(starts_at, load.lower_min)} by the plan"
        if is_in
        else " · ".join(filter(None, (water, detail))),
        until="" if words is None or is_in else words.lower_until,
        caution=_caution(stood) if run is not None and not is_in else "",
        load=name,
        key=begin_keys(rules)[0].says if rules is not None else "",
        key_when=_first_when(rules) if rules is not None else "",
    )
    return [(load.lowered_by, lower), (load.lifted_by, lift)]


def _caution(stood: str) -> str:
    """What is to be minded of jars on their way in; first, that they are not canned."""
    return f"{capital(stood)}. {NO_COLD_GLASS}" if stood else NO_COLD_GLASS


def _first_when(rules: ClockRules) -> str:
    """When the first key of a load is tapped: that of its vent, where it has one."""
    if rules.vents is not None:
        return "steam streams steadily from the open vent"
    return f"it is {rules.at}"


def _close_the_vent(load: PlacedLoad, run: LoadRun, starts_at: str) -> Todo:
    """What comes between the vent clock and that of the process."""
    rules = rules_for(run.load)
    return Todo(
        start_min=load.boil_min,
        at=clock_time(starts_at, load.boil_min),
        verb=f"When its vent clock has run out, {rules.close}",
        detail=f"{run.load.name}, {load.canner}",
        load=run.load.name,
        key=rules.reached,
        key_when=f"it is {rules.at}",
    )
