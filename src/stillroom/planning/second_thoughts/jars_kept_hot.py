"""Empty jars that a plan lets stand hot for longer than they should: what is done."""

from __future__ import annotations

from stillroom.methods.jars import HEAT_JARS
from stillroom.planning.happened import Happened
from stillroom.planning.judge.check_waits import waits_over
from stillroom.planning.problem import Problem
from stillroom.planning.second_thoughts.limits_over import over_said
from stillroom.planning.spoken_of import Sentence
from stillroom.planning.timetable import Timetable

KEPT_HOT = (
    "top their water up from the kettle, or let them stand and heat them again: they "
    "are hot through when they are filled, and what was boiled stays under the water "
    "or is boiled again, its whole minutes (common practice, no source)"
)
"""Nothing is lost by it, so it is no food that stands."""


def jars_kept_hot(
    problem: Problem, happened: Happened, new: Timetable
) -> frozenset[Sentence]:
    """Return the limits of jars in hot water that a plan does not keep, in words."""
    over = {
        limit: minutes
        for limit, minutes in waits_over(problem, happened, new).items()
        if limit[1] == HEAT_JARS
    }
    return frozenset(said for said, _ in over_said(problem, over))
