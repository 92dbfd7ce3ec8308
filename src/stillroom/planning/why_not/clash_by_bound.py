"""
Which rules clash on a day too large to be searched to its proof.

A lower bound proves that the day cannot end in time. One rule after another that
people can change is left out; where the bound proves the same without it, it had no
part in it. What is left clashes: proven. It may still be more than the fewest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.bounding.together import COARSE, smeared
from stillroom.planning.bounding.windows import window_bound_min
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.problem import Break, Person, Problem
from stillroom.planning.words.hour_words import comes_at, is_away, is_taken, leaves_at

IsOver = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class _Rule:
    """A rule that people can change, in words, and the day without it."""

    says: str
    without: Callable[[Problem], Problem]


def rules_by_bound(problem: Problem, is_over: IsOver) -> tuple[str, ...]:
    """
    Rules that cannot hold together, in words; none where no bound proves that.

    Parameters
    ----------
    problem : Problem
        A day without a plan.
    is_over : callable
        Asked between proofs; true ends them, and what was not left out by then stays.
    """
    if not problem.batches or not _cannot_be(problem, is_over):
        return ()
    end = clock_time(problem.starts_at, problem.horizon_min)
    kept = [f"the day ends at {end}"]
    day = problem
    for rule in _rules(problem):
        easier = rule.without(day)
        if not is_over() and _cannot_be(easier, is_over):
            day = easier
        else:
            kept.append(rule.says)
    return tuple(kept)


def _cannot_be(problem: Problem, is_over: IsOver) -> bool:
    """Whether a bound proves that the day does not end in time; the cheapest first."""
    end = problem.horizon_min
    least = lower_bound_min(problem)
    if least > end or window_bound_min(problem, least) > end:
        return True
    return smeared(problem).cannot_end_by(end, COARSE, is_over=is_over)


def _rules(problem: Problem) -> Iterator[_Rule]:
    def at(minute: int) -> str:
        return clock_time(problem.starts_at, minute)

    end = problem.horizon_min
    for p in problem.people:
        for rest in p.breaks:
            says = (
                f"{p.id} rests {said_minutes(rest.duration_min)}, beginning "
                f"{at(rest.earliest_min)} to {at(rest.latest_start_min)}"
            )
            yield _Rule(says, _for(p.id, partial(_without_rest, rest)))
        for gone in p.away:
            says = is_away(problem, p, *gone)
            yield _Rule(says, _for(p.id, partial(_without_absence, gone)))
        if p.arrives_min > 0:
            says = comes_at(problem, p)
            yield _Rule(says, _for(p.id, lambda q: replace(q, arrives_min=0)))
        if p.leaves_min < end:
            says = leaves_at(problem, p)
            yield _Rule(says, _for(p.id, lambda q: replace(q, leaves_min=end)))
    for span in sorted({span for b in problem.burners for span in b.taken_apart}):
        mine = [b.id for b in problem.burners if span in b.taken_apart]
        says = is_taken(problem, mine, span)
        yield _Rule(says, partial(_without_hours, *span))


def _without_hours(start: int, end: int, problem: Problem) -> Problem:
    """The day with the burners that are taken for just these hours ours then."""
    burners = tuple(
        replace(b, taken=tuple(s for s in b.taken_apart if s != (start, end)))
        for b in problem.burners
    )
    return replace(problem, burners=burners)


def _without_rest(rest: Break, person: Person) -> Person:
    return replace(person, breaks=tuple(b for b in person.breaks if b is not rest))


def _without_absence(gone: tuple[int, int], person: Person) -> Person:
    return replace(person, away=tuple(a for a in person.away if a != gone))


def _for(who: str, change: Callable[[Person], Person]) -> Callable[[Problem], Problem]:
    def without(problem: Problem) -> Problem:
        people = tuple(change(p) if p.id == who else p for p in problem.people)
        return replace(problem, people=people)

    return without
