"""State and command to events or a refusal. Pure: no clock, no database."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from stillroom.jar_count import jars_said
from stillroom.refusal import Refusal
from stillroom.running.commands import (
    BeginDay,
    BeginStep,
    BreakJar,
    Command,
    FinishStep,
    LiftLoad,
    MarkBoilLost,
    MarkFullBoil,
    MarkVenting,
    MarkVentingStopped,
    NoteClockSet,
    TakeJarBack,
    TakeLoadBack,
    TakePlan,
    TakeStepBack,
)
from stillroom.running.common_refusals import (
    all_broke,
    clock_of,
    clock_went_back,
    holds_another,
    is_out,
    is_stale,
    look_again,
    span_of,
)
from stillroom.running.events import (
    NOTICED,
    AnyEvent,
    BoilLost,
    ClockSet,
    DayBegun,
    FullBoilReached,
    JarBroke,
    JarIsWhole,
    LoadLifted,
    StepBegun,
    StepDone,
)
from stillroom.running.fold import RunState
from stillroom.running.load_run import LoadRun, Phase
from stillroom.running.load_said_by_mistake import take_load_back
from stillroom.running.rules import (
    CUT_SHORT,
    OUR_RECORD,
    rules_for,
    two_of_one_name,
)
from stillroom.running.said_by_mistake import take_step_back
from stillroom.running.take_plan import take_plan
from stillroom.running.venting import begin_venting, how_vented, stop_venting

CROSSING = timedelta(seconds=2)
"""Commands that came so close may be written in either order."""

Decision = tuple[AnyEvent, ...] | Refusal
NOTHING: tuple[AnyEvent, ...] = ()
"""It is so already: a second tap changes nothing."""


def decide(state: RunState, command: Command) -> Decision:
    """
    Return the events that ``command`` leads to, or why not.

    No events at all means that it is so already: a second tap on the same key.
    """
    if isinstance(command, NoteClockSet):
        return _clock_set(state, command)
    last = state.last_at
    if last is not None and command.at < last and not command.late:
        if last - command.at > CROSSING:
            return clock_went_back(last, command)
        # Two hands at once: the later one was written first, so it is that late now.
        command = replace(command, at=last.astimezone(command.at.tzinfo))
    if isinstance(command, BeginDay):
        return _begin(state, command)
    if state.begun_at is None:
        return Refusal(
            "the day has not been begun",
            instead="begin the day first: that fixes its loads and their process",
            source=OUR_RECORD,
        )
    if command.at < state.begun_at:
        return Refusal(
            f"it was tapped at {clock_of(command.at, command)}, and the day was begun "
            f"at {clock_of(state.begun_at, command)}",
            instead="look at the board as it is now, and tap what holds",
            source=OUR_RECORD,
        )
    if isinstance(command, BeginStep):
        return _begin_step(state, command)
    if isinstance(command, FinishStep):
        return _finish_step(state, command)
    if isinstance(command, TakeStepBack):
        return take_step_back(state, command)
    if isinstance(command, TakePlan):
        return take_plan(state, command)
    run = state.load(command.load)
    if run is None:
        known = ", ".join(each.load.id for each in state.loads) or "none"
        return Refusal(
            f"there is no load {command.load!r} in this run; there are: {known}",
            instead="choose one of these; a plan changed later does not change a run",
            source=OUR_RECORD,
        )
    match command:
        case MarkFullBoil():
            return _full_boil(state, run, command)
        case MarkVenting():
            return begin_venting(state, run, command)
        case MarkVentingStopped():
            return stop_venting(run, command)
        case MarkBoilLost():
            return _boil_lost(run, command)
        case LiftLoad():
            return _lift(run, command)
        case TakeLoadBack():
            return take_load_back(state, run, command)
        case BreakJar():
            return _break_jar(run, command)
        case TakeJarBack():
            return _take_jar_back(run, command)


def _begin(state: RunState, command: BeginDay) -> Decision:
    if state.begun_at is not None:
        if command.seen is not None and command.seen < state.sequence:
            return NOTHING
        return Refusal(
            f"the day was begun at {clock_of(state.begun_at, command)}",
            instead="go on with it: its loads stay as they were when it began",
            source=OUR_RECORD,
        )
    steps = command.plan.timetable.steps if command.plan is not None else ()
    if not (command.loads or steps):
        return Refusal(
            "the plan has no step and no canner load, so there is nothing to begin",
            instead="say in the Kitchen what is wanted, and begin when it has a plan",
            source=OUR_RECORD,
        )
    no = two_of_one_name(command.loads, instead="give each load its own name")
    if no is not None:
        return no
    return (
        DayBegun(
            loads=command.loads,
            batches=command.batches,
            plan=command.plan,
            steps=command.steps,
            kitchen=command.kitchen,
            switched_on=command.switched_on,
            boot=command.boot,
            occurred_at=command.at,
        ),
    )


def _clock_set(state: RunState, command: NoteClockSet) -> Decision:
    """Tell a run by the new clock; once, where two programs noticed it, or a part."""
    known = state.switched_on
    told = known and abs(known - command.switched_on) <= NOTICED
    if state.begun_at is None or told:
        return NOTHING
    by = command.by_since(known, state.boot)
    if abs(by) <= NOTICED:
        return NOTHING
    return (
        ClockSet(
            by_ms=round(by / timedelta(milliseconds=1)),
            switched_on=command.switched_on,
            boot=command.boot,
            occurred_at=command.at,
        ),
    )


def _begin_step(state: RunState, command: BeginStep) -> Decision:
    if (command.batch, command.step) in state.steps_begun | state.steps_done:
        return NOTHING
    return (
        StepBegun(
            batch=command.batch,
            step=command.step,
            late=command.late,
            occurred_at=command.at,
        ),
    )


def _finish_step(state: RunState, command: FinishStep) -> Decision:
    if (command.batch, command.step) in state.steps_done:
        return NOTHING
    return (
        StepDone(
            batch=command.batch,
            step=command.step,
            late=command.late,
            occurred_at=command.at,
        ),
    )


def _full_boil(state: RunState, run: LoadRun, command: MarkFullBoil) -> Decision:
    load, rules = run.load, rules_for(run.load)
    if run.lifted_at is not None:
        return is_out(run, run.lifted_at, command)
    if (no := all_broke(run)) is not None:
        return no
    if run.boiling_since is not None:
        if is_stale(run, command):
            return NOTHING
        return Refusal(
            f"the clock of {load.name} runs since "
            f"{clock_of(run.boiling_since, command)}",
            instead=f"leave it; if the {rules.lost} was lost, say so first, then bring "
            "it back",
            source=str(rules.restarts),
        )
    if is_stale(run, command):
        return look_again(run, command)
    if (no := holds_another(state, run, command)) is not None:
        return no
    return (
        FullBoilReached(
            load=load.id,
            boot=command.boot,
            vented=how_vented(run, command),
            late=command.late,
            occurred_at=command.at,
        ),
    )


def _boil_lost(run: LoadRun, command: MarkBoilLost) -> Decision:
    """
    Until the jars are out a loss is taken at its word, also after the deadline.

    Whoever sees a canner stand still when its time is up cannot tell when it stopped.
    """
    rules = rules_for(run.load)
    if run.lifted_at is not None:
        return Refusal(
            f"{run.load.name} was lifted out at {clock_of(run.lifted_at, command)}",
            instead=f"if its {rules.lost} was lost before that, set those jars apart: "
            "within two hours they may be processed again, with new lids and for the "
            "whole time; after that, discard what is in them",
            source=str(CUT_SHORT),
        )
    if run.boiling_since is None:
        if run.times_lost and is_stale(run, command):
            return NOTHING
        return Refusal(
            f"the clock of {run.load.name} is not running",
            instead=f"{rules.bring}, then start it",
            source=str(rules.starts),
        )
    if is_stale(run, command):
        return look_again(run, command)
    return (BoilLost(load=run.load.id, late=command.late, occurred_at=command.at),)


def _lift(run: LoadRun, command: LiftLoad) -> Decision:
    load, at, rules = run.load, command.at, rules_for(run.load)
    deadline, may_lift_at = run.deadline, run.may_lift_at
    if run.lifted_at is not None:
        return (
            NOTHING if is_stale(run, command) else is_out(run, run.lifted_at, command)
        )
    if run.all_broke:  # no process of it is cut short
        return (LoadLifted(load=load.id, late=command.late, occurred_at=at),)
    if deadline is None or may_lift_at is None or run.boiling_since is None:
        source = rules.restarts if run.times_lost else rules.starts
        return Refusal(
            f"{load.name} has not been processed: "
            + (
                f"its {rules.lost} was lost"
                if run.times_lost
                else "its clock was not started"
            ),
            instead=f"{rules.bring}, start the clock then, and keep it there for the "
            f"whole {load.process_min} min",
            source=f"{source}; {load.source}",
        )
    if_so = f", {rules.if_so}" if rules.if_so else ""
    if run.phase(at) is Phase.BOILING:
        return Refusal(
            f"{load.name} has had {span_of(at - run.boiling_since)} of "
            f"{load.process_min} min {rules.at}",
            instead=f"keep it there until {clock_of(deadline, command)}, then "
            f"{rules.rest}, and lift the jars at "
            f"{clock_of(may_lift_at, command)}{if_so}",
            source=load.source,
        )
    if run.phase(at) is Phase.RESTING:
        return Refusal(
            f"{load.name} has rested {span_of(at - deadline)} of {load.rest_min} min",
            instead=f"{rules.rest}, and lift the jars at "
            f"{clock_of(may_lift_at, command)}{if_so}",
            source=str(rules.rests),
        )
    if is_stale(run, command):
        return look_again(run, command)
    return (LoadLifted(load=load.id, late=command.late, occurred_at=at),)


def _break_jar(run: LoadRun, command: BreakJar) -> Decision:
    """Count one jar less; the load goes on, and its other jars keep their process."""
    if is_stale(run, command):
        return look_again(run, command)
    load = run.load
    batch = command.batch or (load.jars[0][0] if len(load.jars) == 1 else "")
    aboard = dict(load.jars).get(batch, 0)
    if not aboard:
        return Refusal(
            f"it is not known which jar of {load.name} broke",
            instead="say of which batch the jar was: "
            + ", ".join(batch for batch, _ in load.jars),
            source=OUR_RECORD,
        )
    if aboard <= sum(1 for other, _ in run.broken if other == batch):
        return Refusal(
            f"{load.name} had {jars_said(aboard)} of {batch}, "
            f"{'all ' if aboard > 1 else ''}booked as broken",
            instead="look at the load again; there was no jar more",
            source=OUR_RECORD,
        )
    return (
        JarBroke(
            load=load.id, batch=batch, crack=command.crack, occurred_at=command.at
        ),
    )


def _take_jar_back(run: LoadRun, command: TakeJarBack) -> Decision:
    """
    Count one jar more again, that never broke.

    Not of a load that was cleared out because every jar was booked as broken: nobody
    looked at its clock then, and what is whole of it had no process.
    """
    load = run.load
    if all(batch != command.batch for batch, _ in run.broken):
        return NOTHING
    if is_stale(run, command):
        return look_again(run, command)
    if run.lifted_at is not None and run.boiling_since is None:
        return Refusal(
            f"{load.name} was cleared out at {clock_of(run.lifted_at, command)} with "
            "every jar booked as broken, and without its process",
            instead="a jar of it that is whole had no process: book it as that on the "
            "page Jars of your own, and do with it what stands there",
            source=OUR_RECORD,
        )
    return (JarIsWhole(load=load.id, batch=command.batch, occurred_at=command.at),)
