"""
What follows from a way out without a search, where there are too few.

With one batch less, less must give. Minutes at the day's end may as well be given at
its start, or at both, where no clock stands against it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stillroom.planning.problem import Problem
from stillroom.planning.way_changes import (
    LONGER_DAY_MIN,
    Change,
    Changes,
    Kind,
    ending_later,
    most_earlier,
)
from stillroom.planning.ways.way_found import Way, base_of, settled
from stillroom.planning.ways.way_hours import Hours
from stillroom.planning.ways.way_plans import (
    Time,
    how_soon,
    searched_on,
)

SHARE = 0.1
"""Of the time that is left, for one batch less."""


def at_the_start(problem: Problem, way: Way, time: Time) -> Iterator[Way]:
    """
    The same minutes at the day's start, all or half of them; if the judge passes it.

    The plan stays as it is, and its first minute is an earlier one; where a rest or
    what is ready at an hour stands against that, its order of work is kept.
    """
    ends = [c.amount for c in way.changes if c.kind is Kind.ENDS]
    if len(ends) != 1 or way.node.room or not way.node.hours.is_plain:
        return
    (over,) = ends
    # what is whole in the way may have put the start earlier already
    most = most_earlier(base_of(problem, way.node))
    for earlier in (over, over // 2):
        if not 0 < earlier <= most:
            continue
        starts = Change(kind=Kind.STARTS, amount=earlier)
        later = Change(kind=Kind.ENDS, amount=over - earlier)
        both = (starts, later) if over > earlier else (starts,)
        node = replace(way.node, hours=Hours(at_end=False))
        found = settled(problem, node, both, way.plan, least=False)
        if found is None:
            found = _in_order_again(problem, way, starts, time)
        if found is not None:
            found.tried = 2  # its minutes are no one figure to be made less
            yield found


def _in_order_again(
    problem: Problem, way: Way, starts: Change, time: Time
) -> Way | None:
    """The day started earlier, its work in the same order; its end later if need be."""
    node = replace(way.node, firm=(*way.node.firm, starts))
    day = base_of(problem, node)
    longer = ending_later(day, LONGER_DAY_MIN)
    plan = how_soon(longer, way.plan, day.horizon_min, time).plan
    given = None if plan is None else node.hours.by_end(day, plan)
    if plan is None or given is None:
        return None
    return settled(problem, node, given.changes, plan, least=False)


def with_one_less(problem: Problem, way: Way, firm: Changes, time: Time) -> Way | None:
    """
    Return a way with one batch less, if its hours or its room are the day's own.

    Parameters
    ----------
    problem : Problem
        The day.
    way : Way
        A way out of it.
    firm : Changes
        What is whole in it, with one batch more that is left out.
    time : Time
        What time there is; without any, the work stays in its order.
    """
    if not way.node.hours.is_plain:
        return None
    node = replace(way.node, firm=firm)
    base = base_of(problem, node)
    longer = ending_later(base, LONGER_DAY_MIN)
    end = base.horizon_min
    plan = how_soon(longer, way.plan, end, time).plan
    if plan is not None and plan.finish_min > end and not time.is_over():
        plan = searched_on(longer, plan, end, time, SHARE * time.left())
    given = None if plan is None else node.hours.by_end(base, plan)
    if plan is None or given is None:
        return None
    return settled(problem, node, given.changes, plan, least=False)
