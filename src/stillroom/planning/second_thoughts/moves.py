"""What moves when a day is planned again: minutes and hands, was and is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from stillroom.capital import capital
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import as_worked
from stillroom.planning.timetable import PlacedLoad, Timetable
from stillroom.planning.waits.load_names import LoadNames
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
    was: dict[str, tuple[int, str | None]] = {
        f"{s.batch}/{s.step}": (s.start_min, s.person)
        for s in old.steps
        if (s.batch, s.step) not in begun
    }
    in_canner = {load.id for load in happened.loads}
    was |= {
        load.id: (load.lower_min, load.lowered_by)
        for load in old.loads
        if load.id not in in_canner
    }
    is_: dict[str, tuple[int, str | None]] = {
        f"{s.batch}/{s.step}": (s.start_min, s.person) for s in new.steps
    }
    is_ |= {load.id: (load.lower_min, load.lowered_by) for load in new.loads}
    moves = [
        Move(
            what=what,
            was_min=start,
            is_min=is_[what][0],
            was_by=who,
            is_by=is_[what][1],
        )
        for what, (start, who) in was.items()
        if what in is_ and is_[what] != (start, who)
    ]
    moves += _moved_under_way(happened, old, new)
    return tuple(sorted(moves, key=lambda m: (m.is_min, m.what)))


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
        move = Move(
            what=is_.id,
            was_min=was.lift_min if lift else was.boil_min,
            is_min=is_.lift_min if lift else is_.boil_min,
            was_by=was.lifted_by if lift else None,
            is_by=is_.lifted_by if lift else None,
            under_way=what,
        )
        if move.by_min or move.was_by != move.is_by:
            yield move


def moved_words(problem: Problem, old: Timetable, move: Move) -> tuple[str, str]:
    """Say what moves, and of which batch; a load by its number in the old plan."""
    for batch in as_worked(problem, old).batches:
        for step in batch.steps:
            if move.what == f"{batch.id}/{step.id}":
                return step.verb, batch.id
    names = LoadNames(problem, old)
    match move.under_way:
        case UnderWay.BOIL:
            said = names.comes_up(move.what)
        case UnderWay.LIFT:
            said = names.part(move.what, Part.LIFT)
        case None:
            said = names.part(move.what, Part.LOWER)
    return capital(said), ""
