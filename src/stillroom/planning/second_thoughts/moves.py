"""What moves when a day is planned again: minutes and hands, was and is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from stillroom.capital import capital
from stillroom.in_a_list import all_of
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import as_worked
from stillroom.planning.second_thoughts.same_loads import most_alike
from stillroom.planning.timetable import PlacedLoad, Timetable
from stillroom.planning.waits.load_names import LoadNames, with_article
from stillroom.planning.waits.precedence import Part


class UnderWay(StrEnum):
    """What is still to come of a load that is in its canner."""

    BOIL = "boil"
    """Its process clock is to be started."""
    LIFT = "lift"


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A step or load that is not where it was."""

    what: str
    """"BATCH/STEP" or the name of a load."""
    was_min: int
    is_min: int
    was_by: str | None
    is_by: str | None
    under_way: UnderWay | None = None
    """Of a load under way; `None` where a step or a whole load is still to begin."""
    into: str = ""
    """The canner that a load goes into, where that is not the one that was planned."""
    jars: tuple[tuple[str, int], ...] = ()
    """(batch, count) of a load that the old plan has not; empty of all else."""
    rests: str = ""
    """Whose break it is; empty of all else."""

    @property
    def by_min(self) -> int:
        """Minutes later; negative is earlier."""
        return self.is_min - self.was_min


def open_steps(happened: Happened, old: Timetable) -> int:
    """Steps and loads of a plan that have not begun."""
    begun = {load.id for load in happened.loads}
    steps = len(old.steps) - len(happened.steps)
    return steps + sum(load.id not in begun for load in old.loads)


def moves_between(
    happened: Happened, old: Timetable, new: Timetable
) -> tuple[Move, ...]:
    """
    What begins at another minute or goes to other hands, in order of the clock.

    A load is told by its lowering. Of one that has been lowered, what is still to come
    is told: somebody has to be there for its boil and to lift it out.
    """
    begun = happened.begun
    is_ = {(s.batch, s.step): s for s in new.steps}
    moves = [
        Move(
            what=f"{was.batch}/{was.step}",
            was_min=was.start_min,
            is_min=is_[was.batch, was.step].start_min,
            was_by=was.person,
            is_by=is_[was.batch, was.step].person,
        )
        for was in old.steps
        if (was.batch, was.step) not in begun and (was.batch, was.step) in is_
    ]
    moves += _moved_loads(happened, old, new)
    moves += _moved_breaks(happened, old, new)
    moves += _moved_under_way(happened, old, new)
    changed = (m for m in moves if m.by_min or m.was_by != m.is_by or m.into or m.jars)
    return tuple(sorted(changed, key=lambda m: (m.is_min, m.what)))


def _moved_loads(happened: Happened, old: Timetable, new: Timetable) -> Iterator[Move]:
    """
    Say when the jars of each load to come are lowered now, and into which canner.

    A load may have gone into another canner, or its jars into other loads. One that the
    old plan has not is told by its jars, and by when most of them were to be lowered.
    """
    in_canner = {load.id for load in happened.loads}
    to_come = [load for load in old.loads if load.id not in in_canner]
    coming = {load.id: load for load in new.loads if load.id not in in_canner}
    told: set[str] = set()
    for was in to_come:
        is_ = coming.get(was.id) or most_alike(was, coming.values())
        if is_ is not None:
            told.add(is_.id)
            yield _lowered(was, is_)
    for is_ in coming.values():
        alike = most_alike(is_, to_come)
        if is_.id not in told and alike is not None:
            move = _lowered(alike, is_)
            yield replace(move, what=is_.id, into=is_.canner, jars=is_.jars)


def _moved_breaks(happened: Happened, old: Timetable, new: Timetable) -> Iterator[Move]:
    """Say when each break to come begins now, the last of a person's by her last."""
    had = [rest.person for rest in happened.breaks]
    for person in dict.fromkeys(rest.person for rest in old.breaks):
        was = sorted(r.start_min for r in old.breaks if r.person == person)
        is_ = sorted(
            r.start_min
            for r in new.breaks
            if r.person == person and r not in happened.breaks
        )
        to_come = was[had.count(person) :]
        for before, after in zip(reversed(to_come), reversed(is_), strict=False):
            yield Move(
                what=f"break of {person}",
                was_min=before,
                is_min=after,
                was_by=person,
                is_by=person,
                rests=person,
            )


def _lowered(was: PlacedLoad, is_: PlacedLoad) -> Move:
    return Move(
        what=was.id,
        was_min=was.lower_min,
        is_min=is_.lower_min,
        was_by=was.lowered_by,
        is_by=is_.lowered_by,
        into="" if was.canner == is_.canner else is_.canner,
    )


def under_way(happened: Happened, old: Timetable, new: Timetable) -> int:
    """Boils and liftings that are still to come of loads in their canners."""
    return sum(1 for _ in _under_way(happened, old, new))


def _under_way(
    happened: Happened, old: Timetable, new: Timetable
) -> Iterator[tuple[PlacedLoad, PlacedLoad, UnderWay]]:
    """Loads that are in their canner, as they were and are, and what is to come."""
    in_canner = {load.id for load in happened.loads}
    was = {load.id: load for load in old.loads}
    for load in new.loads:
        if load.id not in in_canner or load.id not in was:
            continue
        if load.boil_min >= happened.now_min:
            yield was[load.id], load, UnderWay.BOIL
        if load.lift_min >= happened.now_min:
            yield was[load.id], load, UnderWay.LIFT


def _moved_under_way(
    happened: Happened, old: Timetable, new: Timetable
) -> Iterator[Move]:
    for was, is_, what in _under_way(happened, old, new):
        lift = what is UnderWay.LIFT
        yield Move(
            what=is_.id,
            was_min=was.lift_min if lift else was.boil_min,
            is_min=is_.lift_min if lift else is_.boil_min,
            was_by=was.lifted_by if lift else None,
            is_by=is_.lifted_by if lift else None,
            under_way=what,
        )


def moved_words(problem: Problem, old: Timetable, move: Move) -> tuple[str, str]:
    """Say what moves, and of which batch; a load by its number in the old plan."""
    for batch in as_worked(problem, old).batches:
        for step in batch.steps:
            if move.what == f"{batch.id}/{step.id}":
                return step.verb, batch.id
    names = LoadNames(problem, old)
    if move.jars:
        told = all_of(f"{count} of {batch}" for batch, count in move.jars)
        return f"Lower {told} into {with_article(move.into)}: one load more", ""
    if move.rests:
        return f"The break of {move.rests}", ""
    match move.under_way:
        case UnderWay.BOIL:
            said = names.comes_up(move.what)
        case UnderWay.LIFT:
            said = names.part(move.what, Part.LIFT)
        case None:
            said = names.part(move.what, Part.LOWER)
            if move.into:
                load, there = names.short(move.what), names.canner[move.what]
                said = f"lower {load} into {with_article(move.into)}, not {there}"
    return capital(said), ""
