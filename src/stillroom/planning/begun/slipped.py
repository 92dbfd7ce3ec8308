"""
The day up to now where a few steps or loads were late and nothing else was said.

What was held up was begun after it, in the plan's order, as soon as what it waits for
was over. By now it may be long done: a step that ended an hour ago holds up nobody any
more. Nor is a load lowered into a canner that still holds the one before.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.put_off import put_off, timetable_put_off
from stillroom.planning.happened import Happened, Key
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad, PlacedStep, Timetable


def as_it_slipped(
    problem: Problem,
    plan: Timetable,
    now_min: int,
    late_min: Mapping[Key, int],
    loads: Iterable[PlacedLoad] = (),
) -> Happened:
    """
    Take the day to have gone in the plan's order, each thing after what was late.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        Its plan.
    now_min : int
        Minute of the day.
    late_min : mapping
        (batch, step) to minutes by which it ends later than planned; a step that
        something before it pushed further than that ends when it is pushed to.
    loads : iterable of PlacedLoad
        Loads of which somebody said how they went.

    Raises
    ------
    Unreadable
        If a late step is not in the plan.
    """
    as_told = as_planned(problem, plan, now_min, late_min=late_min)
    planned = {(s.batch, s.step): s for s in plan.steps}
    late = tuple(load for load in loads if _is_late(load, plan))
    runs_on = all(planned[key].end_min + by >= now_min for key, by in late_min.items())
    if runs_on and not late:
        return as_told  # it runs still: what waits for it has not begun
    went, true = plan, dict[Key, PlacedStep]()
    if late:
        known = Happened(now_min=now_min, steps=(), loads=late)
        went = timetable_put_off(plan, known, put_off(problem, plan, known, past=True))
    for key in sorted(late_min, key=lambda key: planned[key].start_min):
        one = next(s for s in went.steps if (s.batch, s.step) == key)
        end = max(one.end_min, planned[key].end_min + late_min[key])
        true[key] = replace(one, end_min=end)
        known = Happened(now_min=now_min, steps=tuple(true.values()), loads=late)
        went = timetable_put_off(plan, known, put_off(problem, plan, known, past=True))
    return as_planned(problem, _kept_hot(plan, went), now_min)


def _is_late(load: PlacedLoad, plan: Timetable) -> bool:
    was = next(one for one in plan.loads if one.id == load.id)
    return (
        load.lower_min > was.lower_min
        or load.boil_min > was.boil_min
        or load.out_min > was.out_min
    )


def _kept_hot(plan: Timetable, went: Timetable) -> Timetable:
    """The flame stays on under a canner until the next load that starts hot."""
    later = {load.id: load for load in went.loads}
    follows = {
        load.id: later[other.id].lower_min
        for load in plan.loads
        for other in plan.loads
        if other.hot
        and other.canner == load.canner
        and other.lower_min == load.fire_free_min
    }

    def with_flame(load: PlacedLoad) -> PlacedLoad:
        fire = max(load.done_min, follows.get(load.id, load.fire_free_min))
        return replace(load, fire_free_min=fire)

    return replace(went, loads=tuple(with_flame(load) for load in went.loads))
