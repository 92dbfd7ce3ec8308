"""
A slip taken up near to where it is, and the day beyond it kept in one piece.

The old order put off runs into everything that goes by the clock: an absence, a load
whose jars stand open. Ten minutes grow to a hundred. So what lies around the slip is
set free, and around an absence after it; all else keeps who, where and in which load,
and its minutes too, or all of them later by the same.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.one_part import part_solver
from stillroom.planning.cpsat.rest import RestModel, Slip
from stillroom.planning.cpsat.solving import solved

SHARE = 0.4
"""Of the time that is left, where something is found in it."""
MOST = 0.8
"""Of the time that is left, where nothing is: parts of a plan so bad lead nowhere."""
FREE_MIN = 90
"""So much after the slip is set free, where the rest may go later. [min]"""
AROUND_MIN = 45
"""So much on both sides of an absence. [min]"""
LATER_MIN = 60
"""By how much more than what runs late the rest may go later. [min]"""
AT_ITS_MINUTES = ((30, 60), (60, 120), (100, 200))
"""How much before and after it, where the rest keeps its minutes: one by one. [min]"""
LATE = (15, 60)
AROUND_LATE_MIN = 30
"""The same where the rest goes later by just what runs late, after the first two."""
SOLVED = (cp_model.OPTIMAL, cp_model.FEASIBLE)

Spans = Sequence[tuple[int, int]]
Found = cp_model.CpSolver | None


def kept_beyond(
    model: RestModel,
    known: cp_model.CpSolver,
    *,
    until: float,
    workers: int = 2,
    seed: int = 1,
) -> cp_model.CpSolver:
    """
    Return a better rest of the day than a known one, or that.

    Parameters
    ----------
    model : RestModel
        Of `rest_model`, with a goal; it is not changed.
    known : CpSolver
        With values of a plan.
    until : float
        `time.monotonic` at which all of the planning must be over. [s]
    workers : int
        With one, only the rest that goes later is tried.
    seed : int
        Of the search.
    """
    slip = model.slip
    if slip is None:
        return known
    now, best = time.monotonic(), known.value(model.goal)
    enough = _Enough(now + SHARE * (until - now), now + MOST * (until - now))
    ways = (_all_later, _near)[: 1 if workers == 1 else 2]
    with ThreadPoolExecutor(2) as threads:
        tried = [threads.submit(way, model, slip, best, enough, seed) for way in ways]
        found = [solver for turn in tried if (solver := turn.result()) is not None]
    return min([known, *found], key=lambda solver: solver.value(model.goal))


class _Enough:
    """When it is: at one hour with a plan, at a later one without."""

    def __init__(self, with_one: float, without: float) -> None:
        self.with_one, self.without = with_one, without
        self.found = threading.Event()

    def stops(self, solver: cp_model.CpSolver) -> threading.Timer:
        """Start the clock that ends a search at the first of them."""

        def look() -> None:
            if self.found.is_set():
                solver.stop_search()

        left = max(0.0, self.with_one - time.monotonic())
        timer = threading.Timer(left, look)
        timer.daemon = True
        timer.start()
        return timer


class _UntilEnough(cp_model.CpSolverSolutionCallback):
    """Notes that there is a plan, and ends the search where one was waited for."""

    def __init__(self, enough: _Enough) -> None:
        super().__init__()
        self.enough = enough

    def on_solution_callback(self) -> None:
        """Hear of a plan that the solver found."""
        self.enough.found.set()
        if time.monotonic() > self.enough.with_one:
            self.stop_search()


def _all_later(
    model: RestModel, slip: Slip, best: int, enough: _Enough, seed: int
) -> Found:
    """What lies beyond begins later by the same minutes; limits may give way."""
    spans = _around(slip, 0, FREE_MIN, AROUND_MIN)
    later = 0, slip.late_min + LATER_MIN
    return _searched(model, slip, spans, later, best, enough, seed)


def _near(model: RestModel, slip: Slip, best: int, enough: _Enough, seed: int) -> Found:
    """What lies beyond begins as it did; or later by just what runs late."""
    for before, after in AT_ITS_MINUTES[: 2 if slip.late_min else 3]:
        cp = model.day.model.clone()
        cp.add(model.gives_way == 0)
        cp.add(model.goal < best)
        _hold(cp, model, slip, _around(slip, before, after), (0, 0))
        solver = _solver(enough.with_one, seed)
        if solved(solver, cp) in SOLVED:
            enough.found.set()
            return solver
        if time.monotonic() > enough.with_one:
            break
    if not slip.late_min:
        return None
    spans = _around(slip, *LATE, AROUND_LATE_MIN)
    later = slip.late_min, slip.late_min
    return _searched(model, slip, spans, later, best, enough, seed)


def _around(slip: Slip, before: int, after: int, away: int | None = None) -> Spans:
    """Return what is set free around a slip, and around absences where it is said."""
    spans = [(slip.since_min - before, slip.since_min + after)]
    if away is not None:
        spans += [(gone - away, back + away) for gone, back in slip.away]
    return spans


def _searched(
    model: RestModel,
    slip: Slip,
    spans: Spans,
    later: tuple[int, int],
    best: int,
    enough: _Enough,
    seed: int,
) -> Found:
    cp = model.day.model.clone()
    cp.add(model.goal < best)
    _hold(cp, model, slip, spans, later)
    solver = _solver(enough.without, seed)
    timer = enough.stops(solver)
    status = solved(solver, cp, _UntilEnough(enough))
    timer.cancel()
    return solver if status in SOLVED else None


def _hold(
    cp: cp_model.CpModel,
    model: RestModel,
    slip: Slip,
    spans: Spans,
    later: tuple[int, int],
) -> None:
    """
    Keep all that did not begin within some spans; the hints are of the old plan.

    What began after the slip begins later, all of it by the same minutes, of which the
    least and the most are given.
    """
    cp.clear_hints()  # type: ignore[no-untyped-call]
    least, most = later
    by = min(most, slip.late_min)
    first: tuple[cp_model.IntVar, int] | None = None
    for of in model.of_old:
        if of.was is None:
            cp.add_hint(of.var, of.put_off)
        elif any(since <= of.at_min < to for since, to in spans):
            cp.add_hint(of.var, of.was + by * of.is_time)
        elif not (of.is_time and of.at_min >= slip.since_min):
            cp.add(of.var == of.was)
        elif least == most:
            cp.add(of.var == of.was + least)
        else:
            if first is None:
                first = of.var, of.was
                cp.add_linear_constraint(of.var, of.was + least, of.was + most)
            else:
                cp.add(of.var - first[0] == of.was - first[1])
            cp.add_hint(of.var, of.was + by)


def _solver(until: float, seed: int) -> cp_model.CpSolver:
    """As for a part of a plan, by the clock."""
    solver = part_solver(seed)
    left = max(0.05, until - time.monotonic())
    solver.parameters.max_time_in_seconds = left
    return solver
