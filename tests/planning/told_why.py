"""A day planned, and told why where it has no plan, as the keeper is told."""

from __future__ import annotations

import time
from dataclasses import replace

from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.cpsat.search import Search
from stillroom.planning.plan import plan_day, some_time
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer, NoneFound, NoPlan
from stillroom.planning.why_not.explain import no_plan
from stillroom.planning.why_not.plan_if import in_its_stead


def planned_or_told_why(problem: Problem, seconds: float = 4.0) -> Answer | NoPlan:
    found = plan_day(problem, seconds=seconds)
    return found if isinstance(found, Answer) else told_why(problem, found, seconds)


def told_why(problem: Problem, found: NoneFound, seconds: float) -> NoPlan:
    """Why nothing was found, in as much counted work again, and the ways out."""
    seconds, _ = some_time(seconds)
    search = Search(time.monotonic() + seconds, 2, 1, deterministic=True)
    none = no_plan(
        problem,
        impossible=found.impossible,
        seconds=seconds,
        search=search.at_last(seconds),
        known=Bound(found.bound_min, found.bound_why),
        reached=found.reached,
    )
    return replace(none, plan_if=in_its_stead(problem, none, found.reached))
