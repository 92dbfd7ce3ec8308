"""
When nothing fits: which rules cannot hold together.

Only what people can change is put to question: when someone comes and leaves, breaks,
absences, the counter, the end of the day. Physics and safety are not for sale.
"""

from __future__ import annotations

from dataclasses import dataclass

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.constraints import add_rules
from stillroom.planning.cpsat.people import Guards
from stillroom.planning.cpsat.solve import Search
from stillroom.planning.cpsat.solving import new_solver, solved
from stillroom.planning.cpsat.variables import DayModel, make_variables, slots_needed
from stillroom.planning.cpsat.whole import UNITS_A_SECOND
from stillroom.planning.daytime import clock_time
from stillroom.planning.problem import Problem
from stillroom.planning.way_changes import LONGER_DAY_MIN

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
    day, guards = loosened(problem, Guards(cp_model.CpModel(), wanted=True))
    core = _refuted(day, guards.literals, search, search.left())
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
    day: DayModel,
    assumed: list[cp_model.IntVar],
    search: Search,
    seconds: float,
) -> list[cp_model.IntVar] | None:
    """The assumed rules that a proof used; `None` where there is no proof."""
    solver = patient_solver(search, seconds)
    day.model.clear_assumptions()
    day.model.add_assumptions(assumed)
    if solved(solver, day.model) != cp_model.INFEASIBLE:
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
    day: DayModel, assumed: list[cp_model.IntVar], search: Search, seconds: float
) -> int:
    day.model.clear_assumptions()
    day.model.add_assumptions(assumed)
    return int(solved(patient_solver(search, seconds), day.model))


def patient_solver(search: Search, seconds: float) -> cp_model.CpSolver:
    """A solver for so many seconds, and for a moment at least."""
    solver = new_solver()
    solver.parameters.num_workers = search.workers
    solver.parameters.random_seed = search.seed
    solver.parameters.symmetry_level = (
        0  # its search for symmetry fails on a few models
    )
    solver.parameters.max_time_in_seconds = max(LEAST_CHECK_S, seconds)
    if search.deterministic:
        solver.parameters.num_workers = 1
        units = UNITS_A_SECOND * max(LEAST_CHECK_S, seconds)
        solver.parameters.max_deterministic_time = units
        solver.parameters.max_time_in_seconds = search.wall_s()
    return solver


def loosened(problem: Problem, guards: Guards) -> tuple[DayModel, Guards]:
    """The model of a longer day; the end of the real one is a rule like others."""
    longer = problem.horizon_min + LONGER_DAY_MIN
    slots = slots_needed(problem)
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
