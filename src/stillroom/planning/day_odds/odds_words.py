"""The odds as people say them."""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.capital import capital
from stillroom.in_a_list import all_of
from stillroom.planning.day_odds.broken_limits import still_at_work
from stillroom.planning.day_odds.odds import Odds
from stillroom.planning.day_odds.odds_promises import PromiseOdds
from stillroom.planning.day_odds.one_more import OneMore
from stillroom.planning.daytime import clock_time
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import as_worked
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.load_names import LoadNames
from stillroom.planning.which_batches.not_made import NotMade

HARDLY_EVER, NEARLY_ALWAYS = 0.005, 0.995
"""Up to and from these shares a chance is not told in numbers: not 0 or 100 of 100."""
MORE_OFTEN_THAN_NOT = 0.5
"""A promise that is missed, or an hour that is passed, on more days than that makes the
day too full: a plan like that is not one to keep."""
OFTEN_A_DAY = 0.05
"""Limits that give way less often are not told of, but for a program."""
MATTERS_IN_ORDER = (
    "First what moves the end most by its own luck: how often it lies on the longest "
    "chain, times how far its minutes spread."
)


def chance_words(share: float) -> str:
    """
    Say a chance without a certainty that nobody has.

    >>> [chance_words(s) for s in (0.0, 0.96, 0.999)]
    ['hardly ever', 'on 96 of 100 such days', 'nearly always']
    """
    if share <= HARDLY_EVER:
        return "hardly ever"
    if share >= NEARLY_ALWAYS:
        return "nearly always"
    return f"on {share * 100:.0f} of 100 such days"


def odds_sentence(odds: Odds, starts_at: str) -> str:
    """What matters: the plan's own chance, and the times to tell other people."""
    by = (odds.planned_min, odds.even_min, odds.likely_min, odds.sure_min)
    planned, even, likely, sure = (clock_time(starts_at, minute) for minute in by)
    wanted = ""
    if odds.wanted is not None:
        hour = clock_time(starts_at, odds.wanted.minute)
        wanted = f"Done by {hour}, as you wanted, {chance_words(odds.wanted.chance)}. "
    return (
        f"{wanted}The plan ends at {planned}; of {odds.days:,} such days "
        f"{odds.chance_as_planned * 100:.0f} in 100 are over by then, half by "
        f"{even}, four in five by {likely} and nineteen in twenty by {sure}. Tell "
        f"people {likely}; {_keep_it_or_not(odds, starts_at)}"
    )


def _keep_it_or_not(odds: Odds, starts_at: str) -> str:
    """Whether it is a plan to keep; where it is not, what to do instead."""
    missed = [
        f"{promise.product} by {clock_time(starts_at, promise.minute)}"
        for promise in odds.promises
        if 1 - promise.chance > MORE_OFTEN_THAN_NOT
    ]
    who = still_at_work(odds.broken, MORE_OFTEN_THAN_NOT)
    if not missed and not who:
        return "keep the plan."
    are = "is" if len(who) == 1 else "are"
    said = [f"the promise of {all_of(missed)} is missed"] if missed else []
    if who:
        said.append(f"{all_of(who)} {are} still at work past the hour to leave")
    return (
        f"but this day is too full: more often than not {all_of(said)}. Leave a batch "
        "out, let somebody stay longer, or promise a later hour; What if shows what "
        "each brings."
    )


def promise_words(
    promise: PromiseOdds, starts_at: str, not_made: Sequence[NotMade] = ()
) -> str:
    """
    Say how likely one promise is kept; of what is made of it, where not all is.

    >>> jelly = PromiseOdds(product="plum jelly", minute=60, chance=0.76)
    >>> promise_words(jelly, "08:00")
    'plum jelly there by 9:00, as promised: on 76 of 100 such days'
    """
    hour = clock_time(starts_at, promise.minute)
    chance = chance_words(promise.chance)
    lacking = sum(
        one.jars
        for one in not_made
        if one.product == promise.product and f"{one.by:%-H:%M}" == hour
    )
    but = ""
    if lacking:
        jars = "1 jar that is" if lacking == 1 else f"{lacking} jars that are"
        but = f" but for the {jars} not made"
    return f"{promise.product} there by {hour}, as promised{but}: {chance}"


A_FEW_MINUTES = "a difference of a few minutes is the search"
"""Said of what one thing more brings: each day is searched anew."""


def against_words(more: Sequence[OneMore], problem: Problem, plan: Timetable) -> str:
    """Say what one thing more is measured against: the day as it is, searched on."""
    against, planned = more[0].against_min, plan.finish_min
    told = "Measured against the day as it is, searched on for as long as each of these"
    if against == planned:
        return f"{told}: it stays done by {clock_time(problem.starts_at, planned)}"
    found, here = (clock_time(problem.starts_at, m) for m in (against, planned))
    return f"{told}: done by {found}, where the plan above ends at {here}"


def step_words(problem: Problem, plan: Timetable, of: str, step: str) -> str:
    """Name a step by its verb, a load by what happens to it."""
    for batch in as_worked(problem, plan).batches:
        for one in batch.steps:
            if (batch.id, one.id) == (of, step):
                return f"{one.verb} ({of})"
    said = LoadNames(problem, plan).part(of, step)
    return capital(said)


def rests_on(problem: Problem, plan: Timetable, of: str, step: str) -> str:
    """
    Say what the minutes of a step rest on: the book, practice, her own days.

    A load's way to the boil rests on the canner, and is said by its spread.
    """
    for batch in as_worked(problem, plan).batches:
        for one in batch.steps:
            if (batch.id, one.id) == (of, step):
                return one.basis
    load = next((load for load in plan.loads if load.id == of), None)
    if load is None:
        return ""
    canner = next((c for c in problem.canners if c.id == load.canner), None)
    spread = None if canner is None else canner.spread_up(load.process)
    if spread is None:
        return ""
    return f"the canner's own way up, {spread.low} to {spread.high} min"
