"""
The plan a careful person would write: batch after batch, nothing moved once placed.

It is the fair figure to compare a better plan with, and the place where the search for
one starts. Goods with a due date come first, else the order of the list (once with the
longest batches first; the better of the two is kept). Each batch takes the earliest
minute at which its pot is free and its steps find hands and fire.
"""

from __future__ import annotations

import random
import time
from collections.abc import Iterator
from itertools import count

from stillroom.planning.bounding.too_many_jars import none_in_time
from stillroom.planning.hand import free_time
from stillroom.planning.hand.hand_batch import Placing
from stillroom.planning.how_good.lateness import score
from stillroom.planning.network import network_of
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import Timetable

FEW_BATCHES = 4
"""With fewer the search needs no better start."""
AN_ORDER_S = 0.0005
"""What an order takes at least: so that all work comes to its end. [s]"""
SHARE_SHUFFLED = 0.2
"""Share of the orders that are shuffled, where the others differ by one move."""


def by_hand(
    problem: Problem,
    *,
    seconds: float = 0.4,
    shuffle_seconds: float = 2.0,
    shuffles: int | None = None,
    work_s: float | None = None,
    seed: int = 1,
) -> Timetable | None:
    """
    Plan a day as a careful person would.

    Parameters
    ----------
    problem : Problem
        A day whose links and names hold together.
    seconds : float
        After this long no further simple order is tried once one has fitted. [s]
    shuffle_seconds : float
        How long shuffled orders are tried where no simple order fits. [s]
    shuffles : int, optional
        How many shuffled orders are tried, in place of how long.
    work_s : float, optional
        How much work goes into shuffled orders, in place of how long; every simple
        order is tried then. The same plan on every run. [s]
    seed : int
        For the shuffling.

    Returns
    -------
    Timetable or None
        The best of the plans; `None` where no order fits into the day.
    """
    if none_in_time(problem):
        return None
    began = time.monotonic()
    best: Timetable | None = None
    tried: set[tuple[str, ...]] = set()
    for keeps_burner in (True, False):  # the rigid rule first: a canner stays put
        for order in _simple_orders(problem):
            names = (str(keeps_burner), *(b.id for b in order))
            if names in tried:
                continue
            tried.add(names)
            plan = plan_in_order(problem, order, canner_keeps_burner=keeps_burner)
            if plan and (best is None or score(problem, plan) < score(problem, best)):
                best = plan
            late = work_s is None and time.monotonic() - began > seconds
            if best and late:
                return best
        if best:
            return best
    tally = free_time.Tally()
    for n, order in enumerate(shuffled_orders(problem, seed)):
        if _enough(n, shuffles, tally, work_s, began + shuffle_seconds):
            break
        for keeps_burner in (True, False):
            plan = plan_in_order(
                problem, order, canner_keeps_burner=keeps_burner, tally=tally
            )
            if plan:
                return plan
    return None


def better_start(
    problem: Problem,
    plan: Timetable,
    *,
    seconds: float,
    tries: int | None = None,
    work_s: float | None = None,
    seed: int = 1,
) -> Timetable:
    """
    A better plan by the same rule: batches put into other orders, one move at a time.

    No person would try so many; it is a start for the search, not the plan to compare
    with. Days of few batches are left to the search.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        A plan that holds.
    seconds : float
        How long orders are tried. [s]
    tries : int, optional
        How many are tried, in place of how long.
    work_s : float, optional
        How much work goes into it, in place of how long: the same on every run. [s]
    seed : int
        For the moves.

    Returns
    -------
    Timetable
        The best plan found; ``plan`` itself where none is better.
    """
    if len(problem.batches) < FEW_BATCHES:
        return plan
    began = time.monotonic()
    drawn = random.Random(seed)
    shuffled = shuffled_orders(problem, seed)
    first_start = {b.id: problem.horizon_min for b in problem.batches}
    closed = {(b.id, b.ready_after) for b in problem.batches}
    for s in plan.steps:
        if (s.batch, s.step) in closed:
            first_start[s.batch] = s.end_min
    order = sorted(problem.batches, key=lambda b: first_start[b.id])
    best, worth = plan, score(problem, plan)
    tally = free_time.Tally()
    for n in count():
        if _enough(n, tries, tally, work_s, began + seconds):
            break
        if drawn.random() < SHARE_SHUFFLED:
            other = next(shuffled)
        else:
            other = list(order)
            moved = other.pop(drawn.randrange(len(other)))
            other.insert(drawn.randrange(len(other) + 1), moved)
        keeps = drawn.random() < 0.5
        found = plan_in_order(
            problem, other, canner_keeps_burner=keeps, end_by_min=worth, tally=tally
        )
        if found is not None and score(problem, found) <= worth:
            best, worth, order = found, score(problem, found), other
    return best


def _enough(
    tried: int,
    tries: int | None,
    tally: free_time.Tally,
    work_s: float | None,
    moment: float,
) -> bool:
    """Whether enough was tried: by number, by work, or by the clock."""
    if tries is not None:
        return tried >= tries
    if work_s is not None:
        return tally.work_s + tried * AN_ORDER_S >= work_s
    return time.monotonic() > moment


def shuffled_orders(problem: Problem, seed: int) -> Iterator[list[Batch]]:
    """
    Orders near the listed one, without end: long batches spread over the day, or swaps.

    Every third is shuffled through and through.
    """
    shuffler = random.Random(seed)
    base = _simple_orders(problem)[0]
    if len(base) < 2:
        return
    tails = {b.id: max(network_of(b).tail, default=0) for b in base}
    middle = (min(tails.values()) + max(tails.values())) / 2
    long = [b for b in base if tails[b.id] > middle]
    short = [b for b in base if tails[b.id] <= middle]
    while True:
        shuffler.shuffle(long)
        apart = len(base) / max(1, len(long)) * shuffler.uniform(0.5, 1.0)
        placed = [
            (n * apart + shuffler.uniform(-2, 1), b) for n, b in enumerate(long)
        ] + [(n * len(base) / max(1, len(short)), b) for n, b in enumerate(short)]
        yield [b for _, b in sorted(placed, key=lambda pair: pair[0])]
        jittered = [(n + shuffler.uniform(0, 8), b) for n, b in enumerate(base)]
        yield [b for _, b in sorted(jittered, key=lambda pair: pair[0])]
        mixed = list(base)
        shuffler.shuffle(mixed)
        yield mixed


def _ends_min(kitchen: free_time.FreeKitchen) -> int:
    steps = max((s.end_min for s in kitchen.steps), default=0)
    loads = (held.placed.out_min for line in kitchen.loads.values() for held in line)
    return max(steps, max(loads, default=0))


def _simple_orders(problem: Problem) -> list[list[Batch]]:
    due = {w.product: w.by_min for w in problem.wants}
    listed = list(problem.batches)
    by_date = sorted(listed, key=lambda b: due.get(b.product, problem.horizon_min + 1))
    longest = {b.id: max(network_of(b).tail, default=0) for b in listed}
    long_first = sorted(by_date, key=lambda b: -longest[b.id])
    return [by_date, long_first, listed]


def plan_in_order(
    problem: Problem,
    order: list[Batch],
    *,
    canner_keeps_burner: bool,
    end_by_min: int | None = None,
    tally: free_time.Tally | None = None,
) -> Timetable | None:
    """
    The plan when batches are placed in ``order``; `None` where one does not fit.

    With ``end_by_min`` it is given up as soon as something ends later than that.
    ``tally`` is told how much was tried.
    """
    if none_in_time(problem):
        return None
    kitchen = free_time.empty_kitchen(problem, canner_keeps_burner=canner_keeps_burner)
    if kitchen is None:
        return None
    if tally is not None:
        kitchen.tally = tally
    for batch in order:
        if not Placing(problem, kitchen, batch, canner_keeps_burner).place():
            return None
        if end_by_min is not None and _ends_min(kitchen) > end_by_min:
            return None
    loads = [held.placed for line in kitchen.loads.values() for held in line]
    loads.sort(key=lambda load: (load.lower_min, load.id))
    steps = sorted(kitchen.steps, key=lambda s: (s.start_min, s.batch, s.end_min))
    return Timetable(
        steps=tuple(steps), loads=tuple(loads), breaks=tuple(kitchen.breaks)
    )
