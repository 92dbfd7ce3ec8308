"""
The search: a full hint from a plan that is there already, then stage after stage.

A day of few steps is one search, which ends with a proof. A larger one is first asked
for plans that end so much sooner, all of it free (`aimed`), and then parts of the best
one are set free in turn (`improve`); a batch that is not split in the start stays whole
there, so that nothing is proven by it. Wall-clock limits are never deterministic: with
``deterministic`` work is counted in their place, and the plan is the same again.
"""

from __future__ import annotations

import time
from collections import Counter
from dataclasses import replace

from ortools.sat.python import cp_model

from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.cpsat import objective
from stillroom.planning.cpsat.aimed import search_aimed
from stillroom.planning.cpsat.constraints import add_rules
from stillroom.planning.cpsat.improve import Effort, improve
from stillroom.planning.cpsat.reading import hints_of, timetable_of
from stillroom.planning.cpsat.search import Search, SearchResult
from stillroom.planning.cpsat.solving import new_solver, solved
from stillroom.planning.cpsat.stages import held_at_first, stages_after
from stillroom.planning.cpsat.variables import (
    DayModel,
    Expr,
    make_variables,
    slots_needed,
)
from stillroom.planning.cpsat.watcher import Better, Watcher
from stillroom.planning.cpsat.whole import Answered, answered, search_whole
from stillroom.planning.goal_order import Goal
from stillroom.planning.how_good.lateness import score, weighted_lateness
from stillroom.planning.how_good.other_hands import in_calmer_hands
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

__all__ = [
    "FEW_STEPS",
    "Search",
    "SearchResult",
    "day_model",
    "find_timetable",
    "hint_fully",
    "is_small",
]

FEW_STEPS = 70
"""Up to so many steps are searched as one whole, for the sake of the proof."""
SHARE_OF_TIDYING = 0.2
"""Of all time, kept back for the stages after the first."""
LEAST_TIDYING_S, MOST_TIDYING_S = 1.25, 6.0
SHARE_AIMED = 0.4
"""Of what is left, for plans asked for with all of the day free; then come parts."""
SHARE_STILL_LATE = 0.7
"""Of the rest, once more for these, where a want is late even then."""
AGAIN_A_VARIABLE_S = 6e-4
"""With less of it for each variable it finds nothing, and parts get further. [s]"""
OTHER_SEEDS = 500
"""Added to the seed, or the same would be asked with the same luck."""
LEAST_AIMED_S = 0.3
"""In less time such a plan is hardly ever found, and all of it is left to parts."""
LEAST_STAGE_S = 0.05
BEGAN_ANEW = (
    "the search could not begin with the plan at hand, and began without one: with "
    "more seconds a better plan may be found"
)
"""By the clock, where the time was over while the plan was handed over."""
CAME_TO_NOTHING = "the search came to nothing, and the plan at hand stands"


def find_timetable(
    problem: Problem,
    start: Timetable | None,
    search: Search,
    *,
    on_better: Better | None = None,
    began: float | None = None,
    least: int | None = None,
) -> SearchResult:
    """
    Search for the best timetable of a day.

    Parameters
    ----------
    problem : Problem
        A day whose links and names hold together.
    start : Timetable or None
        A plan that holds, to begin with.
    search : Search
        Time, workers, seed.
    on_better : callable, optional
        Called with each better timetable and the bound.
    began : float, optional
        `time.monotonic` that the trace counts from.
    least : int, optional
        A bound on the finish that is known already. [min]

    Returns
    -------
    SearchResult
        The best plan, and what is proven.
    """
    clock = time.monotonic() if began is None else began
    least = lower_bound_min(problem) if least is None else least
    found = SearchResult(timetable=start, bound=least)
    day = day_model(problem, start, least)
    known = None if start is None else hint_fully(day, hints_of(day, start), search)
    if start is not None and known is None:
        found.remarks.append(BEGAN_ANEW)
    goal = objective.end_and_lateness(day)
    day.model.minimize(goal)
    left = search.left()
    in_parts = known is not None and not is_small(problem)
    watcher = Watcher(day, found, on_better, clock, proves=not in_parts)
    proven = False
    if known is not None and in_parts:
        known, found.unused_s = _in_parts(day, known, search, watcher, left)
    else:
        allowed = left - kept_back(left)
        if search.deterministic:
            whole = search_whole(day, goal, known, search, allowed, callback=watcher)
            watcher.raise_failed()
        else:
            whole = _run(day, search, allowed, watcher)
        if whole.status == cp_model.INFEASIBLE:
            found.impossible = start is None
            if start is not None:
                found.remarks.append(CAME_TO_NOTHING)
            return found
        found.bound = max(found.bound, whole.bound)
        if whole.status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            known = whole.solver
        proven = whole.status == cp_model.OPTIMAL
    if known is None:
        return found
    found.timetable = timetable_of(day, known.value)
    best = score(problem, found.timetable)
    if proven:
        found.bound = best
    found.trace.append((time.monotonic() - clock, best, found.bound))
    _tidy(day, found, known, search)
    return found


def _whole(
    day: DayModel,
    goal: Expr,
    known: cp_model.CpSolver,
    search: Search,
    seconds: float,
    unit: int | None,
) -> Answered:
    """One of the later goals of a small day, by work or by the clock."""
    if search.deterministic:
        return search_whole(day, goal, known, search, seconds, unit=unit)
    return _run(day, search, seconds)


def _keep_whole(day: DayModel, known: cp_model.CpSolver) -> None:
    """Batches that ride in one load do so from now on: it hardly ever pays to split."""
    for batch in day.problem.batches:
        rides = [s.aboard[batch.id] for s in day.all_slots() if batch.id in s.aboard]
        if rides and sum(known.value(literal) for literal in rides) == 1:
            day.model.add_exactly_one(rides)


def is_small(problem: Problem) -> bool:
    """Whether the day is searched as one whole, with a proof at the end."""
    return sum(len(b.steps) for b in problem.batches) <= FEW_STEPS


def kept_back(seconds: float) -> float:
    """Seconds for the stages after the first; never more than half."""
    tidying = max(LEAST_TIDYING_S, SHARE_OF_TIDYING * seconds)
    return min(tidying, MOST_TIDYING_S, seconds / 2)


def _effort(search: Search, seconds: float) -> Effort:
    if search.deterministic:
        at_last = search.latest
        return Effort(at_last, search.workers, search.seed, seconds, search.cut)
    until = time.monotonic() + max(LEAST_STAGE_S, seconds)
    return Effort(until, search.workers, search.seed)


def _in_parts(
    day: DayModel,
    known: cp_model.CpSolver,
    search: Search,
    watcher: Watcher,
    seconds: float,
) -> tuple[cp_model.CpSolver, float]:
    """
    The first stage of a large day, part by part, and what it leaves of its seconds.

    Loads and splits are in the goal too, with less weight than one minute: they choose
    between plans that end at once, and so keep the search moving. Where no part brings
    anything any more, half of what is left is for one more look at all of the day.
    """
    _keep_whole(day, known)
    watcher.on_part(known)
    for_tidying = kept_back(seconds)
    left = (seconds if search.deterministic else search.left()) - for_tidying
    aimed_s = SHARE_AIMED * left
    ends, floor = objective.end_and_lateness(day), watcher.found.bound
    told = watcher.on_part
    if aimed_s >= LEAST_AIMED_S:
        known = search_aimed(day, ends, known, floor, search, aimed_s, told)
        left -= aimed_s
        again_s = SHARE_STILL_LATE * left
        least_s = AGAIN_A_VARIABLE_S * len(day.model.proto.variables)
        if _is_late(day, known) and again_s >= max(LEAST_AIMED_S, least_s):
            other = replace(search, seed=search.seed + OTHER_SEEDS)
            known = search_aimed(day, ends, known, floor, other, again_s, told)
            left -= again_s
    minute = objective.most_loads_and_splits(day) + 1
    tidy = objective.loads_and_splits(day)
    goal = minute * objective.end_and_lateness(day)
    if tidy is not None:
        goal += tidy
    day.model.minimize(goal)
    if not search.deterministic:
        left = search.left() - for_tidying
    effort = _effort(search, left)
    known = improve(day, goal, known, effort, unit=minute, on_better=told)
    left = effort.left_s
    if left / 2 >= LEAST_AIMED_S and known.value(ends) > floor:
        known = search_aimed(day, ends, known, floor, search, left / 2, told)
        left /= 2
    return known, left


def _is_late(day: DayModel, known: cp_model.CpSolver) -> bool:
    """Whether a plan is late on a want."""
    return any(known.value(minutes) > 0 for _, minutes in day.late)


def day_model(problem: Problem, start: Timetable | None, least: int) -> DayModel:
    """
    Model of a day with all of its rules.

    Parameters
    ----------
    problem : Problem
        The day.
    start : Timetable or None
        A plan that the model must have room for, its loads among all.
    least : int
        No plan ends before this minute. [min]
    """
    used = Counter(load.canner for load in start.loads) if start else Counter[str]()
    slots = slots_needed(problem, used)
    horizon = problem.horizon_min
    day = make_variables(problem, horizon=horizon, slots=slots, earliest_finish=least)
    add_rules(day)
    return day


def _run(
    day: DayModel,
    search: Search,
    seconds: float,
    callback: cp_model.CpSolverSolutionCallback | None = None,
) -> Answered:
    solver = new_solver()
    parameters = solver.parameters
    parameters.num_workers = search.workers
    parameters.random_seed = search.seed
    parameters.max_time_in_seconds = max(LEAST_STAGE_S, seconds)
    if isinstance(callback, Watcher):
        solver.best_bound_callback = callback.on_bound
    try:
        status = solved(solver, day.model, callback)
    except IndexError:  # the solver's own search for symmetry fails on a few models
        parameters.symmetry_level = 0
        status = solved(solver, day.model, callback)
    if isinstance(callback, Watcher):
        callback.raise_failed()
    return answered(solver, int(status))


def hint_fully(
    day: DayModel, hints: list[tuple[cp_model.IntVar, int]], search: Search
) -> cp_model.CpSolver | None:
    """
    Fill in what follows from a hint, so that every variable has its value.

    Returns the solver that knows them all; `None` where the hint breaks a rule.
    """
    day.model.clear_hints()  # type: ignore[no-untyped-call]
    for var, value in hints:
        day.model.add_hint(var, value)
    solver = new_solver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = search.seed
    solver.parameters.symmetry_level = 0
    solver.parameters.fix_variables_to_their_hinted_value = True
    left = max(LEAST_STAGE_S, min(2.0, search.left()))
    if search.deterministic:
        left = search.wall_s()
    solver.parameters.max_time_in_seconds = left
    status = solved(solver, day.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        day.model.clear_hints()  # type: ignore[no-untyped-call]
        return None
    _hint_solution(day, solver)
    return solver


def _hint_solution(day: DayModel, solver: cp_model.CpSolver) -> None:
    day.model.clear_hints()  # type: ignore[no-untyped-call]
    for index, value in enumerate(solver.response_proto.solution):
        day.model.add_hint(day.model.get_int_var_from_proto_index(index), value)


def _tidy(
    day: DayModel, found: SearchResult, known: cp_model.CpSolver, search: Search
) -> None:
    """
    The goals after the first search, one by one, in the keeper's order.

    Counted work is shared out like the time: a goal has its share of what those before
    it left over. What is proven, or cannot get smaller, takes next to none.
    """
    assert found.timetable is not None
    problem = day.problem
    late = weighted_lateness(problem, found.timetable)
    held = held_at_first(day, found.timetable.finish_min, late)
    few = is_small(problem)
    work = kept_back(search.seconds)
    stages = stages_after(day, held)
    while stages:
        stage, *rest = stages
        share, stages = stage.share / sum(s.share for s in stages), rest
        if search.left() < 2 * LEAST_STAGE_S:
            return
        if stage.goal is Goal.ONE_MOMENT:
            known = _in_calmer_hands(day, known, search)
        goal = stage.make(day)
        if goal is None:
            continue
        if stage.adds_variables:
            again = _with_new_variables(day, known, search)
            if again is None:
                return
            known = again
        day.model.minimize(goal)
        seconds = (work if search.deterministic else search.left()) * share
        if few:
            _hint_solution(day, known)
            unit = 1 if stage.in_minutes else None
            later = _whole(day, goal, known, search, seconds, unit)
            if later.status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                return
            known, searched = later.solver, later.status == cp_model.FEASIBLE
        else:
            floor = stage.floor(day)
            searched = known.value(goal) > floor
            unit = 1 if stage.in_minutes else None
            effort = _effort(search, seconds)
            known = improve(day, goal, known, effort, floor=floor, unit=unit)
        work -= seconds if searched else 0.0
        found.timetable = timetable_of(day, known.value)
        day.model.add(goal <= known.value(goal))


def _in_calmer_hands(
    day: DayModel, known: cp_model.CpSolver, search: Search
) -> cp_model.CpSolver:
    """The same plan with fewer hurried moments, as far as other hands can do that."""
    plan = timetable_of(day, known.value)
    calmer = in_calmer_hands(day.problem, plan, is_over=lambda: search.left() <= 0)
    day.model.clear_objective()  # type: ignore[no-untyped-call]
    return hint_fully(day, hints_of(day, calmer), search) or known


def _with_new_variables(
    day: DayModel, known: cp_model.CpSolver, search: Search
) -> cp_model.CpSolver | None:
    """The same plan with values for variables that were added since."""
    hints = [
        (day.model.get_int_var_from_proto_index(i), v)
        for i, v in enumerate(known.response_proto.solution)
    ]
    day.model.clear_objective()  # type: ignore[no-untyped-call]
    return hint_fully(day, hints, search)
