"""
What is shown where no plan fits: the plan of a day like it, marked as no plan of this.

The end is left open, another grown-up comes for what nobody does, or the counter has
room: the smallest of these with which a plan by hand holds; and a food mill is there
where one is needed. Nobody who is there is ever given work that they do not do: whoever
lifts in such a plan is somebody else. Where none of that helps it is the plan of the
cheapest way out.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace

from stillroom.in_a_list import all_of
from stillroom.jar_count import jars_said
from stillroom.methods.step import Skill
from stillroom.planning.bounding.too_many_jars import too_many_jars
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.judge.check import violations
from stillroom.planning.one_thing_more import fresh
from stillroom.planning.problem import Person, Problem, wants_of
from stillroom.planning.timetable import NoPlan, PlanIf, Timetable
from stillroom.planning.way_changes import (
    LONGER_DAY_MIN,
    Kind,
    changed,
    condition,
    ending_later,
)
from stillroom.planning.ways.ways_out import comes_late
from stillroom.planning.why_not.refuse import batch_faults
from stillroom.planning.why_not.whose_hands import short_of_attention
from stillroom.planning.words.hour_words import DOES, missing_skills

NOT_AS_IT_STANDS = "it is no plan of this day: do not begin it as it stands"
ORDERS = 10
"""Shuffled orders tried by hand where no simple one fits."""


def if_it_ran_on(problem: Problem, plan: Timetable, made_by: str) -> PlanIf | None:
    """
    A plan that overruns the day, as one of a day that runs on until then.

    `None` where it ends in time, or breaks another rule of the day as well.
    """
    if plan.finish_min <= problem.horizon_min:
        return None
    longer = ending_later(problem, LONGER_DAY_MIN)
    return _judged(problem, _Like((), longer), plan, made_by)


def plan_if(problem: Problem) -> PlanIf | None:
    """
    The plan by hand of a day like one that has none; `None` where nothing here helps.

    Parameters
    ----------
    problem : Problem
        A day without a plan; some of its batches may be such as nobody can make.
    """
    for like in _days_like(problem):
        day, out = _what_can_be_made(like.problem)
        if not day.batches:
            continue
        plan = by_hand(day, seconds=0.0, shuffles=ORDERS)
        if plan is None:
            continue
        if _asks_for_nothing(problem, like, day, plan):
            return None  # all that can be made fits: nothing above brings more
        found = _judged(
            problem, replace(like, problem=day, out=out), plan, "a plan by hand"
        )
        if found is not None:
            return found
    return None


def _asks_for_nothing(
    problem: Problem, like: _Like, day: Problem, plan: Timetable
) -> bool:
    """Whether it is a plan of the day as it is, of all that can be made on it."""
    if like.conditions or like.somebody or plan.finish_min > problem.horizon_min:
        return False
    return not violations(_no_longer_than(day, plan, problem.horizon_min), plan)


def in_its_stead(
    problem: Problem,
    none: NoPlan,
    reached: Timetable | None,
    larger: Callable[[], PlanIf | None] = lambda: None,
) -> PlanIf | None:
    """
    What is shown in a plan's stead: the first of these that there is.

    The best plan that overruns, or one by hand; that of a ``larger`` canner, where it
    is known which would be large enough; the cheapest way out.
    """
    found = _ran_on(problem, none, reached) or plan_if(problem)
    return found or larger() or as_a_way_out(problem, none)


def _ran_on(problem: Problem, none: NoPlan, reached: Timetable | None) -> PlanIf | None:
    """The best plan of all of it that ends after the day does."""
    open_ended = [
        way.timetable
        for way in none.ways_out
        if all(change.kind is Kind.ENDS for change in way.changes)
    ]
    if reached is not None:
        open_ended.append(reached)
    for plan in sorted(open_ended, key=lambda plan: plan.finish_min):
        if (ran_on := if_it_ran_on(problem, plan, "the best plan found")) is not None:
            return ran_on
    return None


def as_a_way_out(problem: Problem, none: NoPlan) -> PlanIf | None:
    """
    What is shown where nothing else is: the cheapest way out, which has its plan.

    A plan that is shown already, of the batches that fit, is not shown again.
    """
    for way in none.ways_out:
        day = changed(problem, way.changes)
        if way.is_shown or not way.changes or violations(day, way.timetable):
            continue
        return PlanIf(
            says=condition(problem, way.changes),
            ends=f"it ends at {way.done_by}{comes_late(day, way.timetable)}",
            mark=NOT_AS_IT_STANDS,
            made_by="the best plan found",
            problem=day,
            timetable=way.timetable,
        )
    return None


@dataclass(frozen=True, slots=True)
class _Like:
    """A day like the one that is asked about."""

    conditions: tuple[str, ...]
    problem: Problem
    somebody: str = ""
    """Who comes more; empty where nobody does."""
    does: str = ""
    out: tuple[str, ...] = ()
    """Batches that cannot be made on it either."""


def _days_like(problem: Problem) -> Iterator[_Like]:
    """Days with the least change first."""
    missing = missing_skills(problem)
    missing += [s for s in short_of_attention(problem)[0] if s not in missing]
    milled = needs_a_mill(problem)
    if milled:
        problem = replace(problem, mills=1)
    longer = ending_later(problem, LONGER_DAY_MIN)
    for roomy in (False, True):
        likes = [] if missing else [_Like((), longer)]
        who = missing or [Skill.LIFT]
        likes += [_with_somebody(day, who) for day in (problem, longer)]
        for like in likes:
            conditions = ("there were a food mill or a sieve",) if milled else ()
            yield _with_room(replace(like, conditions=conditions), roomy)


def needs_a_mill(problem: Problem) -> bool:
    """Whether something goes through a mill, and there is none."""
    steps = (step for batch in problem.batches for step in batch.steps)
    return problem.mills < 1 and any(step.on_mill for step in steps)


def _with_somebody(problem: Problem, skills: Collection[Skill]) -> _Like:
    """Another grown-up, there all day for the work that nobody does, and no other."""
    name = fresh("another grown-up", [p.id for p in problem.people])
    more = Person(
        id=name,
        skills=frozenset(str(skill) for skill in skills),
        arrives_min=0,
        leaves_min=problem.horizon_min,
    )
    does = all_of(DOES[skill] for skill in skills)
    return _Like((), replace(problem, people=(*problem.people, more)), name, does)


def _with_room(like: _Like, roomy: bool) -> _Like:
    """The counter takes all jars of the day."""
    if not roomy:
        return like
    counter = like.problem.counter
    jars = sum(b.jars for b in like.problem.batches if b.process is not None)
    places = jars + sum(n for n, _ in counter.taken)
    more = places - counter.places
    if more <= 0:
        return like
    return replace(
        like,
        conditions=(
            *like.conditions,
            f"there were room for {jars_said(more, 'more')} to cool",
        ),
        problem=replace(like.problem, counter=replace(counter, places=places)),
    )


def _what_can_be_made(problem: Problem) -> tuple[Problem, tuple[str, ...]]:
    """The day without batches that cannot be made on it, and their names."""
    out = {b.id for b in problem.batches if any(batch_faults(problem, b))}
    out |= {one.batch.id for one in too_many_jars(problem)}
    batches = tuple(b for b in problem.batches if b.id not in out)
    wants = wants_of(problem.wants, batches)
    names = tuple(b.id for b in problem.batches if b.id in out)
    return replace(problem, batches=batches, wants=wants), names


def _judged(
    problem: Problem, like: _Like, plan: Timetable, made_by: str
) -> PlanIf | None:
    """The plan with what it asks for, where it breaks no rule of its own day."""
    day = _no_longer_than(like.problem, plan, problem.horizon_min)
    if violations(day, plan):
        return None
    conditions = [*_somebody_comes(like, plan), *like.conditions]
    over = plan.finish_min - problem.horizon_min
    end = clock_time(day.starts_at, plan.finish_min)
    if over > 0:
        conditions.append(f"the day could run on until {end}")
        ended = f"it ends at {end}, {said_minutes(over)} after the day's end"
    else:
        ended = f"it ends at {end}"
    if not conditions:
        return None
    if like.out:
        ended += f"; {', '.join(like.out)} cannot be made even so"
    return PlanIf(
        says=f"if {all_of(conditions)}",
        ends=ended,
        mark=NOT_AS_IT_STANDS,
        made_by=made_by,
        problem=day,
        timetable=plan,
    )


def _somebody_comes(like: _Like, plan: Timetable) -> list[str]:
    """Who would have to come, for what, and from when to when."""
    spans = _spans(plan, like.somebody) if like.somebody else []
    if not spans:
        return []
    since = clock_time(like.problem.starts_at, min(a for a, _ in spans))
    until = clock_time(like.problem.starts_at, max(b for _, b in spans))
    return [f"{like.somebody} came who {like.does}, there {since} to {until}"]


def _no_longer_than(day: Problem, plan: Timetable, least: int) -> Problem:
    """A day with its end left open, as long as a plan of it; ``least`` at least."""
    ends = [plan.finish_min, *(rest.end_min for rest in plan.breaks), least]
    end = min(day.horizon_min, max(ends))
    people = tuple(
        replace(p, leaves_min=end) if p.leaves_min >= day.horizon_min else p
        for p in day.people
    )
    return replace(day, horizon_min=end, people=people)


def _spans(plan: Timetable, person: str) -> list[tuple[int, int]]:
    """When somebody has work."""
    found = [(s.start_min, s.end_min) for s in plan.steps if s.person == person]
    for load in plan.loads:
        if load.lowered_by == person:
            found.append((load.lower_min, load.lowered_min))
        if load.lifted_by == person:
            found.append((load.lift_min, load.out_min))
    return found
