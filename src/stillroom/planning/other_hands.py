"""
The same plan in other hands: fewer hurried moments, and helpers free in one piece.

No step and no load is moved, but for a lift within the minutes that it has; so nothing
ends later, and no pot, fire or canner is asked for anew. Work goes from one person to
another, or two pieces change hands, as long as that makes the day calmer.
"""

from __future__ import annotations

from collections import Counter as Tally
from collections.abc import Iterator
from dataclasses import dataclass, replace

from stillroom.planning.bounds import LABOUR_QUARTERS, able_people, lifters_of
from stillroom.planning.free_pieces import free_pieces
from stillroom.planning.goals import helpers
from stillroom.planning.lateness import weighted_lateness
from stillroom.planning.moments import hurried
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import PlacedLoad, Timetable

LIFT_WITHIN_MIN = 10
"""How long a load may stand in the water after its rest. Common practice. [min]"""
ROUNDS = 4
"""Times that every piece of work is looked at again."""

ALL = 4
"""Quarters of a rest."""

Key = tuple[str, str]
"""(batch, step) or (load, ``lower`` or ``lift``)."""


@dataclass(slots=True)
class _Work:
    """What one person does: steps in the same hands, or one end of a load."""

    keys: tuple[Key, ...]
    spans: tuple[tuple[int, int, int], ...]
    """Start, end and quarters of each."""
    able: frozenset[str]


def in_calmer_hands(problem: Problem, plan: Timetable) -> Timetable:
    """
    Give work to other people where that makes the day calmer.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        A plan that breaks no rule.

    Returns
    -------
    Timetable
        A plan that breaks none either, with the same minutes but for lifts: no more
        hurried moments, and where they are as many, free time in larger pieces.
    """
    if len(problem.people) < 2:
        return _with_other_lifts(problem, plan)
    best, worth = plan, _worth(problem, plan)
    works = _works(problem, plan)
    for _ in range(ROUNDS):
        before = worth
        for other in _moves(problem, works, best):
            trial = _given(best, other)
            value = _worth(problem, trial)
            if value < worth and _has_hands(problem, trial):
                best, worth = trial, value
        moved = _with_other_lifts(problem, best)
        best, worth = moved, _worth(problem, moved)
        works = _works(problem, best)
        if worth >= before:
            break
    return best


def _worth(problem: Problem, plan: Timetable) -> tuple[int, int]:
    """Hurried pairs; then free time, the more the larger its pieces (negative)."""
    free = sum(
        piece.free_min**2
        for person in helpers(problem)
        for piece in free_pieces(problem, plan, person)
    )
    return len(hurried(problem, plan)), -free


def _works(problem: Problem, plan: Timetable) -> list[_Work]:
    placed = {(s.batch, s.step): s for s in plan.steps}
    works: list[_Work] = []
    for batch in problem.batches:
        for members in _in_same_hands(batch):
            steps = [placed[batch.id, batch.steps[i].id] for i in members]
            works.append(
                _Work(
                    tuple((s.batch, s.step) for s in steps),
                    tuple((s.start_min, s.end_min, s.quarters) for s in steps),
                    able_people(problem, batch, members[0]),
                )
            )
    lifters = frozenset(p.id for p in lifters_of(problem))
    for load in plan.loads:
        for what, start, end in (
            ("lower", load.lower_min, load.lowered_min),
            ("lift", load.lift_min, load.out_min),
        ):
            span = (start, end, LABOUR_QUARTERS)
            works.append(_Work(((load.id, what),), (span,), lifters))
    return works


def _in_same_hands(batch: Batch) -> list[list[int]]:
    groups: dict[str, list[int]] = {}
    for i, step in enumerate(batch.steps):
        if step.attention_quarters:
            groups.setdefault(step.same_hands or f" {i}", []).append(i)
    return list(groups.values())


Given = dict[Key, str]


def _moves(problem: Problem, works: list[_Work], plan: Timetable) -> Iterator[Given]:
    """One piece of work to someone else, or two that overlap exchanged."""
    who = _who(plan)
    near = {
        (m.of, m.person)
        for pair in hurried(problem, plan)
        for m in (pair.first, pair.second)
    }
    for work in works:
        mine = who[work.keys[0]]
        for other in sorted(work.able - {mine}):
            yield dict.fromkeys(work.keys, other)
            if (work.keys[0][0], mine) not in near:
                continue
            theirs = [b for b in works if who[b.keys[0]] == other and mine in b.able]
            for back in theirs:
                if _touch(work, back):
                    back_to_me = dict.fromkeys(back.keys, mine)
                    yield dict.fromkeys(work.keys, other) | back_to_me


def _touch(a: _Work, b: _Work) -> bool:
    return any(
        start < other_end and other_start < end
        for start, end, _ in a.spans
        for other_start, other_end, _ in b.spans
    )


def _who(plan: Timetable) -> dict[Key, str]:
    found = {(s.batch, s.step): s.person for s in plan.steps if s.person is not None}
    for load in plan.loads:
        found[load.id, "lower"] = load.lowered_by
        found[load.id, "lift"] = load.lifted_by
    return found


def _given(plan: Timetable, to: Given) -> Timetable:
    steps = tuple(
        replace(s, person=to[s.batch, s.step]) if (s.batch, s.step) in to else s
        for s in plan.steps
    )
    loads = tuple(
        replace(
            load,
            lowered_by=to.get((load.id, "lower"), load.lowered_by),
            lifted_by=to.get((load.id, "lift"), load.lifted_by),
        )
        for load in plan.loads
    )
    return replace(plan, steps=steps, loads=loads)


def _has_hands(problem: Problem, plan: Timetable) -> bool:
    """Whether everybody is there for all they do, and has the quarters for it."""
    for person in problem.people:
        given: Tally[int] = Tally()
        for start, end, quarters in _spans(plan, person.id):
            if start < person.arrives_min or end > person.leaves_min:
                return False
            if any(start < back and gone < end for gone, back in person.away):
                return False
            for minute in range(start, end):
                given[minute] += min(quarters, person.quarters)
                if given[minute] > person.quarters:
                    return False
    return True


def _spans(plan: Timetable, person: str) -> Iterator[tuple[int, int, int]]:
    for s in plan.steps:
        if s.person == person:
            yield s.start_min, s.end_min, s.quarters
    for load in plan.loads:
        if load.lowered_by == person:
            yield load.lower_min, load.lowered_min, LABOUR_QUARTERS
        if load.lifted_by == person:
            yield load.lift_min, load.out_min, LABOUR_QUARTERS
    for rest in plan.breaks:
        if rest.person == person:
            yield rest.start_min, rest.end_min, ALL


def _with_other_lifts(problem: Problem, plan: Timetable) -> Timetable:
    """Lift a load some minutes sooner or later, where that parts two moments."""
    best, worth = plan, _worth(problem, plan)
    late = weighted_lateness(problem, plan)
    for load in plan.loads:
        if worth[0] == 0:
            break
        for start in _lift_starts(problem, best, load):
            trial = _lifted(best, load.id, start)
            value = _worth(problem, trial)
            if (
                value < worth
                and trial.finish_min <= plan.finish_min
                and weighted_lateness(problem, trial) <= late
                and _has_hands(problem, trial)
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
