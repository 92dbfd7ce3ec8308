"""
How soon a changed day can end: at once by other orders, or searched on.

A small day is searched to its proof. On a large one batches are put into other orders
by the rule of the plan by hand, which is quick and goes far; the search frees parts.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, replace
from itertools import islice

from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.bounding.too_many_jars import none_in_time
from stillroom.planning.cpsat.solve import Search, is_small
from stillroom.planning.cpsat.soonest import Soonest, soonest
from stillroom.planning.hand.by_hand import (
    better_start,
    by_hand,
    plan_in_order,
    shuffled_orders,
)
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.way_changes import LONGER_DAY_MIN, ending_later
from stillroom.planning.ways.held_plan import as_far_as_it_holds

ORDERS_S = 0.12
"""For other orders of one changed day. [s]"""
SMALL_ORDERS_S = 0.1
"""The same for a small day, which is searched afterwards. [s]"""
ORDERS = 40
"""The same where work is counted."""
SHUFFLES = 3
HOPELESS = 5
"""Where so many orders do not fit into a day without end, none will."""
SHARE_OF_FIRST = 0.3
"""Of the time, at most, for the first of them."""
FIRST_ORDERS, FEW_ORDERS = 30, 2
"""Orders of a large day by hand: where no plan of one like it is known, where one is.
"""
LEAST_PROOF_S = 0.4
SHARE_OF_ORDERS = 0.12
"""Of the time for a large day whose end is open: the search gets further with it."""
LEAST_S = 0.1
TURNS_A_SECOND = 5
"""Large days looked at for each second, where work is counted."""
LEAST_TURN = 0.2
"""What a small day takes of that beside the solver's work; no more than a large one."""
SHARE_OF_ONE = 0.3
"""Of the time that is left, for making one way cheaper."""
SHARE = 0.12
"""Of the time that is left, for the proof of one small day."""


@dataclass(slots=True)
class Time:
    """What is left of the time for all ways out; turns where work is counted."""

    search: Search
    turns: float = 0.0

    def __post_init__(self) -> None:
        self.turns = max(10.0, TURNS_A_SECOND * self.search.seconds)

    @property
    def counted(self) -> bool:
        """Whether work is counted and not the clock."""
        return self.search.deterministic

    def left(self) -> float:
        """Seconds left."""
        if self.counted:
            return self.turns / TURNS_A_SECOND
        return self.search.until - time.monotonic()

    def is_over(self) -> bool:
        """Whether nothing more is to be begun."""
        return self.left() < LEAST_S

    def part(self, seconds: float) -> Search:
        """A search of so many seconds, and not beyond the end of all."""
        seconds = max(LEAST_S, min(seconds, self.left()))
        until = time.monotonic() + seconds
        return replace(self.search, until=until, seconds=seconds)


def how_soon(
    problem: Problem, like: Timetable | None, enough: int, at: Time
) -> Soonest:
    """
    Say how soon a day ends: proven for a small day, by other orders for a large one.

    Parameters
    ----------
    problem : Problem
        The day; its end may be far away.
    like : Timetable or None
        A plan of a day like this: its order of batches is tried.
    enough : int
        No plan need end sooner. [min]
    at : Time
        What time there is.
    """
    at.turns -= LEAST_TURN if is_small(problem) else 1
    problem = replace(problem, wants=(), done_by_min=None, first=())
    if not problem.batches:
        return Soonest(None, 0)
    if none_in_time(problem):
        return Soonest(None, problem.horizon_min + 1)
    held = None if like is None else as_far_as_it_holds(problem, like)
    first = None
    if held is None and is_small(problem):
        first = by_hand(problem, seconds=0.0, shuffles=SHUFFLES)
    elif held is None:
        orders = FIRST_ORDERS if like is None else FEW_ORDERS
        first = _first_of_many(problem, orders, at)
    first = _sooner(held, first)
    if first is not None and first.finish_min <= enough:
        return Soonest(first, 0)
    if is_small(problem):
        if first is not None:
            first = in_other_orders(problem, first, enough, at, SMALL_ORDERS_S)
        seconds = max(SHARE * at.left(), min(LEAST_PROOF_S, at.left() / 2))
        found = soonest(problem, first, enough, at.part(seconds))
        at.turns -= min(1 - LEAST_TURN, TURNS_A_SECOND * found.work_s)
        return found
    for order in _orders(problem, like):
        for keeps in (True, False):
            by = None if first is None else first.finish_min
            day = problem if first is None else _no_longer_than(problem, first)
            plan = plan_in_order(day, order, canner_keeps_burner=keeps, end_by_min=by)
            first = _sooner(plan, first)
    if first is None:
        return Soonest(None, lower_bound_min(problem))
    return Soonest(in_other_orders(problem, first, enough, at, ORDERS_S), 0)


def _first_of_many(problem: Problem, shuffles: int, at: Time) -> Timetable | None:
    """
    The plan by hand that ends soonest, of the simple orders and so many shuffled ones.

    With its end left open a day fits in any order, so that the first that fits is a
    bad one: on the demo day 660 min, and 470 min as the best of sixty.
    """
    best: Timetable | None = None
    until = at.left() * (1 - SHARE_OF_FIRST)
    shuffled = islice(shuffled_orders(problem, 1), shuffles)
    for n, order in enumerate((list(problem.batches), *shuffled)):
        if best is None and n >= HOPELESS:
            break  # say, more jars than the counter ever holds
        if best is not None and not at.counted and at.left() < until:
            break
        for keeps in (False, True):
            day = problem if best is None else _no_longer_than(problem, best)
            by = None if best is None else best.finish_min
            plan = plan_in_order(day, order, canner_keeps_burner=keeps, end_by_min=by)
            best = _sooner(plan, best)
    return best


def _sooner(plan: Timetable | None, other: Timetable | None) -> Timetable | None:
    """The one of two plans that ends sooner."""
    plans = [p for p in (plan, other) if p is not None]
    return min(plans, key=lambda p: p.finish_min, default=None)


def _no_longer_than(problem: Problem, plan: Timetable) -> Problem:
    """The day as long as a plan: what would end later is given up at once."""
    ends = max([plan.finish_min, *(rest.end_min for rest in plan.breaks)])
    return replace(problem, horizon_min=min(problem.horizon_min, ends))


def with_end_open(
    problem: Problem, search: Search, like: Timetable | None = None
) -> Timetable | None:
    """
    The plan that ends soonest, were the day longer; it may end in time after all.

    A day is searched with more ease where it has a plan to begin with, and what it
    comes to says how much would have to give. ``like`` is a plan of a day like it.
    """
    at, end = Time(search), problem.horizon_min
    open_ = replace(ending_later(problem, LONGER_DAY_MIN), wants=(), first=())
    plan = how_soon(open_, like, end, at).plan
    if plan is None or plan.finish_min <= end:
        return plan
    plan = in_other_orders(open_, plan, end, at, SHARE_OF_ORDERS * at.left())
    if plan.finish_min <= end:
        return plan
    at.turns -= 1
    return soonest(open_, plan, end, at.part(at.left())).plan or plan


def in_other_orders(
    problem: Problem, plan: Timetable, enough: int, at: Time, seconds: float
) -> Timetable:
    """A plan by hand in better orders, in short runs until one ends soon enough."""
    problem = replace(problem, wants=(), done_by_min=None, first=())
    if at.counted:
        day = _no_longer_than(problem, plan)
        return better_start(day, plan, seconds=1e9, tries=ORDERS)
    until = time.monotonic() + min(seconds, at.left())
    seed = 1
    while plan.finish_min > enough and (left := until - time.monotonic()) > 0.01:
        day = _no_longer_than(problem, plan)
        plan = better_start(day, plan, seconds=min(0.25, left), seed=seed)
        seed += 1
    return plan


def searched_on(
    problem: Problem, plan: Timetable, enough: int, at: Time, seconds: float
) -> Timetable:
    """A plan made to end sooner: other orders first, then the search."""
    at.turns -= 1
    until = time.monotonic() + min(seconds, at.left())
    if not is_small(problem):
        plan = in_other_orders(problem, plan, enough, at, 0.5 * seconds)
    if plan.finish_min <= enough:
        return plan
    left = seconds if at.counted else until - time.monotonic()
    found = soonest(problem, plan, enough, at.part(left)).plan
    return plan if found is None else found


def _orders(problem: Problem, like: Timetable | None) -> list[list[Batch]]:
    """The order of a plan of a day like this one, batches it lacks at its end."""
    if like is None:
        return []
    closed: dict[str, int] = {}
    for s in like.steps:
        closed[s.batch] = max(closed.get(s.batch, 0), s.end_min)
    begun: dict[str, int] = {}
    for s in like.steps:
        begun[s.batch] = min(begun.get(s.batch, s.start_min), s.start_min)
    last = len(problem.batches) and max(closed.values(), default=0) + 1
    return [
        sorted(problem.batches, key=lambda b: by.get(b.id, last))
        for by in (closed, begun)
    ]
