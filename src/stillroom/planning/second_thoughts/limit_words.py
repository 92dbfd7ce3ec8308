"""What the judge says of a limit, in the words of the kitchen: no ids, clock times."""

from __future__ import annotations

import re

from stillroom.planning.answering import BrokenPlan
from stillroom.planning.begun.changes import OUR_PLAN
from stillroom.planning.daytime import clock_time
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.load_names import LoadNames
from stillroom.planning.words.step_words import called
from stillroom.refusal import Refusal

MINUTE = re.compile(
    r"\b(?P<how>(?:at )?minute|not before|at the latest) "
    r"(?P<since>-?\d+)(?: to (?P<until>-?\d+))?"
)
"""A minute of the day, or from one to another, as the judge says it."""


def limit_words(problem: Problem, names: LoadNames, said: str) -> str:
    """
    Say which limit gives way: loads and steps by name, minutes of the day as hours.

    Parameters
    ----------
    problem : Problem
        The day.
    names : LoadNames
        What its loads are called.
    said : str
        As the judge or the search says it.
    """

    def hours(found: re.Match[str]) -> str:
        how, since, until = found.group("how", "since", "until")
        first = clock_time(problem.starts_at, int(since))
        if until is not None:
            return f"{first} to {clock_time(problem.starts_at, int(until))}"
        return f"{how.removesuffix('minute')}{'' if 'minute' in how else ' '}{first}"

    return MINUTE.sub(hours, _steps_named(problem, names.in_words(said))).replace(
        "_", " "
    )


def not_together(
    problem: Problem, plan: Timetable, broken: BrokenPlan, *, instead: str
) -> Refusal:
    """Refuse what was said to have happened, in words, with what it clashes in."""
    said = limit_words(problem, LoadNames(problem, plan), str(broken))
    return Refusal(
        f"what has happened does not go together for the planner: {said}",
        instead=instead,
        source=OUR_PLAN,
    )


def _steps_named(problem: Problem, said: str) -> str:
    """Put what is done in place of the ids of steps of the batch that is spoken of."""
    for batch in problem.batches:
        spoken_of = re.escape(f" of {batch.id}") + r"(?!\w)"
        if not re.search(spoken_of, said):
            continue
        for step in batch.steps:
            # a backslash in a verb is no group of the pattern
            one, name = re.escape(step.id), called(batch, step.id).replace("\\", r"\\")
            said = re.sub(rf'(?<![\w"]){one}(?={spoken_of})', name, said)
            said = re.sub(rf'(?<= after ){one}(?![\w"])', name, said)
    return said
