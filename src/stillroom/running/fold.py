"""
Events to the state of the run: pure, the same on every machine and after every restart.

A clock is no counter: it is a deadline that follows from when the boil was reached.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from functools import reduce

from stillroom.planning.problem import Want
from stillroom.running.events import (
    AnyEvent,
    BoilLost,
    ClockSet,
    DayBegun,
    FullBoilReached,
    JarBroke,
    JarIsWhole,
    KeptPlan,
    LoadLifted,
    LoadTakenBack,
    PlanTaken,
    RunBatch,
    RunLoad,
    StepBegun,
    StepDone,
    StepTakenBack,
    VentingBegun,
    VentingStopped,
)
from stillroom.running.load_run import LoadRun


@dataclass(frozen=True, slots=True, kw_only=True)
class RunState:
    """The whole run; nothing in it but what the events say."""

    begun_at: datetime | None = None
    loads: tuple[LoadRun, ...] = ()
    batches: tuple[RunBatch, ...] = ()
    steps_begun: frozenset[tuple[str, str]] = frozenset()
    steps_done: frozenset[tuple[str, str]] = frozenset()
    begun_steps: tuple[tuple[str, str, datetime], ...] = ()
    """(batch, step, when) of each step that was said begun, in that order."""
    done_at: tuple[tuple[str, str, datetime], ...] = ()
    """(batch, step, when) of each step that was said done, in that order."""
    plan: KeptPlan | None = None
    """What the run goes by now; `None` in a run of before plans were kept."""
    promised: tuple[Want, ...] = ()
    """By an hour, in any of its plans: what was given up since is promised still."""
    taken: tuple[PlanTaken, ...] = ()
    """Plans that were taken over since the day was begun; the last one holds."""
    clock_sets: tuple[ClockSet, ...] = ()
    """Each time that the computer's clock was set while the day went on."""
    switched_on: datetime | None = None
    """When the computer was switched on, by the clock that tells the run now."""
    boot: str = ""
    """Name of that start of the computer."""
    last_at: datetime | None = None
    """The latest time of any event; one that came late lies before it."""
    sequence: int = 0
    """Events folded."""

    @property
    def clock_set(self) -> ClockSet | None:
        """When the computer's clock was last set, if it was."""
        return self.clock_sets[-1] if self.clock_sets else None

    def earliest(self, at: datetime) -> datetime:
        """
        Return the earliest that a moment of it, told by the clock now, may have been.

        A computer inside another one stands still while that sleeps, and is set on
        when it wakes: its clock was right all along, and the hours went by. Which
        settings were such is not known, so each that was on is taken to be one.
        """
        was = first = at.astimezone(UTC)
        for clock_set in reversed(self.clock_sets):
            by = clock_set.has_moved(was)
            was -= by
            first -= max(by, timedelta())
        return first.astimezone(at.tzinfo)

    def load(self, load_id: str) -> LoadRun | None:
        """Return the load of that id, or `None`."""
        return next((run for run in self.loads if run.load.id == load_id), None)

    @property
    def on_the_fire(self) -> tuple[LoadRun, ...]:
        """Loads that have been at a full boil and are not out yet."""
        return tuple(
            run for run in self.loads if run.lifted_at is None and run.has_begun
        )

    @property
    def in_canners(self) -> tuple[LoadRun, ...]:
        """Loads that vent, or have begun, and are not out yet."""
        return tuple(run for run in self.loads if run.lifted_at is None and run.is_in)

    @property
    def lifted(self) -> tuple[LoadRun, ...]:
        """Loads that are out."""
        return tuple(run for run in self.loads if run.lifted_at is not None)


NOT_BEGUN = RunState()


def fold(events: Iterable[AnyEvent], state: RunState = NOT_BEGUN) -> RunState:
    """
    Return the state that the events lead to, going on from ``state``.

    Examples
    --------
    >>> fold([]) == NOT_BEGUN
    True
    """
    return reduce(after, events, state)


def after(state: RunState, event: AnyEvent) -> RunState:
    """Return the state after one more event."""
    if isinstance(event, ClockSet):
        state = _told_anew(state, event)
    sequence, last_at = state.sequence + 1, event.occurred_at
    if state.last_at is not None:
        last_at = max(last_at, state.last_at)
    state = replace(state, sequence=sequence, last_at=last_at)
    match event:
        case DayBegun(loads=loads, batches=batches, plan=plan, occurred_at=at):
            return replace(
                state,
                begun_at=at,
                switched_on=event.switched_on,
                boot=event.boot,
                batches=batches,
                plan=plan,
                promised=() if plan is None else plan.problem.wants,
                loads=tuple(LoadRun(load=load, changed=sequence) for load in loads),
            )
        case VentingBegun(load=load, boot=boot, occurred_at=at, late=late):
            return _touch(
                state,
                load,
                lambda run: replace(
                    run, venting_since=at, boot=boot, late=run.late or late
                ),
            )
        case VentingStopped(load=load, late=late):
            return _touch(
                state,
                load,
                lambda run: replace(run, venting_since=None, late=run.late or late),
            )
        case FullBoilReached(load=load, boot=boot, occurred_at=at, late=late):
            return _touch(
                state,
                load,
                lambda run: replace(
                    run,
                    boiling_since=at,
                    boot=boot,
                    vented=event.vented,
                    late=run.late or late,
                ),
            )
        case BoilLost(load=load, late=late):
            return _touch(
                state,
                load,
                lambda run: replace(
                    run,
                    venting_since=None,
                    vented="",
                    boiling_since=None,
                    times_lost=run.times_lost + 1,
                    late=run.late or late,
                ),
            )
        case LoadLifted(load=load, occurred_at=at, late=late):
            return _touch(
                state,
                load,
                lambda run: replace(run, lifted_at=at, late=run.late or late),
            )
        case LoadTakenBack(load=load, was="lifted"):
            return _touch(state, load, lambda run: replace(run, lifted_at=None))
        case LoadTakenBack(load=load):  # of which start its vent clock was: not known
            return _touch(
                state,
                load,
                lambda run: replace(run, boiling_since=None, vented="", boot=""),
            )
        case StepBegun(batch=batch, step=step, occurred_at=at):
            return replace(
                state,
                steps_begun=state.steps_begun | {(batch, step)},
                begun_steps=(*state.begun_steps, (batch, step, at)),
            )
        case StepDone(batch=batch, step=step, occurred_at=at):
            return replace(
                state,
                steps_done=state.steps_done | {(batch, step)},
                done_at=(*state.done_at, (batch, step, at)),
            )
        case StepTakenBack(batch=batch, step=step, was="begun"):
            return replace(
                state,
                steps_begun=state.steps_begun - {(batch, step)},
                begun_steps=_without(state.begun_steps, batch, step),
            )
        case StepTakenBack(batch=batch, step=step):
            return replace(
                state,
                steps_done=state.steps_done - {(batch, step)},
                done_at=_without(state.done_at, batch, step),
            )
        case JarBroke(load=load, batch=batch, crack=crack):
            return _touch(
                state,
                load,
                lambda run: replace(run, broken=(*run.broken, (batch, crack))),
            )
        case JarIsWhole(load=load, batch=batch):
            return _touch(
                state,
                load,
                lambda run: replace(run, broken=_one_whole(run.broken, batch)),
            )
        case PlanTaken(plan=plan, loads=loads, over=over, taken_in=taken_in):
            known = {batch.id for batch in state.batches}
            more = tuple(batch for batch in taken_in if batch.id not in known)
            return replace(
                state,
                batches=(*state.batches, *more),
                steps_done=state.steps_done | {*over},
                plan=plan,
                promised=_promised(state.promised, plan.problem.wants),
                taken=(*state.taken, event),
                loads=tuple(_load_again(load, state) for load in loads),
            )
        case ClockSet():
            return replace(
                state,
                clock_sets=(*state.clock_sets, event),
                switched_on=event.switched_on,
                boot=event.boot,
            )


def _told_anew(state: RunState, event: ClockSet) -> RunState:
    """Every moment of a run as the clock shows it that was set since."""
    anew = event.anew

    def anew_or_none(at: datetime | None) -> datetime | None:
        return None if at is None else anew(at)

    return replace(
        state,
        begun_at=anew_or_none(state.begun_at),
        last_at=anew_or_none(state.last_at),
        begun_steps=tuple((b, s, anew(at)) for b, s, at in state.begun_steps),
        done_at=tuple((b, s, anew(at)) for b, s, at in state.done_at),
        taken=tuple(
            replace(taken, occurred_at=anew(taken.occurred_at)) for taken in state.taken
        ),
        loads=tuple(
            replace(
                run,
                venting_since=anew_or_none(run.venting_since),
                boiling_since=anew_or_none(run.boiling_since),
                lifted_at=anew_or_none(run.lifted_at),
            )
            for run in state.loads
        ),
    )


def _promised(before: tuple[Want, ...], now: tuple[Want, ...]) -> tuple[Want, ...]:
    """What was promised, and what is promised more since: a batch was taken in."""
    known = {want.product for want in before}
    return (*before, *(want for want in now if want.product not in known))


def _without(
    told: tuple[tuple[str, str, datetime], ...], batch: str, step: str
) -> tuple[tuple[str, str, datetime], ...]:
    """What was told, but for a step of a batch."""
    return tuple(one for one in told if one[:2] != (batch, step))


def _one_whole(
    broken: tuple[tuple[str, str], ...], batch: str
) -> tuple[tuple[str, str], ...]:
    """What broke, but for the jar of a batch that was booked last."""
    at = max(n for n, (other, _) in enumerate(broken) if other == batch)
    return (*broken[:at], *broken[at + 1 :])


def _load_again(load: RunLoad, state: RunState) -> LoadRun:
    """A load of a new plan; one that is on its clock, or out, is as it was."""
    known = state.load(load.id)
    if known is not None and (known.lifted_at or known.has_begun):
        return known
    if known is None or known.load.jars != load.jars:
        return LoadRun(load=load, changed=state.sequence)
    if known.load.canner != load.canner:
        return LoadRun(load=load, broken=known.broken, changed=state.sequence)
    return replace(known, load=load, changed=state.sequence)


def _touch(
    state: RunState, load_id: str, change: Callable[[LoadRun], LoadRun]
) -> RunState:
    """Change one load, and note which event did it."""
    return replace(
        state,
        loads=tuple(
            replace(change(run), changed=state.sequence)
            if run.load.id == load_id
            else run
            for run in state.loads
        ),
    )
