"""
Where a pot comes onto a fire that a canner of hot water stands on.

The minutes for it are nobody's (docs/decisions/0083), so the words stand where the hand
is: at the step that needs the fire.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import inf

from stillroom.in_a_list import all_of
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedStep, Timetable


def canners_off(
    problem: Problem, plan: Timetable
) -> tuple[tuple[PlacedStep, str], ...]:
    """
    Return what needs a fire that a canner has to be taken off, and which canner.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        A plan of it.

    Returns
    -------
    tuple of (PlacedStep, str)
        The first step on its fire after each load of a canner, and the canner; by the
        clock.
    """
    off: list[tuple[PlacedStep, str]] = []
    for canner in problem.canners:
        mine = [load for load in plan.loads if load.canner == canner.id]
        mine.sort(key=lambda load: load.heat_min)
        for n, load in enumerate(mine):
            since = load.stands_until_min
            until = mine[n + 1].heat_min if n + 1 < len(mine) else inf
            pots = [
                s
                for s in plan.steps
                if s.burner in canner.burners and since <= s.start_min < until
            ]
            if pots:
                off.append((min(pots, key=_by_the_clock), canner.id))
    return tuple(sorted(off, key=lambda pair: _by_the_clock(pair[0])))


def _by_the_clock(step: PlacedStep) -> tuple[int, str]:
    return step.start_min, step.batch


def off_first(canners: Iterable[str]) -> str:
    """
    Say at a step that needs their fire that canners come off it.

    >>> off_first(["kettle"])
    'first the kettle off this fire: ladle it down or let it cool, never carry it hot'
    """
    return (
        f"first the {all_of(canners)} off this fire: ladle it down or let it cool, "
        "never carry it hot"
    )
