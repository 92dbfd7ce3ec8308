"""By how much a plan misses the wants, and the figure that plans are compared by."""

from __future__ import annotations

from stillroom.planning.problem import Batch, Problem, Want
from stillroom.planning.timetable import Timetable

POINTS_A_LATE_MINUTE = 2
"""A late minute of weight 1 counts as much as finishing this many minutes later."""


def ready_step(batch: Batch) -> str | None:
    """Id of the step after which the goods are there; `None`: after the last."""
    return batch.ready_after or None


def batches_done_min(problem: Problem, timetable: Timetable) -> dict[str, int]:
    """
    Minute at which all goods of each batch are there.

    Jars that go through a canner: when the last of them is out, but for those without a
    whole process: they never are. Other goods: at the end of the step that closes them.
    """
    done: dict[str, int] = {}
    closing = {b.id: ready_step(b) for b in problem.batches if b.process is None}
    for placed in timetable.steps:
        if placed.batch in closing and closing[placed.batch] in (None, placed.step):
            done[placed.batch] = max(done.get(placed.batch, 0), placed.end_min)
    for load in timetable.loads:
        if load.is_cut_short:
            continue
        for batch, _ in load.jars:
            done[batch] = max(done.get(batch, 0), load.out_min)
    return done


def late_wants(problem: Problem, timetable: Timetable) -> tuple[tuple[Want, int], ...]:
    """
    Every want and the minutes by which it is missed, 0 where it is met.

    A batch that is not in this plan, since it was taken in later, makes nothing late.
    """
    done = batches_done_min(problem, timetable)
    late = []
    for want in problem.wants:
        of_it = [b.id for b in problem.batches if want.product in b.serves]
        made = max((done[name] for name in of_it if name in done), default=0)
        late.append((want, max(0, made - want.by_min)))
    return tuple(late)


def weighted_lateness(problem: Problem, timetable: Timetable) -> int:
    """Minutes by which each want is missed times its weight, summed."""
    return sum(want.weight * over for want, over in late_wants(problem, timetable))


def score(problem: Problem, timetable: Timetable) -> int:
    """Finish plus points of lateness: what the planner makes small first."""
    late = weighted_lateness(problem, timetable)
    return timetable.finish_min + POINTS_A_LATE_MINUTE * late
