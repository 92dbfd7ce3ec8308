"""Why nothing fits, in words, and what would help."""

from __future__ import annotations

from stillroom.planning.cpsat.solve import Search
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import NoPlan


def no_plan(
    problem: Problem,
    *,
    impossible: bool,
    seconds: float,
    search: Search,
    spent_s: float,
) -> NoPlan:
    return NoPlan(
        clashes=("no plan was found",), minimal=False, would_help=(), solve_s=spent_s
    )
