"""
Which batches at all, on a day that is too small for every one of them.

Batches come in the order in which they would be missed: what will not keep, what
matters most, what sells. One after another is put into the day as long as a plan by
hand fits; then the search is asked for a better set, beginning with that one, and for a
proof that there is none. The rest of the time goes to the plan of what is kept.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from stillroom.planning.answering import BrokenPlan
from stillroom.planning.bounding.beside import counted_rounds
from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.bounding.together import COARSE, smeared
from stillroom.planning.bounding.windows import window_bound_min
from stillroom.planning.cpsat.search import TOO_SLOW
from stillroom.planning.cpsat.solve import Search, is_small
from stillroom.planning.cpsat.which_batches import Which, which_batches
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.judge.check import breaches, violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer, Timetable
from stillroom.planning.way_changes import LONGER_DAY_MIN, ending_later
from stillroom.planning.ways.held_plan import (
    KnownPlan,
    PlanOfSome,
    is_better,
    jars_of,
    only,
    what_holds,
)
from stillroom.planning.ways.put_behind import with_the_others
from stillroom.planning.ways.way_plans import Time, how_soon

SHARE_OF_BEGINNING = 0.3
"""Of the time, at most, for a set to begin with."""
SHARE_OF_CHOOSING = 0.5
"""Of the time, for the set; the rest goes to the plan of what is kept."""
SHARE_OF_PROVING = 0.1
"""Of the time, for bounds on what is left out."""
SHARE_OF_ONE_MORE, TRIED_AS_ONE_MORE = 0.4, 3
"""As much again of the time for the plan of what is kept, for batches that may have
room beside it once it is good; and so many of those left out are tried."""
SHARE_OF_OPEN_END = 0.7
"""Of the time for one more, with the day's end left open."""
LEAST_S = 0.5
SHUFFLE_S = 0.05
"""For shuffled orders of a set that fits by hand in no simple order. [s]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fits:
    """What fits of a day, and its plan."""

    problem: Problem
    answer: Answer
    left_out: tuple[str, ...]
    """Ids of the batches that have no room, the most missed first."""
    no_more: frozenset[str] = frozenset()
    """Those that no plan has beside all that is kept: proven."""


def what_fits(
    problem: Problem,
    order: Sequence[str],
    *,
    seconds: float,
    workers: int = 2,
    deterministic: bool = True,
    begin_with: Sequence[KnownPlan] = (),
    reached: Timetable | None = None,
) -> Fits | None:
    """
    Plan as many batches as fit, the first in ``order`` before all others.

    Parameters
    ----------
    problem : Problem
        A day that has no plan with all of its batches.
    order : sequence of str
        Ids of its batches, the most missed first.
    seconds : float
        For everything. [s]
    workers : int
        Search threads.
    deterministic : bool
        Work is counted and not timed: the same choice every time.
    begin_with : sequence of KnownPlan
        Plans of days like it. What holds of one of them is never given up: no set that
        is worse comes of it, none with fewer jars, and no later end of the same set.
    reached : Timetable, optional
        A plan of all batches that ends too late: those that end in time are a set to
        begin with.

    Returns
    -------
    Fits or None
        `None` where not one batch fits.
    """
    until = time.monotonic() + seconds

    whole = Search(until, workers, 1, deterministic)

    def search(share: float) -> Search:
        allowed = max(LEAST_S, share * seconds)
        ends = time.monotonic() + allowed
        return replace(whole, until=ends).at_last(allowed)

    begun = what_holds(problem, begin_with, order)
    at_least = 0 if begun is None else jars_of(problem, begun.kept)
    start = begun
    if begun is None or len(begun.kept) < len(problem.batches):
        starts = _starts(problem, order, reached, search(SHARE_OF_BEGINNING))
        start = _best(problem, begun, starts, order, at_least)
    which = which_batches(
        problem,
        order,
        search(SHARE_OF_CHOOSING),
        kept=() if start is None else start.kept,
        start=None if start is None else start.plan,
        at_least_jars=at_least,
    )
    which = _judged(problem, _or_begun_with(problem, which, start, order))
    if not which.kept or which.timetable is None:
        return None
    no_more = _no_room(problem, order, which, search(SHARE_OF_PROVING))
    left = until - time.monotonic()
    if deterministic:
        left = (1.0 - SHARE_OF_CHOOSING - SHARE_OF_PROVING) * seconds

    def planned(day: Problem, plan: Timetable, share: float) -> Answer | None:
        answer = plan_day(
            day,
            seconds=max(LEAST_S, share * left),
            workers=workers,
            deterministic=deterministic,
            begin_with=plan,
        )
        return answer if isinstance(answer, Answer) else None

    answer = planned(only(problem, which.kept), which.timetable, 1.0)
    if answer is None:
        return None
    out = [name for name in order if name not in {*which.kept, *no_more}]
    kept, answer = _with_one_more(problem, order, which.kept, answer, out, planned)
    if whole.cut.happened:
        remarks = dict.fromkeys((*answer.remarks, TOO_SLOW))
        answer = replace(answer, remarks=tuple(remarks))
    return Fits(
        problem=only(problem, kept),
        answer=answer,
        left_out=tuple(name for name in order if name not in kept),
        no_more=no_more,
    )


Planned = Callable[[Problem, Timetable, float], Answer | None]
"""Searches on a plan of a day, for a share of the time."""


def _best(
    problem: Problem,
    begun: PlanOfSome | None,
    starts: Iterable[PlanOfSome],
    order: Sequence[str],
    at_least_jars: int,
) -> PlanOfSome | None:
    """The best set to begin with, of those with no fewer jars."""
    best = begun
    for other in starts:
        if jars_of(problem, other.kept) >= at_least_jars and (
            best is None or is_better(problem, other, best, order)
        ):
            best = other
    return best


def _with_one_more(
    problem: Problem,
    order: Sequence[str],
    kept: tuple[str, ...],
    answer: Answer,
    out: Sequence[str],
    planned: Planned,
) -> tuple[tuple[str, ...], Answer]:
    """What is kept and its plan, with those left out that have room beside it."""
    tried = [] if is_small(problem) else _first_of_each(problem, out)
    for name in tried:
        one_more = tuple(_in(order, [*kept, name]))
        share = SHARE_OF_ONE_MORE / len(tried)
        more = _one_more(
            only(problem, one_more), answer.timetable, name, planned, share
        )
        if more is not None:
            kept, answer = one_more, more
    return kept, answer


def _first_of_each(problem: Problem, out: Sequence[str]) -> list[str]:
    """The first few of what is left out, one of each product: the next is like it."""
    serves = {batch.id: batch.serves for batch in problem.batches}
    first = {serves[name]: name for name in reversed(out)}
    return [name for name in out if first[serves[name]] == name][:TRIED_AS_ONE_MORE]


def _one_more(
    day: Problem,
    plan: Timetable,
    name: str,
    planned: Planned,
    share: float,
) -> Answer | None:
    """A plan of the day with one batch more: put behind the others, then moved up."""
    open_ = replace(ending_later(day, LONGER_DAY_MIN), wants=(), done_by_min=None)
    begun = with_the_others(open_, plan, [name])
    if begun is not None and violations(day, begun):
        sooner = planned(open_, begun, SHARE_OF_OPEN_END * share)
        begun = None if sooner is None else sooner.timetable
    if begun is None or violations(day, begun):
        return None
    return planned(day, begun, (1.0 - SHARE_OF_OPEN_END) * share)


def _or_begun_with(
    problem: Problem, which: Which, start: PlanOfSome | None, order: Sequence[str]
) -> Which:
    """The plan that the choice began with, where it has the same batches and is better.

    A set is chosen without regard to when it ends.
    """
    if start is None or which.timetable is None:
        return which
    chosen = PlanOfSome(kept=which.kept, plan=which.timetable)
    if is_better(problem, chosen, start, order):
        return which
    return replace(which, kept=start.kept, timetable=start.plan)


def _starts(
    problem: Problem,
    order: Sequence[str],
    reached: Timetable | None,
    search: Search,
) -> Iterator[PlanOfSome]:
    """Sets to begin with: what ends in time of a longer day, and what fits by hand."""
    if reached is not None:
        late = KnownPlan(starts_at=problem.starts_at, plan=reached)
        if (held := what_holds(problem, [late], order)) is not None:
            yield _with_more(problem, held, order)
        if not is_small(problem):
            at = Time(search)
            if (first := _first_so_many(problem, order, reached, at)) is not None:
                yield first
            return
    kept, plan = _by_hand(problem, order, search.deterministic)
    if plan is not None:
        yield PlanOfSome(kept=tuple(kept), plan=plan)


def _first_so_many(
    problem: Problem, order: Sequence[str], reached: Timetable, at: Time
) -> PlanOfSome | None:
    """
    As many of the first in the order as fit, in the order of work of a longer day.

    What fits with more fits with fewer, so that their number is found by halves.
    """
    found: PlanOfSome | None = None
    low, high = 0, len(order)
    while high - low > 1 and not at.is_over():
        many = (low + high) // 2
        day = only(problem, order[:many])
        open_ = ending_later(day, LONGER_DAY_MIN)
        plan = how_soon(open_, reached, day.horizon_min, at).plan
        if plan is None or violations(day, plan):
            high = many
        else:
            low, found = many, PlanOfSome(kept=tuple(order[:many]), plan=plan)
    return found


def _with_more(problem: Problem, held: PlanOfSome, order: Sequence[str]) -> PlanOfSome:
    """Batches put into what a plan leaves free of the day, the most missed first."""
    for name in order:
        if name in held.kept:
            continue
        kept = tuple(_in(order, [*held.kept, name]))
        day = replace(only(problem, kept), wants=())
        more = with_the_others(day, held.plan, [name])
        if more is not None and not violations(only(problem, kept), more):
            held = PlanOfSome(kept=kept, plan=more)
    return held


def _by_hand(
    problem: Problem, order: Sequence[str], deterministic: bool
) -> tuple[list[str], Timetable | None]:
    """One batch after another, as long as a plan by hand fits."""
    tries: Callable[[Problem], Timetable | None] = (
        (lambda p: by_hand(p, work_s=SHUFFLE_S))
        if deterministic
        else (lambda p: by_hand(p, seconds=0.0, shuffle_seconds=SHUFFLE_S))
    )
    kept: list[str] = []
    found: Timetable | None = None
    for name in order:
        trial = _in(order, [*kept, name])
        if (plan := tries(only(problem, trial))) is not None:
            kept, found = trial, plan
    return kept, found


def _judged(problem: Problem, which: Which) -> Which:
    """A set comes with a plan that breaks no rule."""
    if which.timetable is None:
        return which
    broken = breaches(only(problem, which.kept), which.timetable)
    if broken:
        raise BrokenPlan(*(one.said for one in broken))
    return which


def _no_room(
    problem: Problem, order: Sequence[str], which: Which, search: Search
) -> frozenset[str]:
    """
    Batches that have no room beside all that is kept, by the bounds: proven.

    One that is proven to have none beside a part of what is kept is among them.
    """
    proven = {name for name in which.proven_out if name not in which.kept}
    if search.deterministic:
        is_over = counted_rounds(problem, search.seconds)
    else:

        def is_over() -> bool:
            return search.left() <= 0

    like = {b.id: replace(b, id="") for b in problem.batches}
    for name in order:
        if name in which.kept or name in proven:
            continue
        if any(like[name] == like[other] for other in proven):
            proven.add(name)
            continue
        if search.left() <= 0:
            continue
        trial = only(problem, _in(order, [*which.kept, name]))
        least = lower_bound_min(trial)
        if max(least, window_bound_min(trial, least)) > trial.horizon_min:
            proven.add(name)
            continue
        if smeared(trial).cannot_end_by(trial.horizon_min, COARSE, is_over=is_over):
            proven.add(name)
    return frozenset(proven)


def _in(order: Sequence[str], names: Sequence[str]) -> list[str]:
    return [name for name in order if name in names]
