"""A day planned again, judged anew by what it says to give way, and by no more."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from stillroom.planning.begun.limits_said import lifted_too_late, rests_in_time
from stillroom.planning.happened import Happened
from stillroom.planning.judge.check_replan import replan_breaches
from stillroom.planning.judge.check_waits import waits_over
from stillroom.planning.problem import Problem
from stillroom.planning.second_thoughts.limits_over import over_said
from stillroom.planning.second_thoughts.replanned import Replanned
from stillroom.planning.spoken_of import Sentence
from stillroom.planning.timetable import Timetable


def replan_said(
    problem: Problem, happened: Happened, new: Timetable, **given: Any
) -> tuple[str, ...]:
    """What the judge says of a day planned again, in sentences."""
    return tuple(
        str(one.said) for one in replan_breaches(problem, happened, new, **given)
    )


def plainly(limits: Iterable[tuple[Sentence, int]]) -> tuple[tuple[str, int], ...]:
    """Limits that give way, as they are said with the plan's own ids."""
    return tuple((str(what), over) for what, over in limits)


def judged(found: Replanned) -> tuple[str, ...]:
    """What the judge says beyond what is named; a limit counts with its minutes."""
    problem, then, new = found.problem, found.happened, found.new
    over = waits_over(problem, then, new)
    named = {
        limit: minutes
        for limit, minutes in over.items()
        if set(over_said(problem, {limit: minutes})) <= set(found.broken)
    }
    said = {what for what, _ in found.broken}
    return replan_said(
        problem,
        then,
        new,
        longer_min=found.longer_min,
        ends_later_min=found.past_the_end_min,
        more_places=found.more_places,
        given_way=named,
        lifted_late=[x.id for x in then.loads if lifted_too_late(x.id) in said],
        rests_late=[p.id for p in problem.people if rests_in_time(p.id) in said],
    )
