"""By how much a plan misses the wants, and the figure that plans are compared by."""

from __future__ import annotations

from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import Timetable

POINTS_A_LATE_MINUTE = 2
"""A late minute of weight 1 counts as much as finishing this many minutes later."""


def ready_step(batch: Batch) -> str | None:
    """Id of the step after which the goods are there; `None`: after the last."""
    return batch.ready_after or None


def batches_done_min(problem: Problem, timetable: Timetable) -> dict[str, int]:
    """
    Minute at which all goods of each batch are there.

    Jars that go through a canner: when the last of them is out. Other goods: at the end
    of the step that closes them.
    """
    done: dict[str, int] = {}
    closing = {b.id: ready_step(b) for b in problem.batches if b.process is None}
    for placed in timetable.steps:
        if placed.batch in closing and closing[placed.batch] in (None, placed.step):
            done[placed.batch] = max(done.get(placed.batch, 0), placed.end_min)
    for load in timetable.loads:
        for batch, _ in load.jars:
            done[batch] = max(done.get(batch, 0), load.out_min)
    return done


def weighted_lateness(problem: Problem, timetable: Timetable) -> int:
    """Minutes by which each want is missed times its weight, summed."""
    done = batches_done_min(problem, timetable)
    late = 0
    for want in problem.wants:
        made = [done[b.id] for b in problem.batches if b.product == want.product]
        late += want.weight * max(0, max(made, default=0) - want.by_min)
    return late


def score(problem: Problem, timetable: Timetable) -> int:
    """Finish plus points of lateness: what the planner makes small first."""
    late = weighted_lateness(problem, timetable)
    return timetable.finish_min + POINTS_A_LATE_MINUTE * late
