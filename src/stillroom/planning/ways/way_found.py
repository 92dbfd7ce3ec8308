"""A way out of a day: what changes in it, what it costs, and a plan that shows it."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.how_good.lateness import weighted_lateness
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.way_changes import (
    Change,
    Changes,
    Kind,
    changed,
    cost_of,
    together,
)
from stillroom.planning.ways.way_hours import Hours


@dataclass(frozen=True, slots=True)
class Node:
    """Changes that are whole, and the hours that may give beside them."""

    firm: Changes
    hours: Hours
    room: bool = False


@dataclass(slots=True)
class Way:
    """A day with changes that fits, and a plan that shows it."""

    node: Node
    changes: Changes
    cost: int
    problem: Problem
    plan: Timetable
    least: bool
    """Less does not do: proven."""
    in_time: bool = False
    """What is said of ``least`` is meant with what is promised for an hour."""
    late: int = 0
    """Weighted minutes by which its plan so far breaks what is promised for an hour."""
    tried: int = 0

    @property
    def price(self) -> int:
        """What it costs with the promises that it breaks, as far as it is searched."""
        return self.cost + self.late

    @property
    def order(self) -> tuple[int, int, int, bool, str]:
        """The cheapest first, then what breaks least and changes least."""
        changes = self.changes
        return self.price, self.late, len(changes), not self.least, str(changes)


def base_of(problem: Problem, node: Node) -> Problem:
    """The day with what is firm, and with a counter that never is too small."""
    day = changed(problem, node.firm)
    if not node.room:
        return day
    return changed(day, (Change(kind=Kind.ROOM, amount=jars_of(day)),))


def settled(
    problem: Problem, node: Node, hours: Changes, plan: Timetable, *, least: bool
) -> Way | None:
    """The way with all its changes, its plan passed by the judge."""
    changes = together((*node.firm, *hours))
    if node.room:
        places = _places(problem, changes, plan)
        if places == 0:
            return None  # there is room enough: it is no way of its own
        changes = (*changes, Change(kind=Kind.ROOM, amount=places))
        least = least and not hours and never_room(changed(problem, node.firm))
    if node.hours.is_plain:
        changes = _ending_later_still(problem, changes, plan)
    if not changes:
        return None
    day = changed(problem, changes)
    if violations(day, plan):
        return None
    cost = cost_of(problem, changes)
    late = weighted_lateness(day, plan)
    return Way(node, changes, cost, day, plan, least, late=late)


def _ending_later_still(problem: Problem, changes: Changes, plan: Timetable) -> Changes:
    """The same, the day's end put off until the judge passes its plan."""
    firm = tuple(c for c in changes if c.kind is not Kind.ENDS)
    over = sum(c.amount for c in changes if c.kind is Kind.ENDS)
    for more in (0, 1, 5, 15, 30, 60):
        ends = (Change(kind=Kind.ENDS, amount=over + more),)
        later = (*firm, *ends) if over + more else firm
        if not violations(changed(problem, later), plan):
            return later
    return changes


def _places(problem: Problem, changes: Changes, plan: Timetable) -> int:
    """Fewest places more with which the judge passes a plan."""
    low, high = -1, jars_of(problem)
    while high - low > 1:
        middle = (low + high) // 2
        room = Change(kind=Kind.ROOM, amount=middle)
        day = changed(problem, (*changes, room))
        if violations(day, plan):
            low = middle
        else:
            high = middle
    return high


def is_crowded(problem: Problem, firm: Changes) -> bool:
    """Whether all jars of the day with changes are more than the counter holds."""
    day = changed(problem, firm)
    jars = sum(b.jars for b in day.batches if b.process is not None)
    taken = sum(n for n, _ in day.counter.taken)
    return jars + taken > day.counter.places


def never_room(problem: Problem) -> bool:
    """Whether more jars are to cool than ever stand, as long as a day can be."""
    counter = problem.counter
    longest = problem.horizon_min + Hours(at_end=True).most(problem)
    if counter.cooling_min < longest:
        return False
    jars = sum(b.jars for b in problem.batches if b.process is not None)
    taken = sum(n for n, until in counter.taken if until >= longest)
    return jars + taken > counter.places


def jars_of(problem: Problem) -> int:
    """All jars of a day, with those of the day before."""
    taken = sum(n for n, _ in problem.counter.taken)
    return sum(b.jars for b in problem.batches) + taken
