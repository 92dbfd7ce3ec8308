"""The odds as people say them."""

from __future__ import annotations

from stillroom.planning.odds import Odds
from stillroom.planning.precedence import Part
from stillroom.planning.problem import Problem
from stillroom.planning.sheet import clock

OF_A_LOAD: dict[str, str] = {
    Part.HEAT: "Heat the canner's water",
    Part.LOWER: "Lower the jars",
    Part.COME_UP: "Bring the canner to a full boil",
    Part.PROCESS: "Process",
    Part.REST: "Let the jars rest",
    Part.LIFT: "Lift the jars out",
}
"""Parts of a load, said as steps are."""


def chance_words(share: float) -> str:
    """
    Say a chance without a certainty that nobody has.

    >>> [chance_words(s) for s in (0.0, 0.96, 0.999)]
    ['hardly ever', 'on 96 of 100 such days', 'nearly always']
    """
    if share < 0.005:
        return "hardly ever"
    if share > 0.995:
        return "nearly always"
    return f"on {share * 100:.0f} of 100 such days"


def odds_sentence(odds: Odds, starts_at: str) -> str:
    """What matters: the plan's own chance, and the times to tell other people."""
    planned = clock(starts_at, odds.planned_min)
    likely, sure = clock(starts_at, odds.likely_min), clock(starts_at, odds.sure_min)
    return (
        f"The plan ends at {planned}; of {odds.days:,} such days "
        f"{odds.chance_as_planned * 100:.0f} in 100 are over by then, half by "
        f"{clock(starts_at, odds.even_min)}, four in five by {likely} and nineteen in "
        f"twenty by {sure}. Tell people {likely}; keep the plan."
    )


def step_words(problem: Problem, of: str, step: str) -> str:
    """Name a step by its verb, a load by what happens to it."""
    for batch in problem.batches:
        for one in batch.steps:
            if (batch.id, one.id) == (of, step):
                return f"{one.verb} ({of})"
    return f"{OF_A_LOAD.get(step, step)} (load {of})"


def rests_on(problem: Problem, of: str, step: str) -> str:
    """
    Say what the minutes of a step rest on: the book, practice, her own days.

    A load's way to the boil rests on the canner, and is said by its spread.
    """
    for batch in problem.batches:
        for one in batch.steps:
            if (batch.id, one.id) == (of, step):
                return one.basis
    spreads = {c.come_up_spread for c in problem.canners} - {None}
    said = sorted(f"{s.low} to {s.high} min" for s in spreads if s is not None)
    return f"the canner's way to a full boil, {' or '.join(said)}" if said else ""
