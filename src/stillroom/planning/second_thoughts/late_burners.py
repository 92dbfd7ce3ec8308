"""
Burners that somebody else gets later than was said, because something is on them still.

A pot is not taken off in the middle of its boil, nor a canner with jars in it. Whoever
was to have the burner is told, once: what the plan so far had known of is not told
again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stillroom.capital import capital
from stillroom.planning.daytime import clock_time
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Burner, Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.load_names import LoadNames
from stillroom.planning.words.hour_words import the_burner
from stillroom.planning.words.step_words import called


@dataclass(frozen=True, slots=True)
class _OnIt:
    """Something that has begun on a burner."""

    says: str
    start_min: int
    planned_end_min: int
    """By the plan so far. [min]"""
    end_min: int


def told_of_late_burners(
    problem: Problem, old: Timetable, happened: Happened, new: Timetable
) -> Iterator[str]:
    """
    Say of each burner from when it is free, and what is on it until then: sentences.

    Parameters
    ----------
    problem : Problem
        The day.
    old : Timetable
        The plan so far.
    happened : Happened
        What has begun.
    new : Timetable
        The plan as it is now.
    """

    def at(minute: int) -> str:
        return clock_time(problem.starts_at, minute)

    for burner in problem.burners:
        for since, until in burner.taken_apart:
            late = [
                one
                for one in _on(problem, burner, old, happened, new)
                if one.start_min < until
                and one.end_min > max(since, one.planned_end_min, happened.now_min)
            ]
            if not late:
                continue
            last = max(late, key=lambda one: one.end_min)
            fire, what = capital(the_burner(burner.id)), last.says
            hours = f"taken {at(since)} to {at(until)}"
            yield f"{fire}, {hours}, is not free before {at(last.end_min)}: {what}."


def _on(
    problem: Problem,
    burner: Burner,
    old: Timetable,
    happened: Happened,
    new: Timetable,
) -> Iterator[_OnIt]:
    """What has begun on a burner, pots and the canners that cover it."""
    batch_of = {b.id: b for b in problem.batches}
    planned = {(s.batch, s.step): s.end_min for s in old.steps}
    for s in happened.steps:
        if s.burner == burner.id:
            end = planned.get((s.batch, s.step), s.end_min)
            says = f"{called(batch_of[s.batch], s.step)} of {s.batch} is on it"
            yield _OnIt(says, s.start_min, end, s.end_min)
    over = {c.id for c in problem.canners if burner.id in c.burners}
    begun = {load.id for load in happened.loads}
    out = {load.id: load.out_min for load in old.loads}
    names = LoadNames(problem, new)
    for load in new.loads:
        if load.canner in over and load.id in begun:
            end = out.get(load.id, load.out_min)
            says = f"{names.name(load.id)} is on it"
            yield _OnIt(says, load.heat_min, end, load.out_min)
