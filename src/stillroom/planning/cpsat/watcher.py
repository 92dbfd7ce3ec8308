"""Who watches a search: keeps its trace, and tells of better plans as they come."""

from __future__ import annotations

import time
from collections.abc import Callable

from ortools.sat.python import cp_model

from stillroom.planning.cpsat import objective
from stillroom.planning.cpsat.reading import timetable_of
from stillroom.planning.cpsat.search import SearchResult
from stillroom.planning.cpsat.variables import DayModel
from stillroom.planning.timetable import Timetable

Better = Callable[[Timetable, int], None]


class Watcher(cp_model.CpSolverSolutionCallback):
    """Keeps the trace, and tells of better plans as they come."""

    def __init__(
        self,
        day: DayModel,
        found: SearchResult,
        on_better: Better | None,
        began: float,
        *,
        proves: bool = True,
    ) -> None:
        super().__init__()
        self.day, self.found, self.on_better, self.began = day, found, on_better, began
        self.proves = proves
        """Whether the model's bound is one for the day."""
        self.best: int | None = None
        self.failed: Exception | None = None

    def on_solution_callback(self) -> None:
        """Hear of a plan that the solver found."""
        value, bound = round(self.objective_value), self.found.bound
        if self.proves:
            bound = round(self.best_objective_bound)
        if not self._is_news(value, bound) or self.on_better is None:
            return
        try:
            self.on_better(timetable_of(self.day, self.value), bound)
        except Exception as failed:  # noqa: BLE001 - a solver's thread: raised by who asked
            self.failed = failed
            self.stop_search()

    def raise_failed(self) -> None:
        """Raise what failed in a thread of the solver."""
        if self.failed is not None:
            raise self.failed

    def on_part(self, solver: cp_model.CpSolver) -> None:
        """Hear of a better plan that was found by freeing a part of one."""
        value = solver.value(objective.end_and_lateness(self.day))
        if self._is_news(value, self.found.bound) and self.on_better is not None:
            self.on_better(timetable_of(self.day, solver.value), self.found.bound)

    def _is_news(self, value: int, bound: int) -> bool:
        if self.best is not None and value >= self.best:
            return False
        self.best = value
        self.found.trace.append((time.monotonic() - self.began, value, bound))
        return True

    def on_bound(self, bound: float) -> None:
        """Hear that no plan is better than so much."""
        if self.best is not None and self.proves:
            seconds = time.monotonic() - self.began
            self.found.trace.append((seconds, self.best, round(bound)))
