"""The search for the rest of a day: from the old order on, better and better."""

from __future__ import annotations

import time
from collections.abc import Hashable, Iterable
from typing import TypeVar

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.improve import Effort, improve
from stillroom.planning.cpsat.objective import end_and_lateness
from stillroom.planning.cpsat.reading import timetable_of
from stillroom.planning.cpsat.replan_goal import END_POINTS
from stillroom.planning.cpsat.replan_near import kept_beyond
from stillroom.planning.cpsat.rest import OldOrder, RestModel, RestPlan
from stillroom.planning.cpsat.solving import new_solver, solved

OLD_ORDER_S = 0.5
"""How long the old order is tried before any other. [s]"""
FEW_PIECES = 25
"""So little work left is searched as one whole, for the sake of the proof."""
SHARE_OF_WHOLE = 0.5
"""Of the time, for the solver's own search; parts are set free in the rest of it."""
LEAST_PARTS_S = 0.1
Of = TypeVar("Of", bound=Hashable)
SOLVED = (cp_model.OPTIMAL, cp_model.FEASIBLE)


def solve_rest(
    model: RestModel, *, until: float, workers: int = 2, seed: int = 1
) -> RestPlan | None:
    """
    The plan of least change that is found in time; `None` where none was found at all.

    It begins from the old order, put off, and is never worse than that: where that
    order breaks no limit, neither the end nor the wants may come later than in it.

    Parameters
    ----------
    model : RestModel
        Of `rest_model`.
    until : float
        `time.monotonic` at which it must be over. [s]
    workers : int
        Search threads.
    seed : int
        Of the search.
    """
    cp = model.day.model
    cp.minimize(model.goal)
    known = _old_order(model, until, seed)
    old = None if known is None else _worth(model, known)
    if old is not None and old.gives_way == 0:
        cp.add(end_and_lateness(model.day) <= old.score)
    if known is None:
        cp.clear_objective()  # type: ignore[no-untyped-call]
        known = _same_choices(model, until, workers, seed)
        known = known or _any_plan(model, until, workers, seed)
        cp.minimize(model.goal)
    if known is None:
        return None
    few = len(model.day.pieces) <= FEW_PIECES
    if not few and (old is None or old.gives_way):
        known = kept_beyond(model, known, until=until, workers=workers, seed=seed)
    left = until - time.monotonic()
    whole_until = until if few else time.monotonic() + SHARE_OF_WHOLE * left
    _hint_all(model, known)
    solver = _solver(whole_until, workers, seed)
    if not few and workers > 1:
        solver.parameters.use_lns_only = True
        solver.parameters.linearization_level = 0
    status = solved(solver, cp)
    if status in SOLVED:
        known = solver
    if status == cp_model.OPTIMAL:
        return _rest(model, known, old, proven=True)
    if until - time.monotonic() > LEAST_PARTS_S:
        effort = Effort(until, workers, seed)
        known = improve(model.day, model.goal, known, effort, unit=END_POINTS)
    return _rest(model, _tightened(model, known, seed), old, proven=False)


def _tightened(
    model: RestModel, known: cp_model.CpSolver, seed: int
) -> cp_model.CpSolver:
    """The same plan, with no minute said to give way that need not."""
    cp = model.day.model
    cp.clear_hints()  # type: ignore[no-untyped-call]
    for var in model.decisions():
        cp.add_hint(var, known.value(var))
    solver = _solver(time.monotonic() + OLD_ORDER_S, 1, seed)
    solver.parameters.symmetry_level = 0
    solver.parameters.fix_variables_to_their_hinted_value = True
    status = solved(solver, cp)
    better = status in SOLVED and solver.value(model.goal) <= known.value(model.goal)
    return solver if better else known


def _old_order(model: RestModel, until: float, seed: int) -> cp_model.CpSolver | None:
    """
    Every variable under the old order.

    Where its minutes cannot hold as they are put off, some are left open.
    """
    cp = model.day.model
    open_: set[int] = set()
    for more in (set[int](), *model.loose[:-1]):
        open_ |= more
        cp.clear_hints()  # type: ignore[no-untyped-call]
        for of in model.of_old:
            if of.var.index not in open_:
                cp.add_hint(of.var, of.put_off)
        # tried on even where time is short: it is what all else is measured by
        solver = _solver(time.monotonic() + OLD_ORDER_S, 1, seed)
        solver.parameters.symmetry_level = 0
        solver.parameters.fix_variables_to_their_hinted_value = True
        if solved(solver, cp) in SOLVED:
            return solver
        if time.monotonic() > until:
            break
    return None


def _same_choices(
    model: RestModel, until: float, workers: int, seed: int
) -> cp_model.CpSolver | None:
    """The same people, pots, fires and loads at any other minutes."""
    open_ = set[int]().union(*model.loose)
    rest = model.day.model.clone()
    rest.clear_hints()  # type: ignore[no-untyped-call]
    for of in model.of_old:
        if of.var.index in open_:
            rest.add_hint(of.var, of.put_off)
        else:
            rest.add(of.var == of.put_off)
    half = (until - time.monotonic()) / 2
    solver = _solver(time.monotonic() + half, workers, seed)
    solver.parameters.stop_after_first_solution = True
    return solver if solved(solver, rest) in SOLVED else None


def _any_plan(
    model: RestModel, until: float, workers: int, seed: int
) -> cp_model.CpSolver | None:
    cp = model.day.model
    cp.clear_hints()  # type: ignore[no-untyped-call]
    for of in model.of_old:
        cp.add_hint(of.var, of.put_off)
    solver = _solver(until, workers, seed)
    solver.parameters.stop_after_first_solution = True
    return solver if solved(solver, cp) in SOLVED else None


def _hint_all(model: RestModel, known: cp_model.CpSolver) -> None:
    cp = model.day.model
    cp.clear_hints()  # type: ignore[no-untyped-call]
    for index, value in enumerate(known.response_proto.solution):
        cp.add_hint(cp.get_int_var_from_proto_index(index), value)


def _solver(until: float, workers: int, seed: int) -> cp_model.CpSolver:
    solver = new_solver()
    solver.parameters.num_workers = workers
    solver.parameters.random_seed = seed
    solver.parameters.max_time_in_seconds = max(0.05, until - time.monotonic())
    return solver


def _worth(model: RestModel, known: cp_model.CpSolver) -> OldOrder:
    assert model.day.finish is not None
    return OldOrder(
        finish_min=known.value(model.day.finish),
        score=known.value(end_and_lateness(model.day)),
        gives_way=known.value(model.gives_way),
    )


def _rest(
    model: RestModel,
    solver: cp_model.CpSolver,
    old: OldOrder | None,
    *,
    proven: bool,
) -> RestPlan:
    value = solver.value
    hot_after = {}
    for canner, load in model.before.items():
        line = model.day.slots[canner]
        if line and value(line[0].present) and value(line[0].hot):
            hot_after[load.id] = value(line[0].lower)
    lifts = {
        r.load.id: (
            value(r.lift),
            next((p for p, v in r.by.items() if value(v)), None),
        )
        for r in model.running
    }
    assert model.guards.more_places is not None
    return RestPlan(
        timetable=timetable_of(model.day, value),
        lifts=lifts,
        hot_after=hot_after,
        waits=_most((limit, value(over)) for limit, over in model.waits),
        lifted_late=_most((load, value(over)) for load, over in model.lifts),
        rests_late=_most((who, value(over)) for who, over in model.rests),
        places=value(model.guards.more_places),
        proven=proven,
        old_order=old,
    )


def _most(over: Iterable[tuple[Of, int]]) -> dict[Of, int]:
    """Of each that is over, by how much at most. [min]"""
    found: dict[Of, int] = {}
    for of, minutes in over:
        if minutes:
            found[of] = max(minutes, found.get(of, 0))
    return found
