"""
The same plan in other hands: fewer hurried moments, and helpers free in one piece.

No step and no load is moved, but for a lift within the minutes that it has; so nothing
ends later, and no pot, fire or canner is asked for anew. Work goes from one person to
another, or two pieces change hands, as long as that makes the day calmer.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from stillroom.planning.hot_jars import LIFT_WITHIN_MIN
from stillroom.planning.how_good.free_pieces import free_pieces
from stillroom.planning.how_good.goals import helpers
from stillroom.planning.how_good.lateness import weighted_lateness
from stillroom.planning.how_good.moments import hurried
from stillroom.planning.how_good.who_does import Key, WhoDoes, Work, Worth
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad, Timetable

ROUNDS = 4
"""Times that every piece of work is looked at again."""

IsOver = Callable[[], bool]


def in_calmer_hands(
    problem: Problem, plan: Timetable, *, is_over: IsOver = lambda: False
) -> Timetable:
    """
    Give work to other people where that makes the day calmer.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        A plan that breaks no rule.
    is_over : callable, optional
        Asked between two changes; true ends it, and what is calmer by then stands.

    Returns
    -------
    Timetable
        A plan that breaks none either, with the same minutes but for lifts: no more
        hurried moments, and where they are as many, free time in larger pieces.
    """
    best = _with_other_lifts(problem, plan, is_over)
    if len(problem.people) < 2:
        return best
    for _ in range(ROUNDS):
        before = _worth(problem, best)
        best = _with_other_people(problem, best, is_over)
        best = _with_other_lifts(problem, best, is_over)
        if _worth(problem, best) >= before or is_over():
            break
    return best


def _worth(problem: Problem, plan: Timetable) -> Worth:
    """Hurried pairs; then free time, the more the larger its pieces (negative)."""
    free = sum(
        piece.free_min**2
        for person in helpers(problem)
        for piece in free_pieces(plan, person)
    )
    return len(hurried(problem, plan)), -free


def _with_other_people(problem: Problem, plan: Timetable, is_over: IsOver) -> Timetable:
    """Every piece of work once: to someone else, or exchanged for what overlaps it."""
    does = WhoDoes(problem, plan)
    near = does.hurried()
    for n, work in enumerate(does.works):
        if is_over():
            break
        for other in sorted(work.able - {work.who}):
            if does.given([(work, other)]) is not None:
                break
            if n in near and _exchanged(does, work, other):
                break
    return _given(plan, {key: work.who for work in does.works for key in work.keys})


def _exchanged(does: WhoDoes, work: Work, other: str) -> bool:
    """Whether a work changed hands for one of the other's that overlaps it."""
    mine = work.who
    return any(
        does.given([(work, other), (back, mine)]) is not None
        for back in does.works
        if back.who == other and mine in back.able and work.touches(back)
    )


def _given(plan: Timetable, to: dict[Key, str]) -> Timetable:
    steps = tuple(
        replace(s, person=to[s.batch, s.step])
        if to.get((s.batch, s.step), s.person) != s.person
        else s
        for s in plan.steps
    )
    loads = tuple(
        replace(load, lowered_by=to[load.id, "lower"], lifted_by=to[load.id, "lift"])
        for load in plan.loads
    )
    return replace(plan, steps=steps, loads=loads)


def _with_other_lifts(problem: Problem, plan: Timetable, is_over: IsOver) -> Timetable:
    """Lift a load some minutes sooner or later, where that parts two moments."""
    best, worth = plan, _worth(problem, plan)
    late = weighted_lateness(problem, plan)
    for load in plan.loads:
        if worth[0] == 0 or is_over():
            break
        for start in _lift_starts(problem, best, load):
            trial = _lifted(best, load.id, start)
            value = _worth(problem, trial)
            if (
                value < worth
                and trial.finish_min <= plan.finish_min
                and weighted_lateness(problem, trial) <= late
                and _lifter_is_free(problem, trial, load.lifted_by)
                and _room_to_cool(problem, trial)
            ):
                best, worth = trial, value
    return best


def _lift_starts(problem: Problem, plan: Timetable, load: PlacedLoad) -> range:
    """Minutes at which the load may be lifted and its canner is free for the next."""
    canner = next(c for c in problem.canners if c.id == load.canner)
    first = load.done_min + canner.rest_min
    last = first + LIFT_WITHIN_MIN
    following = [
        x
        for x in plan.loads
        if x.canner == load.canner and x.lower_min > load.lower_min
    ]
    under = set(canner.burners)
    of = {c.id: set(c.burners) for c in problem.canners}
    on_it = [s.start_min for s in plan.steps if s.burner in under]
    on_it += [
        x.heat_min
        for x in plan.loads
        if x.canner != load.canner and under & of[x.canner]
    ]
    on_it += [a for b in problem.burners if b.id in under for a, _ in b.taken]
    for start in on_it:  # what comes onto its fire waits until its jars are out
        if start >= load.out_min:
            last = min(last, start - canner.unload_min)
    if following:
        after = min(following, key=lambda x: x.lower_min)
        begins = after.lower_min if after.hot else after.heat_min
        last = min(last, begins - canner.unload_min)
        if after.hot:
            first = max(
                first, after.lower_min - canner.stays_hot_min - canner.unload_min
            )
    return range(first, last + 1)


def _lifted(plan: Timetable, load: str, start: int) -> Timetable:
    return replace(
        plan,
        loads=tuple(
            replace(x, lift_min=start, out_min=start + x.out_min - x.lift_min)
            if x.id == load
            else x
            for x in plan.loads
        ),
    )


def _lifter_is_free(problem: Problem, plan: Timetable, person: str) -> bool:
    return WhoDoes(problem, plan).has_hands(person)


def _room_to_cool(problem: Problem, plan: Timetable) -> bool:
    """Whether the counter has room whenever a load comes out."""
    counter = problem.counter
    stands = [(load.out_min, load.count) for load in plan.loads]
    return all(
        sum(n for since, n in stands if since <= at < since + counter.cooling_min)
        + sum(n for n, until in counter.taken if at < until)
        <= counter.places
        for at, _ in stands
    )
