"""
What is cut, washed or weighed and then stands until it is cooked, done closer to that.

A search places such work anywhere within the time for which it may stand, at the very
edge of it as well: then any slower day breaks that limit. Where the same hands are free
later they do it later, in the middle of the time that they have for it: so there is
room on both sides. Where they are at something else in that middle, they do it as soon
as that is over, if it then stands nearer to half of its time.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable
from dataclasses import replace

from stillroom.methods.step import Step
from stillroom.planning.how_good.free_pieces import busy
from stillroom.planning.how_good.what_is_better import what_is_better
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import PlacedStep, Timetable


def standing_less(
    problem: Problem, plan: Timetable, *, is_over: Callable[[], bool] = lambda: False
) -> Timetable:
    """
    Move work of hands alone towards what must not wait long for it.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        A plan that holds.
    is_over : callable
        Whether nothing is to be moved any more.

    Returns
    -------
    Timetable
        The same plan otherwise: same hands, no rule broken, and by the goals in their
        order no worse. A later goal may be worse where an earlier one is better.
    """
    batches = {batch.id: batch for batch in problem.batches}
    # the last first: what comes before it has then its room
    for placed in sorted(plan.steps, key=lambda s: -s.start_min):
        batch = batches[placed.batch]
        step = next(s for s in batch.steps if s.id == placed.step)
        too_long = _stands_too_long_min(batch, placed, plan)
        if too_long < 1 or not _is_of_hands_alone(step, batch):
            continue
        if is_over():
            break

        def breaks(later: int, now: Timetable = plan, s: PlacedStep = placed) -> bool:
            return bool(violations(problem, _later(now, s, later)))

        room = bisect_right(range(1, 2 * too_long + 1), False, key=breaks)
        middle = min(too_long, (room + 1) // 2)
        behind = _behind(problem, plan, placed)
        for later in _nearest_first({middle, *behind}, too_long):
            moved = _later(plan, placed, later)
            if not (breaks(later) or what_is_better(problem, moved, problem, plan)):
                plan = moved
                break
    return plan


def _behind(problem: Problem, plan: Timetable, placed: PlacedStep) -> list[int]:
    """By how much later it is done right behind what else the same hands do. [min]"""
    who = next(person for person in problem.people if person.id == placed.person)
    taken = {*busy(plan, who), *who.away}
    taken |= {(r.start_min, r.end_min) for r in plan.breaks if r.person == who.id}
    taken -= {(placed.start_min, placed.end_min)}
    return [end - placed.start_min for _, end in taken]


def _nearest_first(laters: Iterable[int], too_long: int) -> list[int]:
    """What brings it nearer to half of its time, the nearest first, then the sooner."""
    nearer = (later for later in laters if 0 < later < 2 * too_long)
    return sorted(nearer, key=lambda later: (abs(later - too_long), later))


def _is_of_hands_alone(step: Step, batch: Batch) -> bool:
    """Whether hands may do it at any time: cold, not hurried, with no tool."""
    tools = step.burner_w or step.in_pot or step.on_mill
    bound = step.critical or step.same_hands or step.id == batch.ready_after
    return bool(step.attention_quarters) and not tools and not bound


def _stands_too_long_min(batch: Batch, placed: PlacedStep, plan: Timetable) -> int:
    """By how much it stands for more than half of its time until what follows. [min]"""
    starts = {s.step: s.start_min for s in plan.steps if s.batch == batch.id}
    return max(
        (
            starts[link.after] - placed.end_min - link.at_most_min // 2
            for link in batch.links
            if link.before == placed.step and link.at_most_min is not None
        ),
        default=0,
    )


def _later(plan: Timetable, placed: PlacedStep, minutes: int) -> Timetable:
    start, end = placed.start_min + minutes, placed.end_min + minutes
    moved = replace(placed, start_min=start, end_min=end)
    steps = (moved if s == placed else s for s in plan.steps)
    in_order = sorted(steps, key=lambda s: (s.start_min, s.batch, s.end_min))
    return replace(plan, steps=tuple(in_order))
