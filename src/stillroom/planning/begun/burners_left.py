"""
Burners that are taken, as they are left to a day that has begun.

Nobody takes a pot off in the middle of its boil, nor a canner with a running clock:
who is to have the burner gets it after that.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.happened import Happened
from stillroom.planning.problem import Burner, Canner, Problem


def burners_left(problem: Problem, happened: Happened) -> tuple[Burner, ...]:
    """
    Return the burners of a day, each taken from when what is on it now has ended.

    Parameters
    ----------
    problem : Problem
        The day.
    happened : Happened
        What has begun.

    Returns
    -------
    tuple of Burner
        Hours that have gone by stay: nothing was warmed there meanwhile.
    """
    return tuple(
        replace(burner, taken=_after_what_runs(problem, burner, happened))
        if burner.taken
        else burner
        for burner in problem.burners
    )


def was_taken(problem: Problem, canner: Canner, since_min: int, until_min: int) -> bool:
    """Whether a canner had to leave one of its burners between two minutes."""
    return any(
        start < until_min and end > since_min
        for burner in problem.burners
        if burner.id in canner.burners
        for start, end in burner.taken_apart
    )


def _after_what_runs(
    problem: Problem, burner: Burner, happened: Happened
) -> tuple[tuple[int, int], ...]:
    now = happened.now_min
    over = {c.id for c in problem.canners if burner.id in c.burners}
    ends = [s.end_min for s in happened.steps if s.burner == burner.id]
    # a canner stands there until its jars are out, which may be later still
    ends += [
        max(load.done_min, now)
        for load in happened.loads
        if load.canner in over and load.out_min > now
    ]
    free = max((end for end in ends if end >= now), default=0)
    return tuple(
        (start if end <= now else max(start, free), end)
        for start, end in burner.taken_apart
        if end <= now or end > free
    )
