"""
Washes that may be rinses: the same product goes into the pot or the mill next.

A use of a pot or mill ends with its wash. Where the next in it is of the same contents
a rinse is enough; before anything else, and at the end of the day, it is washed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise

from stillroom.methods.handling import BASIS
from stillroom.methods.in_halves import begun_later, other_half
from stillroom.methods.step import Step
from stillroom.planning.off_the_fire import canners_off, off_first
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import PlacedStep, Timetable

Key = tuple[str, str]


class Tool(StrEnum):
    """What is washed after each use."""

    POT = "pot"
    MILL = "mill"


@dataclass(frozen=True, slots=True)
class Use:
    """One batch in one pot, or on one mill, from its first step there to its last."""

    batch: str
    start_min: int
    end_min: int


def contents_of(batch: Batch) -> str:
    """What is in the pot of a batch, as the kitchen sees it."""
    return batch.contents or batch.product


def uses(step: Step, tool: Tool) -> bool:
    """Whether a step holds a tool."""
    return step.in_pot if tool is Tool.POT else step.on_mill


def wash_of(batch: Batch, tool: Tool) -> Step | None:
    """The step at the end of a use that may be a rinse; `None` where there is none."""
    return next((s for s in batch.steps if s.rinse_min and uses(s, tool)), None)


def may_follow(before: Batch, after: Batch, tool: Tool) -> bool:
    """Whether a rinse is enough when ``after`` comes next in the tool of ``before``."""
    return (
        before.id != after.id
        and contents_of(before) == contents_of(after)
        and wash_of(before, tool) is not None
        and any(uses(s, tool) for s in after.steps)
        and (tool is Tool.MILL or bool(set(before.pots) & set(after.pots)))
    )


def at_the_shortest(problem: Problem) -> Problem:
    """
    Return the day with each wash that may be a rinse as short as one.

    No plan of the day takes less of anything, so that what is true of every plan of the
    day returned is true of every plan of this one.
    """
    batches = tuple(
        replace(
            batch,
            steps=tuple(
                replace(s, duration_min=s.rinse_min, rinse_min=None)
                if s.rinse_min and _may_be_followed(problem, batch, s)
                else s
                for s in batch.steps
            ),
        )
        for batch in problem.batches
    )
    return replace(problem, batches=batches)


def least_asked(problem: Problem) -> Problem:
    """
    Return a day of which no plan of this one takes less, whatever is rinsed.

    As `at_the_shortest`, but for one wash among batches alike in all but their names
    that no other can follow: the last of them in its pot is followed by none, and it is
    all one which of them is called by which name.
    """
    shortest = at_the_shortest(problem)
    alike: dict[Batch, list[int]] = {}
    for n, batch in enumerate(problem.batches):
        alike.setdefault(replace(batch, id=""), []).append(n)
    batches = list(shortest.batches)
    for group in alike.values():
        mine = {problem.batches[n].id for n in group}
        last = problem.batches[group[-1]]
        for tool in Tool:
            then = {o.id for o in problem.batches if may_follow(last, o, tool)}
            if then and then <= mine:
                batches[group[-1]] = _washed(batches[group[-1]], last, tool)
    return replace(shortest, batches=tuple(batches))


def _washed(batch: Batch, whole: Batch, tool: Tool) -> Batch:
    """A batch with one of its washes as long as in ``whole``."""
    wash = wash_of(whole, tool)
    steps = tuple(
        replace(old, rinse_min=None) if wash and old.id == wash.id else new
        for new, old in zip(batch.steps, whole.steps, strict=True)
    )
    return replace(batch, steps=steps)


def _may_be_followed(problem: Problem, batch: Batch, wash: Step) -> bool:
    tool = Tool.POT if wash.in_pot else Tool.MILL
    return any(may_follow(batch, other, tool) for other in problem.batches)


def as_worked(problem: Problem, plan: Timetable | Iterable[PlacedStep]) -> Problem:
    """
    Return the day with its steps told as they are done.

    Rinses have their own words and minutes, of two halves of one cutting the one begun
    later is the other half, and what needs a canner's fire says so.
    """
    steps = plan.steps if isinstance(plan, Timetable) else tuple(plan)
    off: dict[tuple[str, str], list[str]] = {}
    if isinstance(plan, Timetable):
        for placed, canner in canners_off(problem, plan):
            off.setdefault((placed.batch, placed.step), []).append(canner)
    done = {(s.batch, s.step): s for s in steps}
    rinsed = {key for key, s in done.items() if s.rinsed}
    later = {
        max((key, other), key=lambda half: (done[half].start_min, half))
        for key in done
        if (other := (key[0], other_half(key[1]))) in done
    }
    if not rinsed and not later and not off:
        return problem

    def told(step: Step, batch: Batch) -> Step:
        if canners := off.get((batch.id, step.id)):
            note = " · ".join(part for part in (off_first(canners), step.note) if part)
            return replace(step, note=note)
        if (batch.id, step.id) in rinsed:
            return _as_rinse(step, batch)
        return begun_later(step) if (batch.id, step.id) in later else step

    batches = tuple(
        replace(batch, steps=tuple(told(s, batch) for s in batch.steps))
        for batch in problem.batches
    )
    return replace(problem, batches=batches)


def _as_rinse(wash: Step, batch: Batch) -> Step:
    tool = Tool.POT if wash.in_pot else Tool.MILL
    washed, rinsed = "Wash the ", "Rinse the "
    named_so = wash.verb.startswith(washed)  # a sieve, where there is no mill
    return replace(
        wash,
        verb=rinsed + (wash.verb.removeprefix(washed) if named_so else str(tool)),
        end_sign="nothing left to stick",
        duration_min=wash.rinse_min or wash.duration_min,
        rinse_min=None,
        book_min=None,
        basis=BASIS,
        note=f"{contents_of(batch)} again next: no wash",
    )


def uses_in_turn(problem: Problem, plan: Timetable, tool: Tool) -> dict[str, list[Use]]:
    """Uses of each pot or mill by its name, in the order in which they begin."""
    held = {(b.id, s.id): s for b in problem.batches for s in b.steps if uses(s, tool)}
    spans: dict[tuple[str, str], list[PlacedStep]] = {}
    for s in plan.steps:
        name = s.pot if tool is Tool.POT else s.mill
        if name is not None and (s.batch, s.step) in held:
            spans.setdefault((str(name), s.batch), []).append(s)
    lines: dict[str, list[Use]] = {}
    for (name, batch), mine in spans.items():
        start = min(s.start_min for s in mine)
        lines.setdefault(name, []).append(
            Use(batch, start, max(s.end_min for s in mine))
        )
    for line in lines.values():
        line.sort(key=lambda use: (use.start_min, use.end_min))
    return lines


def next_in(problem: Problem, plan: Timetable, tool: Tool) -> Iterator[tuple[str, str]]:
    """(batch, batch that has its pot or mill next)."""
    for line in uses_in_turn(problem, plan, tool).values():
        for before, after in pairwise(line):
            yield before.batch, after.batch


def rinsable(problem: Problem, plan: Timetable) -> frozenset[Key]:
    """(batch, step) of the washes after which the same product comes next."""
    batch_of = {b.id: b for b in problem.batches}
    found = set()
    for tool in Tool:
        for before, after in next_in(problem, plan, tool):
            wash = wash_of(batch_of[before], tool)
            if wash and may_follow(batch_of[before], batch_of[after], tool):
                found.add((before, wash.id))
    return frozenset(found)


def rinsed_where_enough(problem: Problem, plan: Timetable) -> Timetable:
    """
    Return the plan with a rinse wherever one is enough.

    Each is shorter and begins when the wash did: nothing else moves, no rule breaks.
    """
    enough = rinsable(problem, plan)
    step_of = {(b.id, s.id): s for b in problem.batches for s in b.steps}
    steps = tuple(
        as_rinse(s, step_of[s.batch, s.step])
        if (s.batch, s.step) in enough and not s.rinsed
        else s
        for s in plan.steps
    )
    return replace(plan, steps=steps)


def as_rinse(placed: PlacedStep, wash: Step) -> PlacedStep:
    """A placed wash as the rinse that it may be."""
    assert wash.rinse_min is not None
    return replace(placed, end_min=placed.start_min + wash.rinse_min, rinsed=True)


def washed_where_asked(problem: Problem, plan: Timetable) -> Timetable:
    """
    Return the plan with a wash where the batch that a rinse was for does not come next.

    A wash is longer: it may overlap what comes after.
    """
    enough = rinsable(problem, plan)
    lasts = {(b.id, s.id): s.duration_min for b in problem.batches for s in b.steps}
    steps = tuple(
        replace(s, end_min=s.start_min + lasts[s.batch, s.step], rinsed=False)
        if s.rinsed and (s.batch, s.step) in lasts and (s.batch, s.step) not in enough
        else s
        for s in plan.steps
    )
    return replace(plan, steps=steps)


@dataclass(frozen=True, slots=True)
class Waiting:
    """A pot or mill that is rinsed, or being so, for a batch that has not begun."""

    tool: Tool
    name: str
    batch: str
    since_min: int


def waiting_rinsed(
    problem: Problem, plan: Timetable, begun: Mapping[Key, PlacedStep]
) -> Iterator[Waiting]:
    """Yield what waits rinsed by now, by a plan that is rinsed only where enough."""
    batch_of = {b.id: b for b in problem.batches}
    for tool in Tool:
        for name, line in uses_in_turn(problem, plan, tool).items():
            for before, after in pairwise(line):
                wash = wash_of(batch_of[before.batch], tool)
                rinse = begun.get((before.batch, wash.id)) if wash else None
                steps = [s for s in batch_of[after.batch].steps if uses(s, tool)]
                has_begun = any((after.batch, s.id) in begun for s in steps)
                if rinse is not None and rinse.rinsed and not has_begun:
                    yield Waiting(tool, name, after.batch, rinse.end_min)
