"""
Why nothing fits, in words, and what would help.

Plain sums come first, because a person can follow them: one batch longer than the day,
more work than hands, more jars than places. Only then is the solver asked which rules
cannot hold together.
"""

from __future__ import annotations

import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from math import ceil

from stillroom.in_a_list import all_of
from stillroom.jar_count import jars_said
from stillroom.planning.bounding.beside import counted_rounds
from stillroom.planning.bounding.bounds import (
    WHOLE_HANDS,
    Bound,
    all_work,
    hands_by,
    lower_bounds,
)
from stillroom.planning.bounding.longer_than_day import longer_than_the_day
from stillroom.planning.bounding.one_fire import OneFire, one_fire_for_both
from stillroom.planning.bounding.too_many_jars import (
    a_larger_canner,
    none_can_be_canned,
    too_many_jars,
)
from stillroom.planning.cpsat.clash import clashing_rules
from stillroom.planning.cpsat.solve import Search, is_small
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import least_asked
from stillroom.planning.timetable import NoPlan, Timetable
from stillroom.planning.ways.held_plan import PlanOfSome
from stillroom.planning.ways.ways_out import Ways, ways_out
from stillroom.planning.why_not.clash_by_bound import rules_by_bound
from stillroom.planning.why_not.ready_late import hours_that_hold, ready_too_late

SHARE_FOR_CLASH = 0.5
SHARE_ON_A_LARGE_DAY = 0.15
"""Of the time, for a proof by search, which a large day seldom comes to."""
SHARE_FOR_BOUND = 0.3
"""Of the time, for the rules that the proof of a bound rests on."""


def no_plan(
    problem: Problem,
    *,
    impossible: bool,
    seconds: float,
    search: Search,
    known: Bound | None = None,
    missed: Sequence[str] = (),
    a_jar_min: Mapping[str, int] | None = None,
    reached: Timetable | None = None,
    shown: PlanOfSome | None = None,
) -> NoPlan:
    """
    Say why a day has no plan.

    Parameters
    ----------
    problem : Problem
        A day for which no plan was found.
    impossible : bool
        Whether it is proven that none exists.
    seconds : float
        How long plans were searched for. [s]
    search : Search
        Time and threads for the explanation.
    known : Bound, optional
        When a day could end at the earliest, as far as that is proven.
    missed : sequence of str
        Ids of its batches, those that would be missed most first.
    reached : Timetable, optional
        The best plan that was found with the day's end left open.
    a_jar_min : mapping, optional
        What a jar of each batch weighs that is left out. [min]
    shown : PlanOfSome, optional
        Batches that do fit, with the plan of them that is shown.

    Returns
    -------
    NoPlan
        What clashes, and what would help.
    """
    began = time.monotonic()
    clashes, minimal = tuple(plain_reasons(problem)), False
    impossible = impossible or bool(clashes)
    if not clashes and impossible:
        share = SHARE_FOR_CLASH if is_small(problem) else SHARE_ON_A_LARGE_DAY
        half = began + share * search.left()
        clash = clashing_rules(problem, replace(search, until=half))
        if clash is None:
            until = began + SHARE_FOR_BOUND * search.left()
            held = () if is_small(problem) else _held_by(problem, search, until)
            clashes = (_proven(problem, known), *held)
        elif clash.whatever:
            clashes, minimal = (_whatever(problem),), False
        else:
            clashes, minimal = clash.rules, clash.minimal
        if clash is None or not clash.whatever:
            hours, alone = hours_that_hold(problem)
            clashes, minimal = (*hours, *clashes), minimal and (alone or not hours)
    if not clashes:
        clashes = (_not_found(problem, seconds, reached),)
    found = Ways(())
    if not none_can_be_canned(problem):
        found = ways_out(
            problem,
            search,
            missed=missed,
            a_jar_min=a_jar_min,
            reached=reached,
            shown=shown,
        )
    would_help = tuple(way.says for way in found.ways)
    if larger := a_larger_canner(problem):
        would_help = (*would_help, larger)
    if not impossible:
        would_help = (*would_help, f"allow more than {seconds:g} s for the search")
    return NoPlan(
        clashes=clashes,
        minimal=minimal,
        would_help=would_help,
        ways_out=found.ways,
        why_fewer=found.why_fewer,
    )


def _proven(problem: Problem, known: Bound | None) -> str:
    """What is said where the search for the rules that clash took too long."""
    what = "not all of it fits"
    if len(problem.batches) == 1:
        what = f"{problem.batches[0].id} does not fit"
    if known is None or known.minute <= problem.horizon_min:
        return f"it is proven that {what}; which rules clash took too long"
    end = clock_time(problem.starts_at, problem.horizon_min)
    return f"it is proven that {what} by {end}: {known.why}"


def _held_by(problem: Problem, search: Search, until: float) -> tuple[str, ...]:
    """The rules of a large day that the proof rests on."""

    def is_late() -> bool:
        return time.monotonic() > until

    is_over = is_late
    if search.deterministic:
        is_over = counted_rounds(problem, SHARE_FOR_BOUND * search.seconds)
    rules = rules_by_bound(problem, is_over)
    if len(rules) < 2:  # the end of the day alone is said with the proof
        return ()
    return (f"what people could change of it: {'; '.join(rules)}",)


def _not_found(problem: Problem, seconds: float, reached: Timetable | None) -> str:
    """What is said where nothing is proven: how far the search came."""
    unproven = "it is not proven that none exists"
    if reached is None or reached.finish_min <= problem.horizon_min:
        return f"no plan was found in {seconds:g} s; {unproven}"
    end = clock_time(problem.starts_at, problem.horizon_min)
    ends = clock_time(problem.starts_at, reached.finish_min)
    return (
        f"the best plan found in {seconds:g} s for all of it ends at {ends}, and the "
        f"day ends at {end}; {unproven}"
    )


def _whatever(problem: Problem) -> str:
    names = ", ".join(b.id for b in problem.batches)
    return (
        f"the links, waits, fires and pots of {names} cannot hold together, "
        "however long people stay"
    )


def plain_reasons(problem: Problem) -> Iterator[str]:
    """Reasons that need no search: each alone means that there is no plan."""
    problem = least_asked(problem)
    end = clock_time(problem.starts_at, problem.horizon_min)
    day = said_minutes(problem.horizon_min)
    alone = longer_than_the_day(problem)
    if alone:
        yield f"{alone}; the day has {day} and ends at {end}"
    yield from ready_too_late(problem)
    yield from _hands(problem)
    yield from _counter(problem)
    yield from (one.sentence for one in too_many_jars(problem))
    yield from _once(one_fire_for_both(problem))
    if alone:
        return
    for bound in lower_bounds(problem):
        if bound.minute > problem.horizon_min and "hands" not in bound.why:
            until = clock_time(problem.starts_at, bound.minute)
            yield f"{bound.why}: not before {until}, and the day ends at {end}"


def _once(found: Iterable[OneFire]) -> Iterator[str]:
    """One fire for pot and canner is said once for all batches of a product."""
    said: dict[tuple[str, str], OneFire] = {}
    for one in found:
        said.setdefault((one.batch.product, one.canner.id), one)
    yield from (one.sentence for one in said.values())


def _hands(problem: Problem) -> Iterator[str]:
    """More work than hands: the smallest group of people for whom that is so."""
    work = all_work(problem)
    groups = {w.able for w in work} | {frozenset(p.id for p in problem.people)}
    for group in sorted(groups, key=lambda g: (len(g), sorted(g))):
        mine = [w for w in work if w.able <= group]
        people = [p for p in problem.people if p.id in group]
        since = min((w.earliest for w in mine), default=0)
        there = sum(hands_by(p, since, problem.horizon_min) for p in people)
        quarters = sum(w.minutes * w.quarters for w in mine) / 4
        halves = sum(w.minutes * WHOLE_HANDS[w.quarters] for w in mine) / 2
        needed = ceil(max(quarters, halves))
        if needed > there:
            names = all_of(sorted(group))
            yield (
                f"there is more work than hands: {said_minutes(needed)} of work that "
                f"only {names} can do, and {said_minutes(there)} of their time"
            )
            return


def _counter(problem: Problem) -> Iterator[str]:
    jars = sum(b.jars for b in problem.batches if b.process is not None)
    are = "is" if jars == 1 else "are"
    counter = problem.counter
    end = problem.horizon_min
    taken = sum(n for n, until in counter.taken if until >= end)
    if taken and counter.cooling_min >= end and jars + taken > counter.places:
        yield (
            f"{jars_said(jars)} {are} to cool; {taken} of the day before still stand "
            f"on the counter all day, and it has room for {counter.places or 'none'}"
        )
    elif counter.cooling_min >= problem.horizon_min and jars > counter.places:
        yield (
            f"{jars_said(jars)} {are} to cool for {said_minutes(counter.cooling_min)}; "
            f"the counter has room for {counter.places or 'none'}"
        )
