"""A day as it was asked for: what makes a problem of it, and the time there is."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from stillroom.methods.kitchen import Kitchen
from stillroom.planning.cpsat.search import Search
from stillroom.planning.day import Day
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer, NoneFound
from stillroom.planning.ways.held_plan import KnownPlan, only, what_holds
from stillroom.planning.which_batches.batches import Batched, make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.day_divided import Sizes
from stillroom.planning.which_batches.kitchen_problem import problem_of
from stillroom.planning.which_batches.missed_most import most_missed_first
from stillroom.planning.which_batches.shelf import Shelf, full_shelf
from stillroom.planning.why_not.unworkable import unworkable
from stillroom.refusal import Refusal

LEAST_S = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is asked of the planner; `whole_day.plan_the_day` says what each means."""

    day: Day
    place: Place
    begin: Callable[[Problem], Problem] | None
    seconds: float
    workers: int
    deterministic: bool
    explain: bool
    began: float
    """By the clock that `time.monotonic` reads. [s]"""

    def batches(self, sizes: Sizes, shelf: Shelf | None = None) -> Batched:
        """Return the batches of packs divided so; they draw on ``shelf``."""
        shelf = full_shelf(self.day) if shelf is None else shelf
        return make_batches(self.day, self.place, shelf, sizes)

    def problem(self, made: Batched) -> Problem | Refusal:
        """Return the problem of these batches, without those left out by name."""
        return self._problem(self.day, self.place, made)

    def again(self, day: Day, sizes: Sizes) -> Problem | Refusal:
        """Return the problem of a changed day, without what nobody in it can work."""
        place = replace(self.place, kitchen=day.kitchen)
        made = make_batches(day, place, full_shelf(day), sizes)
        if not made.batches:
            return _nothing_left()
        problem = self._problem(day, place, made)
        if isinstance(problem, Refusal):
            return problem
        if not problem.batches:
            return _nothing_left()
        cannot = unworkable(problem)
        return only(problem, [b.id for b in problem.batches if b.id not in cannot])

    def in_another(self, kitchen: Kitchen) -> Problem | None:
        """Return the problem of the day in a kitchen with more in it."""
        other = self.again(replace(self.day, kitchen=kitchen), {})
        return other if isinstance(other, Problem) and other.batches else None

    def order(self, made: Batched, problem: Problem) -> list[str]:
        """Return its batches: what the day before left, then the most missed first."""
        order = most_missed_first(self.day, made)
        return [b.id for b in problem.batches if b.id not in order] + order

    def planned(
        self,
        problem: Problem,
        order: Sequence[str],
        known: Sequence[KnownPlan],
        seconds: float,
    ) -> Answer | NoneFound:
        """Plan all of it, from what holds of the best plan that is known."""
        begun = what_holds(problem, known, order)
        return plan_day(
            problem,
            seconds=seconds,
            workers=self.workers,
            deterministic=self.deterministic,
            begin_with=None if begun is None else begun.plan,
        )

    def search(self, seconds: float, *, since: float | None = None) -> Search:
        """Return so much of a search, from now on, or by the clock since a moment."""
        until = (time.monotonic() if since is None else since) + seconds
        return Search(until, self.workers, 1, self.deterministic).at_last(seconds)

    def left_of(self, all_s: float, *, counted: float) -> float:
        """Return seconds left of all; where work is counted, as many as are counted."""
        if self.deterministic:
            return counted
        return max(LEAST_S, self.began + all_s - time.monotonic())

    def _problem(self, day: Day, place: Place, made: Batched) -> Problem | Refusal:
        problem = problem_of(day, made, place.air, place.learned)
        if isinstance(problem, Refusal):
            return problem
        if day.without:
            kept = [b.id for b in problem.batches if b.id not in day.without]
            problem = only(problem, kept)
        return problem if self.begin is None else self.begin(problem)


def _nothing_left() -> Refusal:
    return Refusal(
        "with this change nothing is left to make",
        instead="want some jars still, and leave the fruit for them on the shelf",
        source="the wants and the shelf of the changed day",
    )
