"""
A large day searched: plans asked for that end sooner, then parts, then one more look.

First comes a plan that ends so much sooner, all of the day free (`aimed`), once more
where it is late on what is promised; then parts of the best one are set free in turn
(`improve`); at last one that ends a minute sooner, or the proof that there is none
(`last_look`). A batch that is not split in the start stays whole in what is searched,
so that only that proof, which has a model of its own, proves anything.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from ortools.sat.python import cp_model

from stillroom.planning.cpsat import objective
from stillroom.planning.cpsat.aimed import search_aimed
from stillroom.planning.cpsat.improve import effort_of, improve
from stillroom.planning.cpsat.last_look import last_look
from stillroom.planning.cpsat.search import Search
from stillroom.planning.cpsat.variables import DayModel
from stillroom.planning.cpsat.watcher import Watcher

SHARE_AIMED = 0.4
"""Of the time, for plans asked for with all of the day free; then come parts."""
SHARE_STILL_LATE = 0.7
"""Of the rest, once more for these, where a want is late even then."""
AGAIN_A_VARIABLE_S = 6e-4
"""With less of it for each variable it finds nothing, and parts get further. [s]"""
PARTS_IN_VAIN = 20
"""So many parts on end of each worker in vain, and the rest is for the last look."""
OTHER_SEEDS = 500
"""Added to the seed, or the same would be asked with the same luck."""
LEAST_AIMED_S = 0.3
"""In less time such a plan is hardly ever found, and all of it is left to parts."""


def searched_in_parts(
    day: DayModel,
    known: cp_model.CpSolver,
    search: Search,
    watcher: Watcher,
    seconds: float,
    for_tidying: float,
    proven: Callable[[], int] | None = None,
) -> tuple[cp_model.CpSolver, float]:
    """
    Search a large day for an end that is sooner, and less that is late.

    Parameters
    ----------
    day : DayModel
        The model; batches that ride in one load do so from now on.
    known : CpSolver
        With values of a plan.
    search : Search
        Workers, seed, whether work is counted, and the clock.
    watcher : Watcher
        Told of better plans; its bound is raised where more is proven.
    seconds, for_tidying : float
        All there is, and what of it is kept for the goals after this. [s]
    proven : callable, optional
        What is proven beside, asked before the last look. [min]

    Returns
    -------
    tuple of CpSolver and float
        With the values of the best plan; and what was left of the seconds.
    """
    _keep_whole(day, known)
    watcher.on_part(known)
    left = (seconds if search.deterministic else search.left()) - for_tidying
    ends, many = objective.end_and_lateness(day), len(day.model.proto.variables)
    floor, told = watcher.found.bound, watcher.on_part
    aimed_s = SHARE_AIMED * left
    if aimed_s >= LEAST_AIMED_S:
        known = search_aimed(day, ends, known, floor, search, aimed_s, told)
        left -= aimed_s
        again_s = SHARE_STILL_LATE * left
        least_s = max(LEAST_AIMED_S, AGAIN_A_VARIABLE_S * many)
        if _is_late(day, known) and again_s >= least_s:
            other = replace(search, seed=search.seed + OTHER_SEEDS)
            known = search_aimed(day, ends, known, floor, other, again_s, told)
            left -= again_s
    known, left = _parts(day, known, search, watcher, left)
    if not search.deterministic:
        left = search.left() - for_tidying
    if left < LEAST_AIMED_S or known.value(ends) <= floor:
        return known, left
    if proven is not None:
        floor = max(floor, proven())
    known, floor = last_look(day, ends, known, floor, search, left, told)
    watcher.found.bound = max(watcher.found.bound, floor)
    return known, 0.0


def _parts(
    day: DayModel,
    known: cp_model.CpSolver,
    search: Search,
    watcher: Watcher,
    seconds: float,
) -> tuple[cp_model.CpSolver, float]:
    """
    Parts of the best plan set free in turn, and what is left where they bring nothing.

    Loads and splits are in the goal too, with less weight than one minute: they choose
    between plans that end at once, and so keep the search moving.
    """
    minute = objective.most_loads_and_splits(day) + 1
    tidy = objective.loads_and_splits(day)
    goal = minute * objective.end_and_lateness(day)
    if tidy is not None:
        goal += tidy
    day.model.minimize(goal)
    effort = effort_of(search, seconds)
    known = improve(
        day,
        goal,
        known,
        effort,
        unit=minute,
        on_better=watcher.on_part,
        at_rest=PARTS_IN_VAIN,
    )
    return known, effort.left_s


def _keep_whole(day: DayModel, known: cp_model.CpSolver) -> None:
    """Batches that ride in one load do so from now on: it hardly ever pays to split."""
    for batch in day.problem.batches:
        rides = [s.aboard[batch.id] for s in day.all_slots() if batch.id in s.aboard]
        if rides and sum(known.value(literal) for literal in rides) == 1:
            day.model.add_exactly_one(rides)


def _is_late(day: DayModel, known: cp_model.CpSolver) -> bool:
    """Whether a plan is late on a want."""
    return any(known.value(minutes) > 0 for _, minutes in day.late)
