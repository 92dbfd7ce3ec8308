"""
The same day for the solver alone: one model, one goal, one search.

The variables are those of `planning.cpsat`, and so are the rules for links, pots,
mills, fires and loads. Left out is all that only helps: the plan by hand as a hint, the
bounds and what follows from them, people all together, batches and canners that are
alike kept in the list's order, parts of a plan set free, stages. It is told how many
loads to make room for, as ours is; it would not know otherwise.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from stillroom.planning.cpsat import constraints, objective
from stillroom.planning.cpsat.loads import add_loads
from stillroom.planning.cpsat.people import Guards
from stillroom.planning.cpsat.reading import timetable_of
from stillroom.planning.cpsat.variables import DayModel, make_variables, slots_needed
from stillroom.planning.hot_jars import LABOUR_QUARTERS
from stillroom.planning.how_good.lateness import score, weighted_lateness
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem

Held = list[tuple[cp_model.IntervalVar, int]]


@dataclass(slots=True)
class PlainAnswer:
    """What the plain model came to."""

    finish_min: int | None = None
    """`None` where it found no plan in its time."""
    lateness: int = 0
    bound_min: int = 0
    proven: bool = False
    first_s: float | None = None
    trace: list[tuple[float, int, int]] = field(default_factory=list)
    """(seconds, best finish + points of lateness, bound). [s, min]"""


def plain_plan(
    problem: Problem, *, seconds: float, workers: int = 2, seed: int = 1
) -> PlainAnswer:
    """Search for the best plan with the plain model."""
    began = time.monotonic()
    day = make_variables(
        problem,
        horizon=problem.horizon_min,
        slots=slots_needed(problem),
        earliest_finish=0,
    )
    constraints.add_time_lags(day)
    constraints.add_windows(day)
    constraints.add_pots(day)
    constraints.add_mills(day)
    constraints.add_fires(day)
    add_loads(day, Guards(day.model))
    _add_people(day)
    _add_finish(day)
    day.model.minimize(objective.end_and_lateness(day))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.random_seed = seed
    found = PlainAnswer()
    watcher = _Watcher(found, began)
    solver.best_bound_callback = watcher.on_bound
    left = seconds - (time.monotonic() - began)
    solver.parameters.max_time_in_seconds = max(0.1, left)
    status = solver.solve(day.model, watcher)
    found.bound_min = max(0, round(solver.best_objective_bound))
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return found
    plan = timetable_of(day, solver.value)
    broken = violations(problem, plan)
    if broken:
        raise AssertionError("the plain model broke a rule: " + "; ".join(broken))
    found.finish_min = plan.finish_min
    found.lateness = weighted_lateness(problem, plan)
    found.proven = status == cp_model.OPTIMAL
    now = time.monotonic() - began
    found.trace.append((now, score(problem, plan), found.bound_min))
    return found


class _Watcher(cp_model.CpSolverSolutionCallback):
    def __init__(self, found: PlainAnswer, began: float) -> None:
        super().__init__()
        self.found, self.began = found, began

    def on_solution_callback(self) -> None:
        now = time.monotonic() - self.began
        if self.found.first_s is None:
            self.found.first_s = now
        bound = max(0, round(self.best_objective_bound))
        self.found.trace.append((now, round(self.objective_value), bound))

    def on_bound(self, bound: float) -> None:
        if self.found.trace:
            _, value, _ = self.found.trace[-1]
            now = time.monotonic() - self.began
            self.found.trace.append((now, value, max(0, round(bound))))


def _add_people(day: DayModel) -> None:
    """One person a step; what each gives at once; nobody works who is not there."""
    model, h = day.model, day.horizon
    own: dict[str, Held] = {p.id: [] for p in day.problem.people}
    for hands in day.hands:
        model.add_exactly_one(hands.by.values())
    for n, piece in enumerate(day.pieces):
        for who, literal in piece.hands.by.items():
            held = model.new_optional_fixed_size_interval_var(
                piece.start, piece.length, literal, f"w{n} {who}"
            )
            own[who].append((held, piece.quarters))
    for slot in day.all_slots():
        for start, length, who_may in (
            (slot.lower, slot.canner.load_min, slot.lowered_by),
            (slot.lift, slot.canner.unload_min, slot.lifted_by),
        ):
            model.add(sum(who_may.values()) == slot.present)
            for who, literal in who_may.items():
                held = model.new_optional_fixed_size_interval_var(
                    start, length, literal, f"{start} by {who}"
                )
                own[who].append((held, LABOUR_QUARTERS))
    for person in day.problem.people:
        gone = [(0, person.arrives_min), *person.away, (person.leaves_min, h)]
        minutes = {m for start, end in gone for m in range(max(0, start), min(end, h))}
        for start, length in _runs(minutes):
            away = model.new_fixed_size_interval_var(start, length, f"{start} gone")
            own[person.id].append((away, person.quarters))
        rests = zip(person.breaks, day.breaks[person.id], strict=True)
        for n, (rest, start_var) in enumerate(rests):
            held = model.new_fixed_size_interval_var(
                start_var, rest.duration_min, f"rest {n} of {person.id}"
            )
            own[person.id].append((held, person.quarters))
        model.add_cumulative(
            [held for held, _ in own[person.id]],
            [quarters for _, quarters in own[person.id]],
            person.quarters,
        )


def _runs(minutes: set[int]) -> list[tuple[int, int]]:
    """Unbroken stretches of minutes: start and length."""
    starts = sorted(m for m in minutes if m - 1 not in minutes)
    ends = sorted(m + 1 for m in minutes if m + 1 not in minutes)
    return [(a, b - a) for a, b in zip(starts, ends, strict=True)]


def _add_finish(day: DayModel) -> None:
    """The end is after every step and every load; wants are late by what they miss."""
    model, finish = day.model, day.finish
    assert finish is not None
    for batch in day.problem.batches:
        for i in range(len(batch.steps)):
            model.add(finish >= day.end(batch, i))
    for slot in day.all_slots():
        model.add(finish >= slot.out).only_enforce_if(slot.present)
    for want, (_, late) in zip(day.problem.wants, day.late, strict=True):
        for batch in day.problem.batches:
            if batch.product != want.product:
                continue
            if batch.process is None:
                for i, step in enumerate(batch.steps):
                    if batch.ready_after in ("", step.id):
                        model.add(late >= day.end(batch, i) - want.by_min)
            for slot in day.all_slots():
                if batch.id in slot.aboard:
                    model.add(late >= slot.out - want.by_min).only_enforce_if(
                        slot.aboard[batch.id]
                    )
