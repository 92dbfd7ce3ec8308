"""What the planner leaves out of a day that has begun, and why, in words."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from stillroom.in_a_list import all_of
from stillroom.jar_count import jars_said
from stillroom.methods.step import Skill
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Problem
from stillroom.planning.words.step_words import called


@dataclass(frozen=True, slots=True, kw_only=True)
class NoRoom:
    """A batch that had not been put on and is left out, so that the rest fits."""

    batch: str
    jars: int
    because: str = ""
    """What it does not fit after: "Ben goes at 15:00"."""
    prepared: tuple[str, ...] = ()
    """What was done to its food already, in quotes: it is peeled, cut or scalded."""

    @property
    def becomes(self) -> str:
        """What to do with food that was made ready; empty where none was."""
        if not self.prepared:
            return ""
        return (
            f"{all_of(self.prepared)} was begun: what is peeled, cut or scalded goes "
            "covered into the refrigerator within 2 h, and is eaten or cooked in a day "
            "or two, or is frozen today"
        )


def no_room(
    problem: Problem, happened: Happened, names: Collection[str], because: str = ""
) -> list[NoRoom]:
    """Return batches of a day that are left out, with what was begun of them."""
    begun = happened.begun
    return [
        NoRoom(
            batch=batch.id,
            jars=batch.jars,
            because=because,
            prepared=tuple(
                called(batch, step.id)
                for step in batch.steps
                # washed jars and measured sugar wait for another day
                if (batch.id, step.id) in begun and step.skill is not Skill.COLD
            ),
        )
        for batch in problem.batches
        if batch.id in names
    ]


def left_out_said(left: Sequence[NoRoom]) -> str:
    """
    Say which batches are left out, and why, with a space behind it.

    >>> left_out_said([NoRoom(batch="jam 2", jars=8, because="Ben goes at 15:00")])
    'Ben goes at 15:00, and not all fits then. Left out: jam 2 (8 jars). '
    """
    if not left:
        return ""
    because = left[0].because or "What has begun would stand for hours"
    which = all_of([f"{one.batch} ({jars_said(one.jars)})" for one in left])
    return f"{because}, and not all fits then. Left out: {which}. "
