"""
When nothing fits: which rules cannot hold together, and how little would have to give.

Only what people can change is put to question: when someone comes and leaves, breaks,
absences, the counter, the end of the day. Physics and safety are not for sale.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from stillroom.planning.bounds import lower_bound_min
from stillroom.planning.by_hand import by_hand
from stillroom.planning.cpsat.constraints import add_rules
from stillroom.planning.cpsat.people import Guards
from stillroom.planning.cpsat.reading import hints_of
from stillroom.planning.cpsat.solve import Search, hint_fully
from stillroom.planning.cpsat.variables import Day, make_variables, slots_needed
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

LONGER_DAY_MIN = 720
"""How much longer a day is thought to be while asking what would have to give."""
LEAST_CHECK_S = 0.2


@dataclass(frozen=True, slots=True)
class Clash:
    """Rules that cannot hold together."""

    rules: tuple[str, ...]
    minimal: bool
    """Each of them was seen to matter."""
    whatever: bool = False
    """Nothing that people can change would help."""


def clashing_rules(problem: Problem, search: Search) -> Clash | None:
    """
    Rules of which one at least must give; `None` if time runs out before it is proven.

    Dropping rule after rule takes a short search each; where one of them runs out of
    time the rule is kept, and the clash is not called minimal.
    """
    day, guards = _loosened(problem, Guards(cp_model.CpModel(), wanted=True))
    core = _refuted(day, guards, guards.literals, search, search.left())
    if core is None:
        return None
    if not core:
        return Clash((), minimal=True, whatever=True)
    minimal = True
    for literal in list(core):
        rest = [kept for kept in core if kept.index != literal.index]
        if search.left() < LEAST_CHECK_S:
            minimal = False
            break
        status = _status(day, rest, search, search.left() / (len(core) + 1))
        if status == cp_model.INFEASIBLE:
            core = rest
        elif status == cp_model.UNKNOWN:
            minimal = False
    return Clash(tuple(guards.said[v.index] for v in core), minimal)


def _refuted(
    day: Day,
    guards: Guards,
    assumed: list[cp_model.IntVar],
    search: Search,
    seconds: float,
) -> list[cp_model.IntVar] | None:
    """The assumed rules that a proof used; `None` where there is no proof."""
    solver = _solver(search, seconds)
    day.model.clear_assumptions()
    day.model.add_assumptions(assumed)
    if solver.solve(day.model) != cp_model.INFEASIBLE:
        return None
    # with presolve a core may name a literal that was never assumed: keep to our list
    named = set(solver.sufficient_assumptions_for_infeasibility())
    core = [v for v in assumed if v.index in named]
    if core and _status(day, core, search, search.left()) != cp_model.INFEASIBLE:
        return assumed
    if not core and _status(day, [], search, search.left()) != cp_model.INFEASIBLE:
        return assumed
    return core


def _status(
    day: Day, assumed: list[cp_model.IntVar], search: Search, seconds: float
) -> int:
    day.model.clear_assumptions()
    day.model.add_assumptions(assumed)
    return int(_solver(search, seconds).solve(day.model))


def _solver(search: Search, seconds: float) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = search.workers
    solver.parameters.random_seed = search.seed
    solver.parameters.symmetry_level = (
        0  # its search for symmetry fails on a few models
    )
    solver.parameters.max_time_in_seconds = max(LEAST_CHECK_S, seconds)
    return solver


def _loosened(
    problem: Problem, guards: Guards, start: Timetable | None = None
) -> tuple[Day, Guards]:
    """The model of a longer day; the end of the real one is a rule like others."""
    longer = problem.horizon_min + LONGER_DAY_MIN
    used: dict[str, int] = {}
    for load in start.loads if start else ():
        used[load.canner] = used.get(load.canner, 0) + 1
    slots = slots_needed(problem, used)
    day = make_variables(problem, horizon=longer, slots=slots, earliest_finish=0)
    guards.model = day.model
    assert day.finish is not None
    if guards.later:
        most = sum(b.jars for b in problem.batches)
        guards.more_places = day.model.new_int_var(0, most, "more places")
    add_rules(day, guards)
    if guards.wanted:
        end = clock_time(problem.starts_at, problem.horizon_min)
        literal = guards.on(f"the day ends at {end}")
        assert literal is not None
        day.model.add(day.finish <= problem.horizon_min).only_enforce_if(literal)
    return day, guards


# --- what would have to give --------------------------------------------------------


def least_to_give(problem: Problem, search: Search) -> tuple[str, ...]:
    """
    The smallest concessions after which a plan exists, in words; empty if not found.

    People stay longer, the day ends later, or there are more places on the counter;
    minutes and places are summed and made small.
    """
    start = _plan_of_a_longer_day(problem)
    day, guards = _loosened(problem, Guards(cp_model.CpModel(), later=True), start)
    assert day.finish is not None
    assert guards.more_places is not None
    over = day.model.new_int_var(0, LONGER_DAY_MIN, "after the end of the day")
    day.model.add(over >= day.finish - problem.horizon_min)
    price = [over, guards.more_places, *guards.stays_on.values()]
    if start is not None:
        hint_fully(day, hints_of(day, start), search)
    day.model.minimize(cp_model.LinearExpr.sum(price))
    solver = _solver(search, search.left())
    status = solver.solve(day.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return ()
    said = []
    clock = problem.starts_at
    for person in problem.people:
        longer = guards.stays_on.get(person.id)
        minutes = solver.value(longer) if longer is not None else 0
        if minutes:
            until = clock_time(clock, person.leaves_min + minutes)
            said.append(
                f"{person.id} stays {said_minutes(minutes)} longer, until {until}"
            )
    if minutes := solver.value(over):
        until = clock_time(clock, problem.horizon_min + minutes)
        said.append(f"the day ends {said_minutes(minutes)} later, at {until}")
    if places := solver.value(guards.more_places):
        said.append(f"there is room for {places} more jars to cool")
    if not said:
        return ()
    least = ": less does not do" if status == cp_model.OPTIMAL else ""
    return (f"it fits if {' and '.join(said)}{least}",)


def _plan_of_a_longer_day(problem: Problem) -> Timetable | None:
    """By hand, were the day and everyone's time longer and the counter endless."""
    longer = problem.horizon_min + LONGER_DAY_MIN
    people = tuple(replace(p, leaves_min=longer) for p in problem.people)
    jars = sum(b.jars for b in problem.batches)
    counter = replace(problem.counter, places=max(jars, problem.counter.places))
    eased = replace(problem, horizon_min=longer, people=people, counter=counter)
    return by_hand(eased, seconds=0.1, shuffles=0)


def may_be_left_out(problem: Problem, until: float) -> tuple[str, ...]:
    """Batches without which the rest fits, seen by a plan by hand."""
    last = {b.product: b for b in problem.batches}
    said = []
    for product, batch in last.items():
        if time.monotonic() > until:
            break
        rest = tuple(b for b in problem.batches if b.id != batch.id)
        if not rest:
            continue
        made = {b.product for b in rest}
        wants = tuple(w for w in problem.wants if w.product in made)
        smaller = replace(problem, batches=rest, wants=wants)
        if lower_bound_min(smaller) > problem.horizon_min:
            continue
        if by_hand(smaller, seconds=0.0, shuffles=3) is not None:
            said.append(f"it fits without one batch of {product}")
    return tuple(said)
