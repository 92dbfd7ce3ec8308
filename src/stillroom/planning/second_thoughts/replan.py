"""
Second thoughts: the rest of a day planned again from what has happened, changed least.

The past is fixed, running clocks are kept, promised minutes move as little as they can.
Two searches: any plan for the rest, then the one of least change. Where none is found
in time, the old order is put off, and what that breaks is said.
"""

from __future__ import annotations

import time
from dataclasses import replace

from stillroom.planning.answering import BrokenPlan
from stillroom.planning.begun.other_tools import in_other_tools
from stillroom.planning.begun.put_off import PutOff, put_off, timetable_put_off
from stillroom.planning.begun.residual import NOW, Residual, residual_of
from stillroom.planning.begun.weak_fires import Borne, borne_by_their_fires
from stillroom.planning.cpsat.replan_goal import BROKEN_POINTS, END_POINTS
from stillroom.planning.cpsat.replan_model import rest_model
from stillroom.planning.cpsat.replan_search import solve_rest
from stillroom.planning.cpsat.rest import RestPlan
from stillroom.planning.happened import Happened
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check_replan import replan_breaches
from stillroom.planning.judge.check_waits import waits_over
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import rinsable, waiting_rinsed, washed_where_asked
from stillroom.planning.second_thoughts.limits_over import (
    lifts_and_rests_said,
    over_said,
)
from stillroom.planning.second_thoughts.moves import moves_between, open_steps
from stillroom.planning.second_thoughts.put_off_breaks import (
    lifted_late_min,
    stays_on,
    what_gives_way,
)
from stillroom.planning.second_thoughts.replanned import PUT_OFF, Replanned
from stillroom.planning.second_thoughts.same_loads import numbered_by_their_jars
from stillroom.planning.second_thoughts.tools_kept import with_tools_kept
from stillroom.planning.timetable import PlacedLoad, Timetable

SECONDS = 2.0
KEPT_BACK_S = 0.2
"""For names and judgement after the search. [s]"""
SOLVED = "solver"


def replan(
    problem: Problem,
    old: Timetable,
    happened: Happened,
    *,
    seconds: float = SECONDS,
    workers: int = 2,
    seed: int = 1,
    promised_min: int | None = None,
    firm: frozenset[str] = frozenset(),
) -> Replanned:
    """
    Return the rest of a day planned again.

    Parameters
    ----------
    problem : Problem
        The day; people may come and go at other times than in the old plan.
    old : Timetable
        The plan so far.
    happened : Happened
        What has begun; see `begun.as_planned`.
    seconds : float
        For everything. [s]
    workers : int
        Search threads.
    seed : int
        Of the search.
    promised_min : int, optional
        The end that was said before, where ``old`` had something left out since.
    firm : frozenset of str
        People who do not stay longer than they are there.

    Raises
    ------
    BrokenPlan
        If the new plan breaks a rule that it does not name: a mistake of the planner.
    """
    began = time.monotonic()
    taken = in_other_tools(problem, old, happened)
    found = _rest_of(
        borne_by_their_fires(problem, taken.happened),
        taken.old,
        taken.happened,
        began=began,
        seconds=seconds,
        workers=workers,
        seed=seed,
        promised_min=promised_min,
        firm=firm,
    )
    return replace(found, problem=problem, guesses=taken.guesses)


def _rest_of(
    borne: Borne,
    old: Timetable,
    happened: Happened,
    *,
    began: float,
    seconds: float,
    workers: int,
    seed: int,
    promised_min: int | None,
    firm: frozenset[str],
) -> Replanned:
    """The same, with nothing that has begun in one pot or on one fire with another."""
    problem = borne.problem
    happened = _rinsed_in_vain(problem, old, happened)
    old = washed_where_asked(problem, old)
    later = put_off(problem, old, happened)
    residual = residual_of(problem, happened, later.unkept)
    residual.stays_on.update(borne.stays_on)
    left = {b.id for b in residual.problem.batches}
    waiting = waiting_rinsed(problem, old, happened.begun)
    residual.rinsed = tuple(w for w in waiting if w.batch in left)
    under_way = any(load.out_min > happened.now_min for load in happened.loads)
    if not residual.problem.batches and not under_way:  # breaks may be left, no work
        found = _put_off(problem, old, happened, later, began, firm)
        return replace(found, made_by=SOLVED, proven=True, promised_min=promised_min)
    model = rest_model(residual, happened, old, later, firm)
    until = began + seconds - KEPT_BACK_S
    rest = solve_rest(model, until=until, workers=workers, seed=seed)
    if rest is None:
        found = _put_off(problem, old, happened, later, began, firm)
        return replace(found, promised_min=promised_min, found_none=True)
    new = _whole(residual, happened, old, rest)
    lifted_late = {**rest.lifted_late, **_late_by_now(problem, happened, new)}
    longer = _longer_than_said(problem, new)
    ends_later = max(0, new.finish_min - problem.horizon_min)
    wrong = replan_breaches(
        problem,
        happened,
        new,
        longer_min=longer,
        ends_later_min=ends_later,
        more_places=rest.places,
        given_way=rest.waits,
        lifted_late=lifted_late,
        rests_late=rest.rests_late,
    )
    if wrong:
        raise BrokenPlan(*(one.said for one in wrong))
    # of waits and hours the minutes are those that the judge counts in the timetable
    broken = [
        *lifts_and_rests_said(lifted_late, rest.rests_late),
        *over_said(problem, waits_over(problem, happened, new)),
    ]
    found = Replanned(
        problem=problem,
        happened=happened,
        old=old,
        new=new,
        moves=moves_between(happened, old, new),
        open_steps=open_steps(happened, old),
        broken=tuple(sorted(broken, key=lambda b: -b[1])),
        longer_min=longer,
        more_places=rest.places,
        made_by=SOLVED,
        proven=rest.proven,
        seconds=time.monotonic() - began,
        old_order=rest.old_order,
        promised_min=promised_min,
    )
    if rest.proven:
        return found
    kept = _put_off(problem, old, happened, later, began, firm)
    if not kept.workable or points(kept) >= points(found):
        return replace(found, seconds=time.monotonic() - began)
    return replace(kept, promised_min=promised_min, old_order=rest.old_order)


def points(found: Replanned) -> int:
    """Return how bad a plan is, as the search weighs it: its end, what gives way."""
    over = found.past_the_end_min + found.more_places
    over += sum(stays_on(found.problem, found.new).values())
    over += sum(minutes for _, minutes in found.broken)
    return END_POINTS * score(found.problem, found.new) + BROKEN_POINTS * over


def _rinsed_in_vain(problem: Problem, old: Timetable, happened: Happened) -> Happened:
    """
    What was rinsed for a batch that is left out since is still to be washed.

    The rinse counts as not begun: the pot or mill is not free before a wash.
    """
    enough = rinsable(problem, old)
    steps = tuple(
        s for s in happened.steps if not s.rinsed or (s.batch, s.step) in enough
    )
    return replace(happened, steps=steps)


def _late_by_now(
    problem: Problem, happened: Happened, new: Timetable
) -> dict[str, int]:
    """Loads to be lifted at once, for which even that is too late by now. [min]"""
    lift = {load.id: load.lift_min for load in new.loads}
    waiting = {x.id for x in happened.loads if lift[x.id] >= happened.now_min}
    late = lifted_late_min(problem, new)
    return {load: over for load, over in late if load in waiting}


def _longer_than_said(problem: Problem, new: Timetable) -> dict[str, int]:
    """Who works after leaving, in the past too; who stays to the end does not count."""
    over = stays_on(problem, new)
    gone = (p.id for p in problem.people if p.leaves_min < problem.horizon_min)
    return {name: over[name] for name in gone if over[name]}


def _whole(
    residual: Residual, happened: Happened, old: Timetable, rest: RestPlan
) -> Timetable:
    """What has begun, and the rest, as one day."""
    named = with_tools_kept(residual, rest.timetable, old, happened.now_min)
    begun = happened.begun
    steps = [s for s in named.steps if s.step != NOW and (s.batch, s.step) not in begun]
    steps = [*happened.steps, *steps]
    steps.sort(key=lambda s: (s.start_min, s.batch, s.end_min))
    loads = [_begun_load(load, happened, rest) for load in happened.loads]
    loads += _numbered(named.loads, happened, old)
    loads.sort(key=lambda load: (load.lower_min, load.id))
    breaks = (*happened.breaks, *named.breaks)
    return Timetable(steps=tuple(steps), loads=tuple(loads), breaks=breaks)


def _begun_load(load: PlacedLoad, happened: Happened, rest: RestPlan) -> PlacedLoad:
    lift, by = rest.lifts.get(load.id, (load.lift_min, None))
    fire = rest.hot_after.get(load.id, max(load.done_min, 0))
    if load.fire_free_min < happened.now_min:  # it is off, or was kept on, already
        fire = load.fire_free_min
    return replace(
        load,
        lift_min=lift,
        out_min=lift + load.out_min - load.lift_min,
        lifted_by=by or load.lifted_by,
        fire_free_min=fire,
    )


def _numbered(
    loads: tuple[PlacedLoad, ...], happened: Happened, old: Timetable
) -> list[PlacedLoad]:
    """Loads to come, numbered as their jars were, beside those that have begun."""
    begun = {load.id for load in happened.loads}
    to_come = [load for load in old.loads if load.id not in begun]
    return [
        replace(load, heat_min=load.lower_min if load.hot else load.heat_min)
        for load in numbered_by_their_jars(loads, to_come, begun)
    ]


def _put_off(
    problem: Problem,
    old: Timetable,
    happened: Happened,
    later: PutOff,
    began: float,
    firm: frozenset[str],
) -> Replanned:
    """The old order, each thing later; what that breaks is said, nothing is hidden."""
    new = timetable_put_off(old, happened, later)
    gives = what_gives_way(problem, happened, new, firm)
    return Replanned(
        problem=problem,
        happened=happened,
        old=old,
        new=new,
        moves=moves_between(happened, old, new),
        open_steps=open_steps(happened, old),
        broken=gives.broken,
        longer_min=gives.longer_min,
        workable=gives.workable,
        more_places=0,
        made_by=PUT_OFF,
        proven=False,
        seconds=time.monotonic() - began,
    )
