"""
Why two boils are never one person's at once, though each takes but half of them.

A pan that is watched until it boils takes two quarters; the moment it boils, the sugar
goes in, and the same person has three or four quarters' work without a gap. Were two
such pans in the same hands, then the one that boils first would leave no attention for
the other. Beside slow stirring of two quarters such a pan fits, but only at the end of
the stirring: whoever stirs on while the pan boils would have none for it.

So each thing of two quarters counts as a whole pair of hands, and what is spared by two
of them side by side is reckoned for the day as a whole: hardly ever can all of them
find another.
"""

from __future__ import annotations

from functools import lru_cache

from stillroom.planning.bounding.bounds import able_people
from stillroom.planning.hot_jars import LABOUR_QUARTERS
from stillroom.planning.network import network_of
from stillroom.planning.problem import Batch, Problem

HALF_OF_ONE = 2
"""Quarters of which two fit in one pair of hands."""


def pans(batch: Batch) -> frozenset[int]:
    """Steps that take half of a person and most of the same one as soon as they end."""
    return frozenset(boil_of(batch))


@lru_cache(maxsize=512)
def boil_of(batch: Batch) -> dict[int, int]:
    """Of each pan, the step that it boils up into; no two share one."""
    network = network_of(batch)
    steps = batch.steps
    found: dict[int, int] = {}
    for i, step in enumerate(steps):
        if step.attention_quarters != HALF_OF_ONE or not step.same_hands:
            continue
        for j, after in enumerate(steps):
            if (
                j not in found.values()  # two in one boil may be side by side
                and after.same_hands == step.same_hands
                and after.attention_quarters >= LABOUR_QUARTERS
                and after.duration_min > 0
                and network.chain_of[j] == network.chain_of[i]
                and network.offset[j] == network.offset[i] + step.duration_min
            ):
                found[i] = j
                break
    return found


def side_by_side_min(problem: Problem, people: frozenset[str]) -> int:
    """
    Most minutes of a day at which someone has two things of two quarters at once.

    Parameters
    ----------
    problem : Problem
        The day.
    people : frozenset of str
        Only what nobody else can do is looked at.

    Returns
    -------
    int
        Minutes, summed over all people. [min]

    Notes
    -----
    Stirrings that touch in one person's hands form a group, in time, of which no three
    are ever at once; a pan can only lie at the end of its last one, and alone with it.
    Who overlaps whom is then a forest. Each overlap lies within a stirring, and those
    within one never add up to more than its length: so the overlaps of a group are
    within half of its stirrings (a vertex cover of a forest), and where their number is
    odd, one pan beside the last may come to that. And since a forest falls into two
    sides, each of which covers all of it, the overlaps are also never more than half of
    all lengths together, a pan for each group included.
    """
    stirred, longest_pan = [], 0
    for batch in problem.batches:
        for i, step in enumerate(batch.steps):
            if step.attention_quarters != HALF_OF_ONE:
                continue
            if not able_people(problem, batch, i) <= people:
                continue
            if i in pans(batch):
                longest_pan = max(longest_pan, step.duration_min)
            else:
                stirred.append(step.duration_min)
    stirred.sort(reverse=True)
    count = len(stirred)
    within_half = max(
        sum(stirred[:pairs]) + (count - 2 * pairs) * longest_pan
        for pairs in range(count // 2 + 1)
    )
    half_of_all = sum(
        max(4 * min(longest_pan, length), 2 * length + longest_pan)
        for length in stirred
    )
    return min(within_half, -(-half_of_all // 4))
