"""What moves when a day is planned again: minutes and hands, was and is."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.happened import Happened
from stillroom.planning.load_names import LoadNames
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import as_worked
from stillroom.planning.timetable import Timetable


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A step or load that is not where it was."""

    what: str
    """"BATCH/STEP" or the name of a load."""
    was_min: int
    is_min: int
    was_by: str | None
    is_by: str | None

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
    """What begins at another minute or goes to other hands, in order of the clock."""
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
    return tuple(sorted(moves, key=lambda m: (m.is_min, m.what)))


def moved_words(problem: Problem, old: Timetable, move: Move) -> tuple[str, str]:
    """Say what moves, and of which batch; a load by its number in the old plan."""
    for batch in as_worked(problem, old).batches:
        for step in batch.steps:
            if move.what == f"{batch.id}/{step.id}":
                return step.verb, batch.id
    said = LoadNames(problem, old).part(move.what, "lower")
    return f"{said[0].upper()}{said[1:]}", ""
