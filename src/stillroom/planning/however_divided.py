"""
Whether what is proven of a day's end holds however its packs are divided into pots.

A search proves its bound for the batches that it is given. Where the same jars could be
divided otherwise, the bound is one of the kitchen only if each of the other divisions
has a bound as late; else it is one of these batches.
"""

from __future__ import annotations

from itertools import product
from math import prod

from stillroom.planning.asked import Asked
from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.bounding.windows import window_bound_min
from stillroom.planning.how_good.lateness import POINTS_A_LATE_MINUTE
from stillroom.planning.problem import Problem
from stillroom.planning.stated import Stated
from stillroom.planning.timetable import Answer
from stillroom.planning.which_batches.day_divided import Sizes
from stillroom.planning.which_batches.sizes import sensible_divisions
from stillroom.planning.why_not.unworkable import unworkable
from stillroom.refusal import Refusal

MOST_DIVISIONS = 48
"""So many divisions of all packs together are gone through; beyond, nothing is claimed
of the others: each takes some hundredths of a second. A choice of ours."""


def holds_however_divided(asked: Asked, stated: Stated, answer: Answer) -> bool:
    """
    Whether no other division of the packs can end before the bound of an answer.

    Parameters
    ----------
    asked : Asked
        The day.
    stated : Stated
        Its batches as they are divided, and what a search has proven of others.
    answer : Answer
        A plan of these.
    """
    ways = {
        name: of_group
        for name, of_group in sensible_divisions(stated.found.made, asked.place).items()
        if len(of_group) > 1
    }
    if not ways:
        return True
    if prod(map(len, ways.values())) > MOST_DIVISIONS:
        return False
    rule = {name: of_group[0].sizes for name, of_group in ways.items()}
    planned = {**rule, **stated.sizes}
    for chosen in product(*ways.values()):
        one = dict(zip(ways, (way.sizes for way in chosen), strict=True))
        other = {name: sizes for name, sizes in one.items() if sizes != rule[name]}
        if one != planned and not _is_no_sooner(asked, stated, answer, other):
            return False
    return True


def _is_no_sooner(asked: Asked, stated: Stated, answer: Answer, other: Sizes) -> bool:
    """Whether it is proven that no plan of another division ends before the bound."""
    least = answer.lower_bound_min
    sized = stated.found.sized
    for sizes, bound in () if sized is None else sized.bounds:
        # of plans that are no later on the wants than the one that is given
        ends = bound - POINTS_A_LATE_MINUTE * answer.lateness
        if sizes == other and ends >= least:
            return True
    problem = asked.problem(asked.batches(other))
    if isinstance(problem, Refusal) or unworkable(problem):
        return True  # it cannot be made so
    return _least_end_min(problem, least) >= least


def _least_end_min(problem: Problem, enough: int) -> int:
    """A minute before which no plan of a division ends; no further than is asked."""
    plain = lower_bound_min(problem)
    return plain if plain >= enough else window_bound_min(problem, plain)
