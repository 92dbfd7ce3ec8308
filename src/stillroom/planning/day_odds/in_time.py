"""
What a plan is kept by: all as soon as it can, nothing so soon that a wait gives way.

On a day that goes just as planned no longest wait is broken, since none is in the plan.
Begun as soon as hands are free, cucumbers were drained an hour before their vinegar had
a fire, on each of a hundred days: whoever goes by a plan sees that, and waits. So does
a load whose jars would be ready to lift while whoever lifts them is still busy.
"""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.planning.day_odds.forward import TIGHT_MIN, Pass, planned_minutes
from stillroom.planning.judge.check_loads import LIFT_WITHIN_MIN
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.held_back import ON_PURPOSE
from stillroom.planning.waits.precedence import (
    Floor,
    Precedence,
    closing_steps,
    precedence_of,
)


def policy_of(
    problem: Problem, plan: Timetable, *, as_it_went: bool = False
) -> Precedence:
    """
    Return the network of a plan, with what is begun at its planned minute on purpose.

    That is what would make a longest wait give way on a day just as planned: one after
    another, as what is held back may hold another back.
    """
    net = precedence_of(problem, plan, as_it_went=as_it_went)
    waits = list(_longest_waits(net, problem, plan))
    held: set[int] = set()
    while True:
        days = Pass(net).forward(planned_minutes(net))
        too_soon = {
            held_back
            for before, after, most_min, held_back in waits
            if days.start[after, 0] - days.end[before, 0] > most_min + TIGHT_MIN
        }
        if too_soon <= held:
            return net
        net.floors += [
            Floor(node=n, minute=net.nodes[n].start_min, what=ON_PURPOSE)
            for n in sorted(too_soon - held)
        ]
        held |= too_soon


def _longest_waits(
    net: Precedence, problem: Problem, plan: Timetable
) -> Iterator[tuple[int, int, int, int]]:
    """Nodes with a longest wait between them, its minutes, and what is held back."""
    number = net.number
    for batch in problem.batches:
        for link in batch.links:
            if link.at_most_min is not None:
                before = number[batch.id, link.before]
                after = number[batch.id, link.after]
                yield before, after, link.at_most_min, before
    batch_of = {b.id: b for b in problem.batches}
    for load in plan.loads:
        lower = number[load.id, "lower"]
        for name, _ in load.jars:
            batch = batch_of[name]
            closing = [number[name, step] for step in closing_steps(batch)]
            last = max(closing, key=lambda n: net.nodes[n].end_min)
            yield last, lower, batch.closed_wait_at_most_min, last
        # a process that has begun is not held up: the load goes in later
        yield number[load.id, "rest"], number[load.id, "lift"], LIFT_WITHIN_MIN, lower
