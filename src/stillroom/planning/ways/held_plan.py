"""
A plan of one day, as far as it holds for another that is like it.

The other day may start at another hour, have fewer batches or more, a helper more or
less. What is asked is which batches of the plan hold there, just as they were placed.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace

from stillroom.methods.in_halves import other_half
from stillroom.planning.daytime import minutes_between
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Batch, Person, Problem, wants_of
from stillroom.planning.timetable import PlacedBreak, PlacedStep, Timetable
from stillroom.planning.ways.held_loads import loads_of


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownPlan:
    """A plan that is at hand, of this day or one like it."""

    starts_at: str
    """The clock at its minute 0."""
    plan: Timetable
    sizes: tuple[tuple[str, tuple[int, ...]], ...] = ()
    """Jars' worths in each pot of what it divides otherwise than by the rule."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanOfSome:
    """Batches of a day, and a plan of those that breaks no rule."""

    kept: tuple[str, ...]
    """Their ids, what is missed most first."""
    plan: Timetable


def only(problem: Problem, kept: Collection[str]) -> Problem:
    """The day with some of its batches, in the order in which it lists them."""
    batches = tuple(b for b in problem.batches if b.id in kept)
    return replace(problem, batches=batches, wants=wants_of(problem.wants, batches))


def as_far_as_it_holds(problem: Problem, plan: Timetable) -> Timetable | None:
    """
    A plan of another day, without the batches that this one lacks.

    `None` where this day has more, or the plan breaks a rule of it.
    """
    placed = _placed(problem, plan)
    if any(batch.id not in placed for batch in problem.batches):
        return None
    return _held(problem, plan, placed)


def what_holds(
    problem: Problem, known: Iterable[KnownPlan], order: Sequence[str]
) -> PlanOfSome | None:
    """
    The most that holds of plans at hand, in the order of what is missed most.

    Parameters
    ----------
    problem : Problem
        The day.
    known : iterable of KnownPlan
        Plans of this day or of days like it.
    order : sequence of str
        Ids of the day's batches, the most missed first.

    Returns
    -------
    PlanOfSome or None
        Of two that hold the same batches, the plan that is better; none with fewer jars
        than one before it. `None` where not one batch of any plan holds.
    """
    best: PlanOfSome | None = None
    for one in known:
        plan = one.plan.moved(minutes_between(problem.starts_at, one.starts_at))
        held = _most_of(problem, plan, order)
        if held is None:
            continue
        if best is None or (
            jars_of(problem, held.kept) >= jars_of(problem, best.kept)
            and is_better(problem, held, best, order)
        ):
            best = held
    return best


def jars_of(problem: Problem, kept: Collection[str]) -> int:
    """Jars that some batches fill."""
    return sum(b.jars for b in problem.batches if b.id in kept)


def is_better(
    problem: Problem, one: PlanOfSome, other: PlanOfSome, order: Sequence[str]
) -> bool:
    """Whether one has what is missed more; where both have the same, ends sooner."""
    mine = [name in one.kept for name in order]
    others = [name in other.kept for name in order]
    if mine != others:
        return mine > others
    there = only(problem, one.kept)
    return score(there, one.plan) < score(there, other.plan)


def _most_of(
    problem: Problem, plan: Timetable, order: Sequence[str]
) -> PlanOfSome | None:
    """All of its batches if they hold; else those that do, the most missed first."""
    placed = _placed(problem, plan)
    there = [name for name in order if name in placed]
    whole = _held(only(problem, there), plan, placed) if there else None
    if whole is not None:
        return PlanOfSome(kept=tuple(there), plan=whole)
    kept: list[str] = []
    found: Timetable | None = None
    for name in there:
        held = _held(only(problem, [*kept, name]), plan, placed)
        if held is not None:
            kept, found = [*kept, name], held
    return None if found is None else PlanOfSome(kept=tuple(kept), plan=found)


def _placed(problem: Problem, plan: Timetable) -> dict[str, tuple[PlacedStep, ...]]:
    """The steps of each batch that the plan has as the day asks for them."""
    by: dict[tuple[str, str], PlacedStep] = {(s.batch, s.step): s for s in plan.steps}
    found = {}
    for batch in problem.batches:
        steps = _steps_of(batch, by)
        if len(steps) == len(batch.steps):
            found[batch.id] = steps
    return found


def _steps_of(
    batch: Batch, by: dict[tuple[str, str], PlacedStep]
) -> tuple[PlacedStep, ...]:
    """As placed; a step that two may now share is both halves, one behind the other."""
    known = {step for owner, step in by if owner == batch.id}
    names = {s.id for s in batch.steps}
    if known - names:
        return ()
    found = []
    for s in batch.steps:
        there = by.get((batch.id, s.id))
        half = other_half(s.id)
        if there is None:
            continue
        if half in names and half not in known:
            cut = there.start_min + s.duration_min
            found.append(replace(there, end_min=cut))
            found.append(replace(there, step=half, start_min=cut))
        else:
            found.append(there)
    return tuple(found)


def _held(
    problem: Problem, plan: Timetable, placed: dict[str, tuple[PlacedStep, ...]]
) -> Timetable | None:
    """The plan of just the batches of a day, if the judge passes it there."""
    batches = {b.id for b in problem.batches}
    steps = tuple(s for b in problem.batches for s in placed[b.id])
    rests = _rests(problem, plan, {s.person for s in steps})
    held = Timetable(
        steps=tuple(sorted(steps, key=lambda s: (s.start_min, s.batch, s.end_min))),
        loads=loads_of(problem, plan, batches),
        breaks=rests,
    )
    return None if violations(problem, held) else held


def _rests(
    problem: Problem, plan: Timetable, at_work: set[str | None]
) -> tuple[PlacedBreak, ...]:
    """As they were; whoever is new and has nothing to do rests when she first may."""
    people = {p.id for p in problem.people}
    rests = [rest for rest in plan.breaks if rest.person in people]
    known = {rest.person for rest in rests} | {s.person for s in plan.steps}
    for person in problem.people:
        if person.id not in known | at_work:
            rests += _at_once(person)
    return tuple(rests)


def _at_once(person: Person) -> list[PlacedBreak]:
    rests, free = [], max(0, person.arrives_min)
    for rest in sorted(person.breaks, key=lambda r: r.latest_start_min):
        start = max(free, rest.earliest_min)
        free = start + rest.duration_min
        rests.append(PlacedBreak(person=person.id, start_min=start, end_min=free))
    return rests
