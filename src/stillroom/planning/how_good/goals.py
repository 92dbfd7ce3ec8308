"""
How good a plan is, goal by goal, in the keeper's order and in her words.

Every figure is worked out from the timetable; no solver is asked, so that what the
search believes of its plan is never repeated unseen.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from stillroom.capital import capital
from stillroom.planning.bounding.bounds import out_alone_min
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.due_words import product_of
from stillroom.planning.goal_order import Goal, in_order
from stillroom.planning.how_good.free_pieces import (
    Piece,
    busy,
    free_pieces,
    longest,
)
from stillroom.planning.how_good.lateness import late_wants
from stillroom.planning.how_good.moments import BREATH_MIN, Pair, hurried
from stillroom.planning.how_good.unwatched import kept_by
from stillroom.planning.problem import Person, Problem
from stillroom.planning.timetable import Timetable

WORTH_SAYING_MIN = 15
"""A shorter piece of free time is a pause. [min]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Met:
    """One goal, how it stands in a plan, and the figures behind the sentence."""

    goal: Goal
    met: bool
    sentence: str
    figures: Mapping[str, int]


def goals_of(problem: Problem, plan: Timetable) -> tuple[Met, ...]:
    """Every goal of a day, in the keeper's order."""
    how = {
        Goal.ON_TIME: _on_time,
        Goal.BY_THE_HOUR: _by_the_hour,
        Goal.ONE_MOMENT: _one_moment,
        Goal.FEW_RUNS: _few_runs,
        Goal.EARLY: _early,
        Goal.CALM: _calm,
    }
    return tuple(how[goal](problem, plan) for goal in in_order(problem.first))


def goals_sentence(problem: Problem, plan: Timetable, *, not_made: str = "") -> str:
    """
    All goals in one breath, each with its figure.

    ``not_made`` is a sentence on what was promised and is not made at all: the plan
    knows nothing of it, and it comes before what is late.
    """
    told = goals_told(problem, plan, not_made=not_made)
    return " ".join(met.sentence for met in told if met.sentence)


def goals_told(problem: Problem, plan: Timetable, *, not_made: str) -> tuple[Met, ...]:
    """Each goal, the first of them with what was promised and is not made."""
    told = []
    for met in goals_of(problem, plan):
        if met.goal is Goal.ON_TIME and not_made:
            rest = "Nothing else is late." if met.met else met.sentence
            told.append(replace(met, met=False, sentence=f"{not_made} {rest}"))
        else:
            told.append(met)
    return tuple(told)


def _on_time(problem: Problem, plan: Timetable) -> Met:
    late = {
        want.product: (over, want.by_min)
        for want, over in late_wants(problem, plan)
        if over
    }
    said = [
        f"{product_of(product)} is {said_minutes(over)} late, wanted by "
        f"{clock_time(problem.starts_at, by)}{_alone(problem, product, by)}"
        for product, (over, by) in late.items()
    ]
    return Met(
        goal=Goal.ON_TIME,
        met=not late,
        sentence=f"Late: {'; '.join(said)}." if said else _in_time(problem, plan),
        figures={"wants_late": len(late), "late_min": sum(o for o, _ in late.values())},
    )


def _in_time(problem: Problem, plan: Timetable) -> str:
    """Say that no promise is broken, and no more where the day itself ends late."""
    hour = problem.done_by_min
    if hour is None or plan.finish_min <= hour:
        return "Nothing late."
    return "What is promised for an hour is there by then." if problem.wants else ""


def _alone(problem: Problem, product: str, by: int) -> str:
    """Say where a promise cannot be kept, whatever else is done that day."""
    least = out_alone_min(problem, product)
    if least <= by:
        return ""
    there = clock_time(problem.starts_at, least)
    return f" (no plan has it before {there}: a batch takes that long by itself)"


def _by_the_hour(problem: Problem, plan: Timetable) -> Met:
    finish, hour = plan.finish_min, problem.done_by_min
    done = f"Done at {clock_time(problem.starts_at, finish)}"
    if hour is None:
        return Met(
            goal=Goal.BY_THE_HOUR,
            met=True,
            sentence=f"{done}.",
            figures={"finish_min": finish},
        )
    spare = hour - finish
    if spare == 0:
        said = f"{done}, the hour you wanted."
    elif spare > 0:
        said = f"{done}, {said_minutes(spare)} before you wanted."
    else:
        said = f"{done}, {said_minutes(-spare)} after you wanted."
    return Met(
        goal=Goal.BY_THE_HOUR,
        met=spare >= 0,
        sentence=said,
        figures={"finish_min": finish, "spare_min": spare},
    )


def _one_moment(problem: Problem, plan: Timetable) -> Met:
    near = hurried(problem, plan)
    at_once = [pair for pair in near if pair.pause_min < 0]
    said = "Nobody has two hurried moments at once."
    if at_once:
        said = f"Two hurried moments at once: {_named(problem, at_once)}."
    elif near:
        said = (
            "Nobody has two hurried moments at once; less than "
            f"{BREATH_MIN} min lie between two: {_named(problem, list(near))}."
        )
    return Met(
        goal=Goal.ONE_MOMENT,
        met=not near,
        sentence=said,
        figures={"at_once": len(at_once), "too_near": len(near)},
    )


def _named(problem: Problem, pairs: list[Pair]) -> str:
    """The first pairs by name, and how many more."""
    said = [
        f"{p.first.person} at {clock_time(problem.starts_at, p.second.start_min)}"
        for p in pairs[:3]
    ]
    more = len(pairs) - len(said)
    return ", ".join(said) + (f" and {more} more" if more else "")


def _few_runs(problem: Problem, plan: Timetable) -> Met:
    runs = len(plan.loads)
    heated = sum(not load.hot for load in plan.loads)
    rinsed = {(s.batch, s.mill is None) for s in plan.steps if s.rinsed}
    # each use ends with its wash, or with a rinse
    pots = len({s.batch for s in plan.steps if s.pot and (s.batch, True) not in rinsed})
    mills = len(
        {s.batch for s in plan.steps if s.mill and (s.batch, False) not in rinsed}
    )
    washes = pots + mills
    parts = []
    if runs:
        parts.append(_count(runs, "canner run", "canner runs"))
    parts.append(_count(washes, "wash", "washes"))
    if rinsed:
        parts.append(_count(len(rinsed), "rinse", "rinses"))
    said = ", ".join(parts)
    return Met(
        goal=Goal.FEW_RUNS,
        met=True,
        sentence=f"{capital(said)}.",
        figures={
            "runs": runs,
            "heated_from_cold": heated,
            "pot_washes": pots,
            "mill_washes": mills,
            "rinses": len(rinsed),
        },
    )


def _count(number: int, one: str, many: str) -> str:
    return f"{number or 'no'} {one if number == 1 else many}"


def _early(problem: Problem, plan: Timetable) -> Met:
    """Said by the hour already: a figure without a sentence."""
    return Met(
        goal=Goal.EARLY,
        met=True,
        sentence="",
        figures={"finish_min": plan.finish_min},
    )


def helpers(problem: Problem) -> tuple[Person, ...]:
    """Everyone but the first of the people, or she where she is alone."""
    return problem.people[1:] or problem.people


def _calm(problem: Problem, plan: Timetable) -> Met:
    said, in_one, free = [], 0, 0
    whole = True
    for person in helpers(problem):
        pieces = free_pieces(plan, person)
        best = longest(pieces)
        total = sum(p.free_min for p in pieces)
        if best is not None and total > 0:
            free += total
            in_one += best.free_min
            whole &= best.free_min == total
        said.append(_free_words(problem, plan, person))
    return Met(
        goal=Goal.CALM,
        met=whole,
        sentence=" ".join(said),
        figures={"free_min": free, "in_one_piece_min": in_one},
    )


def _free_words(problem: Problem, plan: Timetable, person: Person) -> str:
    """Say when she is free; minutes at a canner under pressure are not, see 0099."""
    if not busy(plan, person):
        return f"{person.id} has nothing to do in this plan."
    kept = kept_by(problem, plan, person)
    said = _longest_words(
        problem, plan, person, longest(free_pieces(plan, person, kept))
    )
    if not kept:
        return said
    stays = f"while a pressure canner vents or is under pressure {person.id} stays in"
    return f"{said[:-1]}; {stays} the kitchen."


def _longest_words(
    problem: Problem, plan: Timetable, person: Person, best: Piece | None
) -> str:
    if best is None or best.free_min < WORTH_SAYING_MIN:
        return f"{person.id} has no quarter of an hour free in one piece."
    start = clock_time(problem.starts_at, best.start_min)
    if best.end_min >= min(person.leaves_min, plan.finish_min):
        return f"{person.id} is free from {start} in one piece."
    end = clock_time(problem.starts_at, best.end_min)
    return f"{person.id} is free from {start} to {end} in one piece."
