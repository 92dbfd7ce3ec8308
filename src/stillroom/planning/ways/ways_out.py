"""
The cheapest ways out of a day that does not fit, each of them solved.

`way_search` finds them; here they are said, and their plans searched on.
"""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from stillroom.in_a_list import all_of
from stillroom.planning.cpsat.solve import Search, find_timetable, is_small
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.due_words import jars_due
from stillroom.planning.hand.by_hand import better_start
from stillroom.planning.how_good.lateness import (
    batches_done_min,
    score,
    weighted_lateness,
)
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import (
    LESS_BREAKS_A_PROMISE,
    LESS_DOES_NOT_DO,
    NoPlan,
    Timetable,
    WayOut,
)
from stillroom.planning.way_changes import (
    WHOLE,
    Changes,
    changed,
    cost_of,
    said,
)
from stillroom.planning.ways.held_plan import PlanOfSome
from stillroom.planning.ways.way_cheaper import LEAST_S, make_cheaper
from stillroom.planning.ways.way_costs import Costs
from stillroom.planning.ways.way_found import Way
from stillroom.planning.ways.way_plans import ORDERS, Time
from stillroom.planning.ways.way_search import WAYS, Finder
from stillroom.planning.ways.way_shared import share_minutes
from stillroom.planning.ways.way_tight import begun_sooner, tightened

SHARE_OF_PLANS = 0.25
"""Of the time, for the plans of the ways that were found: when each is done."""
MORE = 5
"""So many are searched on where what is promised for an hour comes late."""
SHARE_OF_ORDERS = 0.4
"""Of the time for the plan of one way of a large day, for other orders of it."""


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways out that were found, and why there are no more.

    The plan that is shown stands last among them, and is not counted.
    """

    ways: tuple[WayOut, ...]
    why_fewer: str = ""
    """Why there are fewer than three; empty where there are three."""


def ways_out(
    problem: Problem,
    search: Search,
    *,
    missed: Sequence[str] = (),
    a_jar_min: Mapping[str, int] | None = None,
    reached: Timetable | None = None,
    shown: PlanOfSome | None = None,
) -> Ways:
    """
    Return the three cheapest ways out, the cheapest first.

    Parameters
    ----------
    problem : Problem
        A day without a plan.
    search : Search
        Time and threads for all of them.
    missed : sequence of str
        Ids of batches, those that would be missed most first; the last of a product is
        left out first. As the day lists them where none is given.
    a_jar_min : mapping, optional
        What a jar of each batch weighs that is left out. [min]
    reached : Timetable, optional
        The plan that the search for the day came to with its end left open.
    shown : PlanOfSome, optional
        Batches that fit, with the plan that is shown of them. That way stands last, and
        the three are others. Where batches that would be missed more turn out to fit,
        theirs is the plan to be shown.
    """
    for_plans = 0.0 if search.deterministic else SHARE_OF_PLANS * search.left()
    finder = Finder(
        problem,
        Time(replace(search, until=search.until - for_plans)),
        Costs(problem),
        missed,
        reached,
        a_jar_min or {},
        shown,
    )
    finder.begin()
    if finder.fits_after_all is None:
        finder.look()
    if finder.fits_after_all is not None:
        as_it_is = finder.fits_after_all
        return Ways((_as_it_is(problem, as_it_is),))
    if is_small(problem):
        share_minutes(finder)
    finder.look_at_both_ends()
    if len(finder.best()) < WAYS:
        finder.follow_up()
    make_cheaper(finder)
    if len(finder.best()) < WAYS and not finder.time.is_over():
        finder.look_on()
        make_cheaper(finder)
    if len(finder.best()) < WAYS:
        finder.follow_up()
    for way in finder.best(MORE):
        sooner = begun_sooner(problem, way)
        if sooner is not None:
            finder.note(sooner)
    best = finder.best()
    if any(way.late for way in best):
        best = finder.best(MORE)  # searched on, another may break less
    ways = []
    for left, way in zip(range(len(best), 0, -1), best, strict=True):
        seconds = (search.until - time.monotonic()) / left
        ways.append(_said(problem, way, *_better(way, search, seconds)))
    ways.sort(key=lambda way: way.cost_min)
    ways = ways[:WAYS]
    why_fewer = _why_fewer(finder, len(ways))
    if finder.shown is not None and finder.out:
        ways.append(_shown(problem, finder.out, finder.shown.plan))
    return Ways(tuple(ways), why_fewer)


def _why_fewer(finder: Finder, many: int) -> str:
    """Why there are fewer than three."""
    if many == WAYS:
        return ""
    if not finder.exhausted or finder.put_by:
        return (
            "the time was over before more ways were found: allow more seconds "
            "for the search"
        )
    tried = (
        "other hours, fewer batches, more room to cool, one more helper, burner, "
        "canner or pot were tried, alone and together"
    )
    if many == 0:
        return f"nothing that can be changed makes it fit: {tried}"
    return f"no other change makes it fit: {tried}"


def _said(problem: Problem, way: Way, plan: Timetable, proven: bool) -> WayOut:
    changes = way.changes
    if not way.least:
        changes, plan = tightened(problem, changes, plan)
        proven = proven and {*changes} == {*way.changes}
    day = changed(problem, changes)
    return WayOut(
        says=said(problem, changes) + _least(way) + comes_late(day, plan),
        cost_min=cost_of(problem, changes) + weighted_lateness(day, plan),
        finish_min=plan.finish_min,
        done_by=clock_time(day.starts_at, plan.finish_min),
        timetable=plan,
        changes=changes,
        may_be_sooner=not proven,
    )


def _least(way: Way) -> str:
    """That less does not do, where it is proven; empty where it is not."""
    if not way.least or all(c.kind in WHOLE for c in way.changes):
        return ""
    if not way.in_time:
        return LESS_DOES_NOT_DO
    return "" if way.late else LESS_BREAKS_A_PROMISE


def _shown(problem: Problem, out: Changes, plan: Timetable) -> WayOut:
    """The plan that is shown, beside the ways out: some batches are left out."""
    smaller = changed(problem, out)
    return WayOut(
        says=said(problem, out) + comes_late(smaller, plan),
        cost_min=cost_of(problem, out) + weighted_lateness(smaller, plan),
        finish_min=plan.finish_min,
        done_by=clock_time(problem.starts_at, plan.finish_min),
        timetable=plan,
        changes=out,
        is_shown=True,
    )


def shown_with(problem: Problem, none: NoPlan, plan: Timetable) -> NoPlan:
    """
    The ways out with the plan that is shown as it came to be.

    It is searched on when the ways are found: what was said of an earlier plan of the
    same batches, such as what comes late in it, may not hold any more.
    """
    made = {step.batch for step in plan.steps}
    ways = tuple(
        _shown(problem, way.changes, plan)
        if way.is_shown and made == _batches(changed(problem, way.changes))
        else way
        for way in none.ways_out
    )
    return none.with_ways(ways, none.why_fewer)


def _batches(problem: Problem) -> set[str]:
    return {batch.id for batch in problem.batches}


def comes_late(problem: Problem, plan: Timetable) -> str:
    """What is promised for an hour and comes after it, in words; empty for nothing."""
    done = batches_done_min(problem, plan)
    late = []
    for want in problem.wants:
        made = [done[b.id] for b in problem.batches if want.product in b.serves]
        over = max(made, default=0) - want.by_min
        if over > 0:
            late.append(f"{jars_due(want.product)} comes {said_minutes(over)} late")
    return f"; but {all_of(late)}" if late else ""


def _as_it_is(problem: Problem, plan: Timetable) -> WayOut:
    """The plan of a day that needs no way out, found while one was looked for."""
    return WayOut(
        says="it fits as it is",
        cost_min=0,
        finish_min=plan.finish_min,
        done_by=clock_time(problem.starts_at, plan.finish_min),
        timetable=plan,
    )


def _better(way: Way, search: Search, seconds: float) -> tuple[Timetable, bool]:
    """
    The plan of a way out, searched on from what shows that it is one.

    What was asked for was an end within the hours; here it is made to end sooner.

    Returns
    -------
    Timetable, bool
        Whether it is proven that none ends sooner.
    """
    day, plan = way.problem, way.plan
    if search.deterministic:
        return better_start(day, plan, seconds=1e9, tries=ORDERS), False
    if seconds < LEAST_S:
        return plan, False
    until = time.monotonic() + seconds
    if not is_small(day):
        plan = better_start(day, plan, seconds=SHARE_OF_ORDERS * seconds)
    found = find_timetable(day, plan, replace(search, until=until, seconds=seconds))
    if found.timetable is not None and not violations(day, found.timetable):
        plan = min((found.timetable, plan), key=lambda t: score(day, t))
    return plan, found.bound >= score(day, plan)
