"""From a day file to the whole answer: one straight line through the house."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import replace

from stillroom.book.procedures import Procedure
from stillroom.methods.kitchen import Kitchen
from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.methods.today import AirToday, air_in
from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.bounding.too_many_jars import places_needed
from stillroom.planning.cpsat.search import TOO_SLOW, Search
from stillroom.planning.day import Day
from stillroom.planning.dayplan import DayPlan, Spare
from stillroom.planning.gathered import Found, fewer, whole
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer, NoPlan, SoFar
from stillroom.planning.ways.held_plan import Held, KnownPlan, only, what_holds
from stillroom.planning.ways.way_typed import with_typed_ways
from stillroom.planning.ways.ways_out import shown_with
from stillroom.planning.what_fits import Fits, what_fits
from stillroom.planning.which_batches.batches import Batched, keep_only, make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.kitchen_problem import problem_of
from stillroom.planning.which_batches.missed_most import a_jar_min, most_missed_first
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.planning.which_batches.sizes import Sized, Sizes, better_sizes
from stillroom.planning.which_batches.spares import spares_of
from stillroom.planning.why_not.explain import no_plan
from stillroom.planning.why_not.kitchen_if import in_larger_canner, kitchen_if
from stillroom.planning.why_not.plan_if import in_its_stead
from stillroom.planning.why_not.refuse import refuse_nonsense
from stillroom.planning.why_not.unworkable import unworkable, without_these
from stillroom.refusal import Refusal

TIMES_AS_LONG = 2.0
"""A day that does not fit takes so many times the seconds asked for."""
SHARE_OF_CHOOSING = 0.5
"""Of the time for such a day, for which batches fit; then why, and the ways out."""
SHARE_OF_TYPING = 0.1
"""Of the time for the ways out, for those that come out otherwise once typed."""
LEAST_S = 0.5


def plan_the_day(
    day: Day,
    *,
    seconds: float = 5.0,
    workers: int = 2,
    deterministic: bool = True,
    own: tuple[Procedure, ...] = (),
    begin: Callable[[Problem], Problem] | None = None,
    learned: Learned = AS_PUBLISHED,
    answer_of: Callable[[Problem], Answer | NoPlan] | None = None,
    begin_with: Sequence[KnownPlan] = (),
    explain: bool = True,
) -> DayPlan | Refusal:
    """
    Return batches, loads, timetable, and what is missing.

    ``seconds`` is the time given to the solver; the by-hand plan is there long before.
    Where not all batches fit, those that would be missed least are left out and named;
    that may take as long once more: which of them fit, why not all do, the ways out.
    The search is counted by its work, so that one day always has one plan; without
    ``deterministic`` the clock ends it.
    A refusal comes only where nothing at all can be said, such as for want of an
    elevation. ``own`` are recipes of the keeper's, wanted by their titles. ``begin``
    adds to the problem what the day before has left. ``learned`` is what her past days
    taught, where she wants it. ``answer_of`` places the steps in the solver's stead.
    ``begin_with`` are plans of days like it: what holds of the best of them is where
    the search begins, and is never given up. Without ``explain`` a day that does not
    fit is not told why.

    Raises
    ------
    Unreadable
        Where the kitchen or the people make no sense: a rest that fits nowhere, say.
    """
    air = air_in(day.kitchen)
    if isinstance(air, Refusal):
        return air
    shelf = Shelf(day.shelf)
    if day.as_published:
        learned = AS_PUBLISHED
    place = Place(kitchen=day.kitchen, air=air, own=own, learned=learned)
    began = time.monotonic()

    def in_another(kitchen: Kitchen) -> Problem | None:
        """The problem of the day in a kitchen with more in it."""
        there = replace(place, kitchen=kitchen)
        other = _problem_again(replace(day, kitchen=kitchen), there, {}, begin)
        return other if isinstance(other, Problem) and other.batches else None

    made = make_batches(day, place, shelf)
    if not made.batches:
        nothing = whole(Found(day, air, made, shelf, learned=learned))
        return replace(nothing, kitchen_if=kitchen_if(day.kitchen, in_another))
    problem = _problem(day, made, air, learned, begin)
    if isinstance(problem, Refusal):
        return problem
    known = tuple(begin_with)
    sizes, held = _sizes_at_hand(day, place, known, begin)
    sized: Sized | None = None
    sizing = Search(began + seconds, workers, 1, deterministic).at_last(seconds)
    if answer_of is None and made.units and not held:
        sized = _sized(day, place, made, begin, sizing)
    left = seconds
    if sized is not None:
        if sized.plan is not None or not sizes:
            sizes = sized.sizes
        spent = began + seconds - time.monotonic()
        left = (1.0 - sized.spent) * seconds if deterministic else max(0.3, spent)
    if sizes:
        shelf = Shelf(day.shelf)
        made = make_batches(day, place, shelf, sizes)
        problem = _problem(day, made, air, learned, begin)
        assert not isinstance(problem, Refusal)
    spare: tuple[Spare, ...] = ()
    named_out: tuple[str, ...] = ()
    if day.without:
        named_out = tuple(b.id for b in made.batches if b.id in day.without)
        all_ = problem_of(day, made, air, learned)
        if isinstance(all_, Problem):
            spare = tuple(spares_of(day, made, all_, day.without, ()))
        shelf = Shelf(day.shelf)
        there = [b.id for b in made.batches if b.id not in day.without]
        made = keep_only(made, there, shelf)
    if not problem.batches:
        found = Found(
            day, air, made, shelf, learned=learned, spare=spare, named_out=named_out
        )
        return whole(found)
    cannot = unworkable(problem)
    found = Found(
        day,
        air,
        made,
        shelf,
        problem,
        learned=learned,
        sized=sized,
        spare=spare,
        named_out=named_out,
    )
    if len(cannot) == len(problem.batches):
        refuse_nonsense(only(problem, ()))  # faults of the kitchen come first
        none = without_these(problem, cannot)
        if none.plan_if is None and (needed := places_needed(problem)):
            larger = in_larger_canner(day.kitchen, needed, in_another)
            none = replace(none, plan_if=larger)
        found.answer = none
        return whole(found)
    if cannot:
        workable = [b.id for b in problem.batches if b.id not in cannot]
        found = fewer(found, only(problem, workable), cannot)
    assert found.problem is not None
    problem = found.problem
    order = _in_order(day, found.made, problem)
    if sized is not None and sized.plan is not None and not cannot:
        plan = KnownPlan(starts_at=problem.starts_at, plan=sized.plan)
        known = (*known, plan)

    def planned(
        asked: Problem, known: Sequence[KnownPlan], seconds: float
    ) -> Answer | NoPlan:
        begun = what_holds(asked, known, order)
        return plan_day(
            asked,
            seconds=seconds,
            workers=workers,
            deterministic=deterministic,
            begin_with=None if begun is None else begun.plan,
            explain=False,
        )

    if answer_of is not None:
        found.answer = answer_of(problem)
    else:
        found.answer = planned(problem, known, left)
    if isinstance(found.answer, Answer):
        if sizing.cut.happened:
            remarks = (*found.answer.remarks, TOO_SLOW.format(seconds))
            found.answer = replace(found.answer, remarks=remarks)
        return whole(found)

    # it does not fit: which of it does, then why, and the ways out; each begins with
    # what was found before
    none, so_far = found.answer, found.answer.so_far
    reached = None if so_far is None else so_far.reached
    left = _left_of(TIMES_AS_LONG * seconds, began, seconds, deterministic)
    fits = what_fits(
        problem,
        order,
        seconds=SHARE_OF_CHOOSING * left if explain else left,
        workers=workers,
        deterministic=deterministic,
        begin_with=known,
        reached=reached,
    )
    if fits is not None and not fits.left_out:
        found.answer = fits.answer  # the search for fewer batches found room for all
        return whole(found)
    if explain:
        left = _left_of(TIMES_AS_LONG * seconds, began, seconds / 2, deterministic)
        again_s = SHARE_OF_TYPING * left
        until = time.monotonic() + left - again_s
        search = Search(until, workers, 1, deterministic).at_last(left - again_s)
        if so_far is not None:
            none = _why_not(found, order, so_far, fits, search, seconds)
            stead = in_its_stead(problem, none, so_far.reached)
            if stead is None and (needed := places_needed(problem)):
                stead = in_larger_canner(day.kitchen, needed, in_another)
            none = replace(none, plan_if=stead)
            fits = _as_shown(problem, order, none, fits, planned, again_s)
            if fits is not None:
                none = shown_with(problem, none, fits.answer.timetable)
        as_it_is = next((w for w in none.ways_out if not w.changes), None)
        if as_it_is is not None:
            plan = KnownPlan(starts_at=problem.starts_at, plan=as_it_is.timetable)
            answer = planned(problem, [plan], again_s)
            if isinstance(answer, Answer):
                found.answer = answer
                return whole(found)

        def again(other: Day) -> Problem | Refusal:
            """The problem of the day with changes, as this one was made."""
            there = replace(place, kitchen=other.kitchen)
            return _problem_again(other, there, sizes, begin)

        until = time.monotonic() + again_s
        search = Search(until, workers, 1, deterministic).at_last(again_s)
        found.answer = with_typed_ways(none, day, found.made, problem, again, search)
    if fits is None:
        return whole(found)
    assert isinstance(found.answer, NoPlan)
    smaller = fewer(found, fits.problem, cannot, found.answer, fits.no_more)
    smaller.answer = fits.answer
    return whole(smaller)


def _left_of(all_: float, began: float, counted: float, deterministic: bool) -> float:
    """Seconds left of all; where work is counted, as many as are counted for it."""
    if deterministic:
        return counted
    return max(LEAST_S, began + all_ - time.monotonic())


def _why_not(
    found: Found,
    order: Sequence[str],
    so_far: SoFar,
    fits: Fits | None,
    search: Search,
    seconds: float,
) -> NoPlan:
    """Why not all of it fits, and the ways out beside the plan of what does."""
    assert found.problem is not None
    shown = None
    if fits is not None:
        kept = tuple(b.id for b in fits.problem.batches)
        shown = Held(kept=kept, plan=fits.answer.timetable)
    return no_plan(
        found.problem,
        impossible=so_far.impossible,
        seconds=seconds,
        search=search,
        spent_s=0.0,
        known=Bound(so_far.bound_min, so_far.bound_why),
        missed=order,
        a_jar_min=a_jar_min(found.day, found.made),
        reached=so_far.reached,
        shown=shown,
    )


def _as_shown(
    problem: Problem,
    order: Sequence[str],
    none: NoPlan,
    fits: Fits | None,
    planned: Callable[[Problem, Sequence[KnownPlan], float], Answer | NoPlan],
    seconds: float,
) -> Fits | None:
    """What fits; more of it where the search for ways out found room for it."""
    shown = next((way for way in none.ways_out if way.is_shown), None)
    if fits is None or shown is None:
        return fits
    out = tuple(n for n in order if n in {c.subject for c in shown.changes})
    if set(out) == set(fits.left_out):
        return fits
    small = only(problem, [b.id for b in problem.batches if b.id not in out])
    plan = KnownPlan(starts_at=problem.starts_at, plan=shown.timetable)
    answer = planned(small, [plan], seconds)
    if not isinstance(answer, Answer):
        return fits
    return Fits(problem=small, answer=answer, left_out=out)


def _sizes_at_hand(
    day: Day,
    place: Place,
    known: Sequence[KnownPlan],
    begin: Callable[[Problem], Problem] | None,
) -> tuple[Sizes, bool]:
    """
    How the packs are divided in a plan at hand that holds, and whether it holds whole.

    One that divides them otherwise than the day does would be lost.
    """
    for one in known:
        sizes = dict(one.sizes)
        made = make_batches(day, place, Shelf(day.shelf), sizes)
        if not made.batches:
            continue
        problem = _problem(day, made, place.air, place.learned, begin)
        if isinstance(problem, Refusal):
            continue
        held = what_holds(problem, [one], _in_order(day, made, problem))
        if held is not None and len(held.kept) == len(problem.batches):
            return sizes, True
    return next((dict(one.sizes) for one in known if one.sizes), {}), False


def _problem(
    day: Day,
    made: Batched,
    air: AirToday,
    learned: Learned,
    begin: Callable[[Problem], Problem] | None,
) -> Problem | Refusal:
    problem = problem_of(day, made, air, learned)
    if isinstance(problem, Refusal):
        return problem
    if day.without:
        kept = [b.id for b in problem.batches if b.id not in day.without]
        problem = only(problem, kept)
    return problem if begin is None else begin(problem)


def _sized(
    day: Day,
    place: Place,
    made: Batched,
    begin: Callable[[Problem], Problem] | None,
    search: Search,
) -> Sized | None:
    """Whether the packs of the day are better divided otherwise than by the rule."""

    def state(sizes: Sizes) -> Problem | None:
        divided = make_batches(day, place, Shelf(day.shelf), sizes)
        problem = _problem(day, divided, place.air, place.learned, begin)
        if isinstance(problem, Refusal) or unworkable(problem):
            return None
        return problem

    return better_sizes(made, place, state, search)


def _problem_again(
    day: Day,
    place: Place,
    sizes: Sizes,
    begin: Callable[[Problem], Problem] | None,
) -> Problem | Refusal:
    """The problem of a changed day, without what nobody in it can work."""
    made = make_batches(day, place, Shelf(day.shelf), sizes)
    if not made.batches:
        return _nothing_left()
    problem = _problem(day, made, place.air, place.learned, begin)
    if isinstance(problem, Refusal):
        return problem
    if not problem.batches:
        return _nothing_left()
    cannot = unworkable(problem)
    return only(problem, [b.id for b in problem.batches if b.id not in cannot])


def _nothing_left() -> Refusal:
    return Refusal(
        "with this change nothing is left to make",
        instead="want some jars still, and leave the fruit for them on the shelf",
        source="the wants and the shelf of the changed day",
    )


def _in_order(day: Day, made: Batched, problem: Problem) -> list[str]:
    """What the day before has left comes first; then what would be missed most."""
    order = most_missed_first(day, made)
    return [b.id for b in problem.batches if b.id not in order] + order
