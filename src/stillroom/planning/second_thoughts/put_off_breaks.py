"""
What the old order breaks where it is put off, and by how many minutes.

People stay on and the day ends later, as in a plan that was searched for, and waits and
hours are over by so many minutes; what else gives way the judge finds.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from stillroom.planning.happened import Happened
from stillroom.planning.judge.check_loads import LIFT_WITHIN_MIN
from stillroom.planning.judge.check_replan import replan_breaches
from stillroom.planning.judge.check_waits import waits_over
from stillroom.planning.problem import Problem
from stillroom.planning.second_thoughts.limits_over import (
    lifts_and_rests_said,
    over_said,
)
from stillroom.planning.spoken_of import Sentence
from stillroom.planning.timetable import Timetable


@dataclass(frozen=True, slots=True, kw_only=True)
class GivesWay:
    """What the old order breaks where it is put off."""

    broken: tuple[tuple[Sentence, int], ...]
    """Limits and by how much they give way, the largest first. [min]"""
    longer_min: dict[str, int]
    """Who stays on, and for how long. [min]"""
    workable: bool
    """Whether it breaks limits alone, and no rule that nothing found may break."""


def what_gives_way(
    problem: Problem, happened: Happened, new: Timetable, firm: Collection[str]
) -> GivesWay:
    """
    Return the limits that give way and by how much, and who stays on for how long.

    Parameters
    ----------
    problem, happened : Problem, Happened
        The day, and what has begun of it.
    new : Timetable
        The whole day, under the old order.
    firm : collection of str
        People who do not stay longer: what they would have to do is a limit that gives.
    """
    longer = {
        name: over
        for name, over in stays_on(problem, new).items()
        if over and name not in firm
    }
    lifts = dict(lifted_late_min(problem, new))
    rests = dict(_rests_late(problem, happened, new))
    waits = waits_over(problem, happened, new)
    others = replan_breaches(
        problem,
        happened,
        new,
        longer_min=longer,
        ends_later_min=max(0, new.finish_min - problem.horizon_min),
        lifted_late=tuple(lifts),
        rests_late=tuple(rests),
        given_way=waits,
    )
    broken = [
        *lifts_and_rests_said(lifts, rests),
        *over_said(problem, waits),
        # of a pan that changes hands the judge says the same at each of its steps
        *((said, 0) for said in dict.fromkeys(one.said for one in others)),
    ]
    return GivesWay(
        broken=tuple(sorted(broken, key=lambda b: -b[1])),
        longer_min=longer,
        workable=not others,
    )


def stays_on(problem: Problem, new: Timetable) -> dict[str, int]:
    """Minutes that everybody works after the hour at which they leave."""
    last = {p.id: 0 for p in problem.people}
    ends = [(s.person, s.end_min) for s in new.steps]
    ends += [(load.lowered_by, load.lowered_min) for load in new.loads]
    ends += [(load.lifted_by, load.out_min) for load in new.loads]
    ends += [(rest.person, rest.end_min) for rest in new.breaks]
    for who, end in ends:
        if who in last:
            last[who] = max(last[who], end)
    return {p.id: max(0, last[p.id] - p.leaves_min) for p in problem.people}


def lifted_late_min(problem: Problem, new: Timetable) -> Iterator[tuple[str, int]]:
    """Loads that stay in the water for too long, and by how many minutes."""
    rest_of = {canner.id: canner.rest_min for canner in problem.canners}
    for load in new.loads:
        over = load.lift_min - load.done_min - rest_of[load.canner] - LIFT_WITHIN_MIN
        if over > 0:
            yield load.id, over


def _rests_late(
    problem: Problem, happened: Happened, new: Timetable
) -> Iterator[tuple[str, int]]:
    """Whose rest begins later than was meant, of those that have not begun."""
    for person in problem.people:
        left = list(person.breaks)
        begins = []
        for rest in new.breaks:
            if rest.person != person.id:
                continue
            if rest not in happened.breaks:
                begins.append(rest.start_min)
                continue
            length = rest.end_min - rest.start_min
            left.sort(key=lambda b: (abs(b.duration_min - length), b.earliest_min))
            del left[:1]
        latest = sorted(b.latest_start_min for b in left)
        # one after another; where one of them fell out, it was the first
        late = zip(sorted(begins, reverse=True), reversed(latest), strict=False)
        over = max((start - most for start, most in late), default=0)
        if over > 0:
            yield person.id, over
