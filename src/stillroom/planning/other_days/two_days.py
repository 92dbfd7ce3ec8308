"""
Two days that follow one another: the second begins with what the first left standing.

Jars that still cool keep their places on the counter; what must be looked at is a step
of the second day, with its hours; what the second day wants set out the evening before
is done when the first is over; and a lot that both name is drawn down once.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace

from stillroom.book.procedures import Procedure
from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.methods.step import Skill, Step
from stillroom.planning.day import Day, Lot
from stillroom.planning.dayplan import DayPlan, Task
from stillroom.planning.problem import Batch, Counter, Problem, Window
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import Refusal

HANDS_ON = 3
"""Quarters that looking at jars takes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """What one day hands on to the next."""

    taken: tuple[tuple[int, int], ...]
    """Jars that still cool, and until which minute of the next day."""
    batches: tuple[Batch, ...]
    """What is to be looked at, as steps with their hours."""

    def into(self, problem: Problem) -> Problem:
        """Return the problem of the next day with all that is handed on."""
        counter = replace(problem.counter, taken=self.taken)
        return replace(
            problem, counter=counter, batches=(*self.batches, *problem.batches)
        )


def plan_two_days(
    first: Day,
    second: Day,
    *,
    seconds: float = 5.0,
    workers: int = 2,
    deterministic: bool = True,
    own: tuple[Procedure, ...] = (),
    learned: Learned = AS_PUBLISHED,
) -> tuple[DayPlan, DayPlan] | Refusal:
    """
    Plan a day and the one after it.

    Parameters
    ----------
    first, second : Day
        The second on the date after the first.
    seconds : float
        For the search of each. [s]
    workers : int
        Search threads.
    deterministic : bool
        The same plans every time.
    own : tuple of Procedure
        Recipes of the keeper's.
    learned : Learned
        What her past days taught.
    """
    if second.date != first.date + dt.timedelta(days=1):
        return Refusal(
            f"{second.name} is on {second.date:%-d %B %Y}; the day after {first.name} "
            f"is {first.date + dt.timedelta(days=1):%-d %B %Y}",
            instead="give two days that follow one another, the earlier one first",
            source="the dates of the day files",
        )

    def plan(day: Day, carried: Carried | None) -> DayPlan | Refusal:
        return plan_the_day(
            day,
            seconds=seconds,
            workers=workers,
            deterministic=deterministic,
            own=own,
            learned=learned,
            begin=None if carried is None else carried.into,
        )

    before = plan(first, None)
    if isinstance(before, Refusal):
        return before
    over = dt.datetime.combine(first.date, first.starts)
    if isinstance(before.answer, Answer):
        over += dt.timedelta(minutes=before.answer.finish_min)
    shelf = _what_is_left(before, second)
    after = plan(
        replace(second, shelf=shelf, evening_from=over), _carried(before, second)
    )
    if isinstance(after, Refusal):
        return after
    return replace(before, after_tasks=_as_the_second_has_it(before, after)), after


def _as_the_second_has_it(before: DayPlan, after: DayPlan) -> tuple[Task, ...]:
    """What is done after the first day, at the hour that the second has for it."""
    if not isinstance(after.answer, Answer):
        return before.after_tasks
    second = after.day
    begins = dt.datetime.combine(second.date, second.starts)
    ends = dt.datetime.combine(second.date, second.ends)
    due = [t for t in before.after_tasks if _belongs(t, begins, ends)]
    steps = {(s.batch, s.step): s for s in after.answer.timetable.steps}
    told: dict[Task, Task] = {}
    for n, task in enumerate(due, 1):
        look = steps.get((_looked_at(before.day), _look(n)))
        if look is not None:
            when = begins + dt.timedelta(minutes=look.start_min)
            told[task] = replace(task, when=when, who=look.person or task.who)
    return tuple(told.get(task, task) for task in before.after_tasks)


def _looked_at(first: Day) -> str:
    """The name of the batch that is the looking at a day's jars."""
    return f"jars of {first.date:%A %-d %B}"


def _look(number: int) -> str:
    return f"look_{number}"


def _carried(before: DayPlan, second: Day) -> Carried:
    """What the first day leaves standing at the start of the second."""
    if before.problem is None or not isinstance(before.answer, Answer):
        return Carried(taken=(), batches=())
    first = before.day
    begins = dt.datetime.combine(second.date, second.starts)
    offset = _minutes(dt.datetime.combine(first.date, first.starts), begins)
    taken: tuple[tuple[int, int], ...] = ()
    if first.kitchen.name.casefold() == second.kitchen.name.casefold():
        taken = _still_cooling(before.problem.counter, before.answer, offset)
    ends = dt.datetime.combine(second.date, second.ends)
    due = [t for t in before.after_tasks if _belongs(t, begins, ends)]
    return Carried(taken=taken, batches=_as_batch(first, due, begins))


def _still_cooling(
    counter: Counter, answer: Answer, offset: int
) -> tuple[tuple[int, int], ...]:
    until = {
        load.id: load.out_min + counter.cooling_min - offset
        for load in answer.timetable.loads
    }
    return tuple(
        (load.count, until[load.id])
        for load in answer.timetable.loads
        if until[load.id] > 0
    )


def _belongs(task: Task, begins: dt.datetime, ends: dt.datetime) -> bool:
    """
    Whether a task is one of the second day: it has a latest hour, and falls in it.

    What may be looked at any time from some hour on holds no day up: it stays with
    what is done afterwards.
    """
    return task.until is not None and task.when < ends and task.until >= begins


def _as_batch(first: Day, due: list[Task], begins: dt.datetime) -> tuple[Batch, ...]:
    """What is to be looked at, as steps of a batch of its own."""
    if not due:
        return ()
    name = _looked_at(first)
    steps, windows = [], []
    for n, task in enumerate(due, 1):
        verb, _, sign = task.what.partition(":")
        step = Step(
            id=_look(n),
            verb=verb,
            end_sign=sign.strip(),
            duration_min=max(1, task.minutes),
            basis=task.source,
            attention_quarters=HANDS_ON,
            skill=Skill.COLD,
            note=", ".join(task.batches),
        )
        steps.append(step)
        windows.append(
            Window(
                step=step.id,
                earliest_min=max(0, _minutes(begins, task.when)),
                latest_min=None if task.until is None else _minutes(begins, task.until),
                why=task.what.partition(":")[0].lower(),
            )
        )
    return (
        Batch(
            id=name,
            product=name,
            jars=0,
            process=None,
            pots=(),
            ready_after="",
            closed_wait_at_most_min=0,
            steps=tuple(steps),
            links=(),
            windows=tuple(windows),
        ),
    )


def _minutes(since: dt.datetime, until: dt.datetime) -> int:
    return int((until - since).total_seconds() // 60)


def _what_is_left(before: DayPlan, second: Day) -> tuple[Lot, ...]:
    """The second day's shelf, where a lot that both name alike is drawn down once."""
    there = {_label(lot) for lot in before.day.shelf}
    lots = (_less(lot, before) if _label(lot) in there else lot for lot in second.shelf)
    return tuple(lot for lot in lots if lot is not None)


def _label(lot: Lot) -> tuple[str, float | None, float | None, int | None]:
    return lot.name, lot.volume_m3, lot.mass_kg, lot.count


def _less(lot: Lot, before: DayPlan) -> Lot | None:
    draws = [d for b in before.batches for d in b.draws if d.lot == lot.name]
    if lot.count is not None:
        left = lot.count - sum(d.count or 0 for d in draws)
        return replace(lot, count=left) if left > 0 else None
    if lot.mass_kg is not None:
        mass = lot.mass_kg - sum(d.mass_kg or 0.0 for d in draws)
        less = replace(lot, mass_kg=mass)
        return _in_bags(less, mass, lot.bag_kg) if mass > 1e-6 else None
    assert lot.volume_m3 is not None
    volume = lot.volume_m3 - sum(d.volume_m3 or 0.0 for d in draws)
    less = replace(lot, volume_m3=volume)
    return _in_bags(less, volume, lot.bag_m3) if volume > 1e-9 else None


def _in_bags(lot: Lot, left: float, bag: float | None) -> Lot:
    """How many whole bags that is; of no known size where one of them is opened."""
    if bag is None:
        return lot
    bags = round(left / bag)
    if abs(bags * bag - left) < 1e-6:
        return replace(lot, bags=bags)
    return replace(lot, bags=0, bag_m3=None, bag_kg=None)
