"""What was left out of a day, kept so that it may be taken in after all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator

from stillroom.planning.day import Day
from stillroom.planning.dayplan import DayPlan, MadeBatch, Spare
from stillroom.planning.due_words import due_label
from stillroom.planning.problem import Problem, Want, wants_of
from stillroom.planning.which_batches.batches import Batched
from stillroom.planning.which_batches.kitchen_problem import minute
from stillroom.planning.which_batches.thawing import (
    frozen_piece_m3,
    longest_in_water_h,
)


def spares_of(
    day: Day,
    made: Batched,
    problem: Problem,
    out: Collection[str],
    cannot: Collection[str],
) -> Iterator[Spare]:
    """
    Yield the batches that are left out, as they would be planned.

    Parameters
    ----------
    day, made, problem : Day, Batched, Problem
        The day with them in it.
    out : collection of str
        Ids of those that are left out.
    cannot : collection of str
        Ids of those that nobody could work, room or not.
    """
    stated = {b.id: b for b in problem.batches}
    for one in made.batches:
        if one.id not in out or one.id in cannot or one.id not in stated:
            continue
        batch = stated[one.id]
        yield Spare(
            made=one,
            batch=batch,
            processes=tuple(p for p in problem.processes if p.id == batch.process),
            wants=wants_of(problem.wants, [batch]),
            thaws_min=60 * _thaws_h(day, one),
        )


def spares_for(plan: DayPlan, there: Collection[str]) -> tuple[Spare, ...]:
    """
    Return the batches of a day that its run does not have, the most missed first.

    Parameters
    ----------
    plan : DayPlan
        The day as it is planned from its file.
    there : collection of str
        Ids of the batches that the run goes by; what was begun of one and then left out
        is among them.
    """
    missed = [name for left in plan.left_out for name, _ in left.each]
    kept = () if plan.problem is None else _kept(plan, plan.problem)
    found = [s for s in (*kept, *plan.spare) if s.batch.id not in there]

    def place(spare: Spare) -> int:
        name = spare.batch.id
        return missed.index(name) if name in missed else -1

    return tuple(sorted(found, key=place))


def all_promised(
    problem: Problem, spares: Iterable[Spare], plan: DayPlan
) -> tuple[Want, ...]:
    """
    What is promised by an hour: the earliest due first, whether it is made or not.

    Also by batches that a day is without, and what none can be made for.
    """
    wants = _of_no_batch(plan)
    wants |= {want.product: want for spare in spares for want in spare.wants}
    wants |= {want.product: want for want in problem.wants}
    return tuple(sorted(wants.values(), key=lambda want: want.by_min))


def _of_no_batch(plan: DayPlan) -> dict[str, Want]:
    """Each promise by its label, as if there were no batch for it."""
    jars: Counter[tuple[str, int]] = Counter()
    for promise in plan.promised:
        if promise.want.by is not None:
            due = minute(promise.want.by, plan.day.starts)
            jars[due_label(promise.product, promise.want), due] += promise.want.jars
    return {
        label: Want(product=label, by_min=due, jars=number)
        for (label, due), number in jars.items()
    }


def _kept(plan: DayPlan, problem: Problem) -> Iterator[Spare]:
    """Batches that are planned: their fruit was set out in the evening."""
    stated = {b.id: b for b in problem.batches}
    for made in plan.batches:
        if made.id in stated:
            batch = stated[made.id]
            yield Spare(
                made=made,
                batch=batch,
                processes=tuple(p for p in problem.processes if p.id == batch.process),
                wants=wants_of(problem.wants, [batch]),
            )


def _thaws_h(day: Day, made: MadeBatch) -> int:
    """How long what it takes out of the freezer thaws in cold water. [h]"""
    drawn = {draw.lot for draw in made.draws}
    hours = [0]
    for lot in day.shelf:
        if lot.frozen and lot.name in drawn:
            whole = frozen_piece_m3(lot) or lot.volume_m3
            hours.append(longest_in_water_h(whole))
    return max(hours)
