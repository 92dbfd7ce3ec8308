"""
A day stated as a problem: its batches, as its packs are best divided.

Without those that were left out by name, and those that nobody could make.
"""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from stillroom.planning.asked import Asked
from stillroom.planning.bounding.too_many_jars import places_needed
from stillroom.planning.cpsat.search import TOO_SLOW
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.gathered import Gathered, fewer, whole
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import NoPlan, Timetable
from stillroom.planning.ways.held_plan import KnownPlan, only, what_holds
from stillroom.planning.which_batches.batches import Batched, keep_only
from stillroom.planning.which_batches.day_divided import Sizes
from stillroom.planning.which_batches.kitchen_problem import problem_of
from stillroom.planning.which_batches.shelf import Shelf, full_shelf
from stillroom.planning.which_batches.sizes import (
    AtHand,
    Sized,
    better_sizes,
)
from stillroom.planning.which_batches.spares import spares_of
from stillroom.planning.why_not.kitchen_if import in_larger_canner, kitchen_if
from stillroom.planning.why_not.refuse import refuse_nonsense
from stillroom.planning.why_not.unworkable import unworkable, without_these
from stillroom.refusal import Refusal

LEAST_S = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """A problem that may be planned, and what was found on the way to it."""

    found: Gathered
    problem: Problem
    order: tuple[str, ...]
    """Ids of its batches, those that would be missed most first."""
    cannot: Mapping[str, tuple[str, ...]]
    """Ids of batches that nobody could make, and why; they are left out."""
    sizes: Sizes
    known: tuple[KnownPlan, ...]
    """Plans to begin with."""
    left_s: float
    """Seconds left of those asked for. [s]"""
    remarks: tuple[str, ...] = ()


def state(
    asked: Asked, known: Sequence[KnownPlan], *, may_size: bool
) -> Stated | DayPlan | Refusal:
    """
    Return the day as a problem; the whole answer where nothing is left to plan.

    Parameters
    ----------
    asked : Asked
        The day.
    known : sequence of KnownPlan
        Plans of days like it. A division of packs that holds in one of them stands
        unless another is clearly better.
    may_size : bool
        Whether packs may be divided otherwise than by the plain rule.

    Raises
    ------
    Unreadable
        Where the kitchen or the people make no sense.
    """
    shelf = full_shelf(asked.day)
    made = asked.batches({}, shelf)
    if not made.batches:
        nothing = whole(_without_those_named(asked, made, shelf))
        wanted = dict.fromkeys(unmet.product for unmet in nothing.unmet)
        like = kitchen_if(asked.day.kitchen, asked.in_another, wanted)
        return replace(nothing, kitchen_if=like)
    problem = asked.problem(made)
    if isinstance(problem, Refusal):
        return problem
    division = _divided(asked, made, known, may_size=may_size)
    if division.sizes:
        shelf = full_shelf(asked.day)
        made = asked.batches(division.sizes, shelf)
        problem = asked.problem(made)
        assert not isinstance(problem, Refusal)
    found = _without_those_named(asked, made, shelf)
    if not problem.batches:
        return whole(found)
    found.problem, found.sized = problem, division.sized
    cannot = unworkable(problem)
    if len(cannot) == len(problem.batches):
        found.answer = _why_none(asked, problem, cannot)
        return whole(found)
    if cannot:
        workable = [b.id for b in problem.batches if b.id not in cannot]
        problem = only(problem, workable)
        found = fewer(found, problem, cannot)
    sized = division.sized
    if sized is not None and sized.plan is not None and not cannot:
        plan = KnownPlan(starts_at=problem.starts_at, plan=sized.plan)
        known = (*known, plan)
    return Stated(
        found=found,
        problem=problem,
        order=tuple(asked.order(found.made, problem)),
        cannot=cannot,
        sizes=division.sizes,
        known=tuple(known),
        left_s=division.left_s,
        remarks=(TOO_SLOW,) if division.was_cut else (),
    )


@dataclass(frozen=True, slots=True)
class _Division:
    """How the packs of the day are divided."""

    sizes: Sizes
    """Empty where the plain rule stands."""
    sized: Sized | None
    left_s: float
    was_cut: bool = False


def _divided(
    asked: Asked, made: Batched, known: Sequence[KnownPlan], *, may_size: bool
) -> _Division:
    """Whether the packs of the day are better divided otherwise than by the rule."""
    sizes, held = _sizes_at_hand(asked, known)
    if not may_size or not made.units:
        return _Division(sizes, None, asked.seconds)
    at_hand = None if held is None else AtHand(sizes=sizes, plan=held)

    def problem(sizes: Sizes) -> Problem | None:
        divided = asked.problem(asked.batches(sizes))
        if isinstance(divided, Refusal) or unworkable(divided):
            return None
        return divided

    search = asked.search(asked.seconds, since=asked.began)
    sized = better_sizes(made, asked.place, problem, search, at_hand)
    if sized is None:
        return _Division(sizes, None, asked.seconds, search.cut.happened)
    if sized.plan is not None or not sizes:
        sizes = sized.sizes
    if asked.deterministic:
        left = (1.0 - sized.spent) * asked.seconds
    else:
        left = max(LEAST_S, asked.began + asked.seconds - time.monotonic())
    return _Division(sizes, sized, left, search.cut.happened)


def _sizes_at_hand(
    asked: Asked, known: Sequence[KnownPlan]
) -> tuple[Sizes, Timetable | None]:
    """
    How the packs are divided in a plan at hand, and the plan where all of it holds.

    One that divides them otherwise than the day does would be lost.
    """
    for one in known:
        sizes = dict(one.sizes)
        made = asked.batches(sizes)
        if not made.batches:
            continue
        problem = asked.problem(made)
        if isinstance(problem, Refusal):
            continue
        held = what_holds(problem, [one], asked.order(made, problem))
        if held is not None and len(held.kept) == len(problem.batches):
            return sizes, held.plan
    return next((dict(one.sizes) for one in known if one.sizes), {}), None


def _without_those_named(asked: Asked, made: Batched, shelf: Shelf) -> Gathered:
    """What was left out by name is named, and its fruit is on the shelf again."""
    day, place = asked.day, asked.place
    found = Gathered(day, place.air, made, shelf, learned=place.learned)
    if not (day.without and made.batches):
        return found
    found.named_out = tuple(b.id for b in made.batches if b.id in day.without)
    all_ = problem_of(day, made, place.air, place.learned)
    if isinstance(all_, Problem):
        found.spare = tuple(spares_of(day, made, all_, day.without, ()))
    there = [b.id for b in made.batches if b.id not in day.without]
    found.shelf = full_shelf(day)
    found.made = keep_only(made, there, found.shelf)
    return found


def _why_none(
    asked: Asked, problem: Problem, cannot: Mapping[str, tuple[str, ...]]
) -> NoPlan:
    """Why not one batch can be made."""
    refuse_nonsense(only(problem, ()))  # faults of the kitchen come first
    none = without_these(problem, cannot)
    if none.plan_if is None and (needed := places_needed(problem)):
        kitchen = asked.day.kitchen
        larger = in_larger_canner(kitchen, needed, asked.in_another)
        none = replace(none, plan_if=larger)
    return none
