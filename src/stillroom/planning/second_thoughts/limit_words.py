"""What the judge says of a limit, in the words of the kitchen: no ids, clock times."""

from __future__ import annotations

from stillroom.planning.answering import BrokenPlan
from stillroom.planning.begun.changes import OUR_PLAN
from stillroom.planning.daytime import clock_time
from stillroom.planning.problem import Problem
from stillroom.planning.spoken_of import Id, Minute, Part, Sentence, StepOf, TheLoad
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.load_names import LoadNames
from stillroom.planning.words.step_words import called
from stillroom.refusal import Refusal


def limit_words(problem: Problem, names: LoadNames, said: Sentence) -> str:
    """
    Say which limit gives way: loads and steps by name, minutes of the day as hours.

    Parameters
    ----------
    problem : Problem
        The day.
    names : LoadNames
        What its loads are called.
    said : Sentence
        As the judge or the search says it.
    """
    batches = {batch.id: batch for batch in problem.batches}

    def in_the_kitchen(part: Part) -> str:
        match part:
            case StepOf(batch, step) if batch in batches:
                return called(batches[batch], step)
            case TheLoad(load) if load in names.number:
                return names.name(load)
            case Minute(minute):
                return clock_time(problem.starts_at, minute)
            case Id(id_):
                return id_.replace("_", " ")
            case _:
                return str(part)

    return said.told(in_the_kitchen)


def not_together(
    problem: Problem, plan: Timetable, broken: BrokenPlan, *, instead: str
) -> Refusal:
    """Refuse what was said to have happened, in words, with what it clashes in."""
    names = LoadNames(problem, plan)
    said = "; ".join(limit_words(problem, names, one) for one in broken.said)
    return Refusal(
        f"what has happened does not go together for the planner: {said}",
        instead=instead,
        source=OUR_PLAN,
    )
