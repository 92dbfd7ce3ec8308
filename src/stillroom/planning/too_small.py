"""
A day that is too small for all of its batches: what fits, why not all, the ways out.

Each of them begins with what was found before it.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.asked import Asked
from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.bounding.too_many_jars import places_needed
from stillroom.planning.cpsat.search import Search
from stillroom.planning.day import Day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.gathered import fewer, whole
from stillroom.planning.how_good.lateness import score
from stillroom.planning.problem import Problem
from stillroom.planning.stated import Stated
from stillroom.planning.timetable import Answer, NoneFound, NoPlan, PlanIf
from stillroom.planning.ways.held_plan import KnownPlan, PlanOfSome, only
from stillroom.planning.ways.way_typed import with_typed_ways
from stillroom.planning.ways.ways_out import shown_with
from stillroom.planning.what_fits import Fits, what_fits
from stillroom.planning.which_batches.missed_most import a_jar_min
from stillroom.planning.why_not.explain import no_plan, plain_reasons
from stillroom.planning.why_not.kitchen_if import in_larger_canner
from stillroom.planning.why_not.plan_if import in_its_stead
from stillroom.refusal import Refusal

TIMES_AS_LONG = 2.0
"""A day that does not fit takes so many times the seconds asked for."""
SHARE_OF_CHOOSING = 0.5
"""Of the time for such a day, for which batches fit; then why, and the ways out."""
SHARE_OF_TYPING = 0.1
"""Of the time for the ways out, for those that come out otherwise once typed."""


def as_much_as_fits(asked: Asked, day: Stated, none: NoneFound) -> DayPlan:
    """
    Return the plan of what fits, why not all of it does, and the ways out.

    Parameters
    ----------
    asked : Asked
        The day, and how much time there is.
    day : Stated
        Its problem; ``found`` is changed.
    none : NoneFound
        How far the search for a plan of all of it came.
    """
    found = day.found
    left = asked.left_of(TIMES_AS_LONG * asked.seconds, counted=asked.seconds)
    fits = what_fits(
        day.problem,
        day.order,
        seconds=SHARE_OF_CHOOSING * left if asked.explain else left,
        workers=asked.workers,
        deterministic=asked.deterministic,
        begin_with=day.known,
        reached=none.reached,
    )
    if fits is not None and fits.answer.lateness:
        fits = _on_time(asked, day, fits)
    if fits is not None and not fits.left_out:  # the search found room for all
        found.answer = _with_remarks(fits.answer, none)
        return whole(found)
    if asked.explain:
        fits, answer = _explained(asked, day, none, fits)
        if isinstance(answer, Answer):
            found.answer = _with_remarks(answer, none)
            return whole(found)
        why = answer
    else:  # what needs no search
        plain = tuple(plain_reasons(day.problem))
        why = NoPlan(clashes=plain, minimal=False, would_help=())
    if fits is None:
        found.answer = replace(why, would_help=(*why.would_help, *none.remarks))
        return whole(found)
    found.answer = why
    smaller = fewer(found, fits.problem, day.cannot, why, fits.no_more)
    smaller.answer = _with_remarks(fits.answer, none)
    return whole(smaller)


def _on_time(asked: Asked, day: Stated, fits: Fits) -> Fits:
    """
    What fits, with its plan searched once more, as long as a day that is not too small.

    Most of the time went into which batches fit; what is promised comes before that.
    """
    again_s = asked.left_of(TIMES_AS_LONG * asked.seconds, counted=2 * asked.seconds)
    plan = KnownPlan(starts_at=day.problem.starts_at, plan=fits.answer.timetable)
    answer = asked.planned(fits.problem, day.order, [plan], again_s / 2)
    if isinstance(answer, Answer) and _is_better(fits.problem, answer, fits.answer):
        return replace(fits, answer=answer)
    return fits


def _is_better(problem: Problem, answer: Answer, other: Answer) -> bool:
    return score(problem, answer.timetable) < score(problem, other.timetable)


def _with_remarks(answer: Answer, none: NoneFound) -> Answer:
    """The answer with what is to be known of the search before it, each said once."""
    remarks = dict.fromkeys((*answer.remarks, *none.remarks))
    return replace(answer, remarks=tuple(remarks))


def _explained(
    asked: Asked, day: Stated, so_far: NoneFound, fits: Fits | None
) -> tuple[Fits | None, Answer | NoPlan]:
    """Why not all of it fits, and the ways out; a plan of all, where one came up."""
    left = asked.left_of(TIMES_AS_LONG * asked.seconds, counted=asked.seconds / 2)
    again_s = SHARE_OF_TYPING * left
    search = asked.search(left - again_s)
    none = _why_not(asked, day, so_far, fits, search)
    fits = _as_shown(asked, day, none, fits, again_s)
    if fits is not None:
        none = shown_with(day.problem, none, fits.answer.timetable)
    as_it_is = next((way for way in none.ways_out if not way.changes), None)
    if as_it_is is not None:
        plan = KnownPlan(starts_at=day.problem.starts_at, plan=as_it_is.timetable)
        answer = asked.planned(day.problem, day.order, [plan], again_s)
        if isinstance(answer, Answer):
            return fits, answer

    def again(other: Day) -> Problem | Refusal:
        """The problem of the day with changes, as this one was made."""
        return asked.again(other, day.sizes)

    search = asked.search(again_s)
    made = day.found.made
    return fits, with_typed_ways(none, asked.day, made, day.problem, again, search)


def _why_not(
    asked: Asked, day: Stated, so_far: NoneFound, fits: Fits | None, search: Search
) -> NoPlan:
    """Why not all of it fits, and the ways out beside the plan of what does."""
    shown = None
    if fits is not None:
        kept = tuple(b.id for b in fits.problem.batches)
        shown = PlanOfSome(kept=kept, plan=fits.answer.timetable)
    none = no_plan(
        day.problem,
        impossible=so_far.impossible,
        seconds=asked.seconds,
        search=search,
        known=Bound(so_far.bound_min, so_far.bound_why),
        missed=day.order,
        a_jar_min=a_jar_min(asked.day, day.found.made),
        reached=so_far.reached,
        shown=shown,
    )

    def larger() -> PlanIf | None:
        needed = places_needed(day.problem)
        if not needed:
            return None
        return in_larger_canner(asked.day.kitchen, needed, asked.in_another)

    stead = in_its_stead(day.problem, none, so_far.reached, larger)
    return replace(none, plan_if=stead)


def _as_shown(
    asked: Asked, day: Stated, none: NoPlan, fits: Fits | None, seconds: float
) -> Fits | None:
    """What fits; more of it where the search for ways out found room for it."""
    shown = next((way for way in none.ways_out if way.is_shown), None)
    if fits is None or shown is None:
        return fits
    out = tuple(n for n in day.order if n in {c.subject for c in shown.changes})
    if set(out) == set(fits.left_out):
        return fits
    small = only(day.problem, [b.id for b in day.problem.batches if b.id not in out])
    plan = KnownPlan(starts_at=day.problem.starts_at, plan=shown.timetable)
    answer = asked.planned(small, day.order, [plan], seconds)
    if not isinstance(answer, Answer):
        return fits
    return Fits(problem=small, answer=answer, left_out=out)
