"""
Where a pot comes onto a fire that a canner of hot water stands on.

The minutes for it are nobody's (docs/decisions/0083), so the words stand where the hand
is: at the step that needs the fire.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import inf

from stillroom.in_a_list import all_of
from stillroom.planning.problem import Canner, Problem
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
    for canner, since, until in _stands_idle(problem, plan):
        pots = _pots(plan, canner, since, until)
        taken = _taken(problem, canner, since, until)
        if pots and not any(start < pots[0].start_min for start, _ in taken):
            off.append((pots[0], canner.id))
    return tuple(sorted(off, key=lambda pair: _by_the_clock(pair[0])))


def canners_off_for_others(
    problem: Problem, plan: Timetable
) -> tuple[tuple[int, str, str], ...]:
    """
    Return when a canner has to be off a burner that is taken then, and which it is.

    Returns
    -------
    tuple of (int, str, str)
        The minute, the burner and the canner; by the clock.
    """
    off: list[tuple[int, str, str]] = []
    for canner, since, until in _stands_idle(problem, plan):
        pots = _pots(plan, canner, since, until)
        taken = _taken(problem, canner, since, until)
        if taken and not any(s.start_min <= taken[0][0] for s in pots):
            off.append((*taken[0], canner.id))
    return tuple(sorted(off))


def _stands_idle(
    problem: Problem, plan: Timetable
) -> Iterator[tuple[Canner, int, float]]:
    """A canner that has had a load, since when, and until its next one."""
    for canner in problem.canners:
        mine = [load for load in plan.loads if load.canner == canner.id]
        mine.sort(key=lambda load: load.heat_min)
        for n, load in enumerate(mine):
            until = mine[n + 1].heat_min if n + 1 < len(mine) else inf
            yield canner, load.stands_until_min, until


def _pots(
    plan: Timetable, canner: Canner, since: int, until: float
) -> list[PlacedStep]:
    """What comes onto a canner's burners meanwhile, by the clock."""
    on = (s for s in plan.steps if s.burner in canner.burners)
    return sorted((s for s in on if since <= s.start_min < until), key=_by_the_clock)


def _taken(
    problem: Problem, canner: Canner, since: int, until: float
) -> list[tuple[int, str]]:
    """When its burners are somebody else's meanwhile, from the first on."""
    return sorted(
        (start, burner.id)
        for burner in problem.burners
        if burner.id in canner.burners
        for start, _ in burner.taken_apart
        if since <= start < until
    )


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
