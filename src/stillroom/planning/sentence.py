"""The first sentence of a day: what matters, in words that can be read aloud."""

from __future__ import annotations

from stillroom.capital import capital
from stillroom.in_a_list import all_of
from stillroom.jar_count import counted, jars_said
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.goal_order import Goal
from stillroom.planning.how_good.goals import goals_sentence, goals_told
from stillroom.planning.how_good.nobody_near import nobody_near
from stillroom.planning.timetable import BY_HAND, Answer, NoPlan
from stillroom.planning.which_batches.not_made import not_made_sentence
from stillroom.planning.words.nothing_made import all_left_out


def first_sentence(plan: DayPlan) -> str:
    """Jars, when they are done, and how far from the best possible that can be."""
    return " ".join(said for said in made_and_beside(plan) if said)


def made_and_beside(plan: DayPlan) -> tuple[str, str]:
    """The same in two: what is made by when, and what is to be said beside it."""
    jars = sum(batch.jars for batch in plan.batches)
    if not plan.batches and plan.named_out:
        return (
            f"Nothing is made this day: {all_left_out(plan.named_out)}.",
            "Take a name out of the batches that are not made (`without` under [day]) "
            "to make it.",
        )
    if not plan.batches:
        none = "Nothing can be made of this shelf for these wants; the reasons follow."
        return none, ""
    made = f"{jars_said(jars)} in {_batches(len(plan.batches))}"
    if isinstance(plan.answer, NoPlan) or plan.answer is None or plan.problem is None:
        fit = "does not fit this day" if jars == 1 else "do not fit this day"
        if isinstance(plan.answer, NoPlan) and plan.answer.nothing_can_be_made:
            fit = "cannot be made this day as it stands"
        return f"{made} {fit}; the reasons follow.", ""
    starts = plan.problem.starts_at
    done = clock_time(starts, plan.answer.finish_min)
    if plan.left_out:
        no_room = "not all that the shelf allows has room"
        if any(out.cannot for out in plan.left_out):
            no_room = "not all can be made this day, and why is said below"
        out = sum(one.jars for one in plan.left_out)
        fits = "fits" if jars == 1 else "fit"
        number = sum(len(one.batches) for one in plan.left_out)
        return (
            f"{made} {fits} this day, done by {done}.",
            f"{_batches(number)} ({jars_said(out)}) "
            f"{'is' if number == 1 else 'are'} left out: {no_room}.",
        )
    return f"{made}, done by {done}.", bound_sentence(plan, plan.answer)


def bound_sentence(plan: DayPlan, answer: Answer, *, whys: bool = True) -> str:
    """
    How early the day could end at best: in this kitchen, or with these batches alone.

    Packs that could be divided otherwise into pots may end sooner than these batches
    can, and what ends sooner may be later on what is promised: both are said. Empty
    where nothing is known of it, as of a rest that was planned again.
    """
    if not answer.proven and answer.lower_bound_min <= 0:
        return ""
    none = "No plan for this kitchen"
    if plan.bound_of != "this kitchen":
        none = f"No plan of {plan.bound_of}"
    if not plan.on_strongest_fires:
        none += ", cooked on a free fire,"
    late = " without more being late" if answer.bound_unless_later else ""
    if answer.proven:
        return f"{none} can end sooner{late}."
    assert plan.problem is not None
    earliest = clock_time(plan.problem.starts_at, answer.lower_bound_min)
    said = answer.lower_bound_why if whys else ""
    why = f": {said}, whatever the plan" if said else ""
    return f"{none} can end before {earliest}{late}{why}."


def by_hand_sentence(plan: DayPlan) -> str:
    """When the careful by-hand plan would end, and where this one comes from."""
    if not isinstance(plan.answer, Answer) or plan.problem is None:
        return ""
    if plan.answer.made_by == "by hand":
        told = (said for said in plan.answer.remarks if said.endswith(BY_HAND))
        if (no_time := next(told, None)) is not None:
            return f"{capital(no_time)}."
        return "This is the plan by hand: the search found nothing better in its time."
    if plan.answer.by_hand is None:
        it = "it does"
        if plan.left_out:  # "it" would be all that is wanted
            jars = sum(batch.jars for batch in plan.batches)
            it = "this 1 jar does" if jars == 1 else f"these {jars} jars do"
        return f"Planned by hand, one thing after another, {it} not fit the day."
    ends = clock_time(plan.problem.starts_at, plan.answer.by_hand.finish_min)
    return f"Planned by hand, one thing after another, it would end at {ends}."


def how_good(plan: DayPlan) -> str:
    """Every goal of the day with its figure, in one breath."""
    if not plan.batches:
        return not_made_sentence(plan)
    if not isinstance(plan.answer, Answer) or plan.problem is None:
        return ""
    said = goals_sentence(
        plan.problem, plan.answer.timetable, not_made=not_made_sentence(plan)
    )
    if near := nobody_near(plan.problem, plan.answer.timetable):
        said = f"{said} {near}"
    spoils = [out for out in plan.left_out if out.spoils]
    if not spoils:
        return said
    names = all_of(dict.fromkeys(out.product for out in spoils))
    return f"What {names} would be made of will not keep: see what is left out. {said}"


def what_is_missed(plan: DayPlan) -> str:
    """What is promised and late or not made, and the hour she named, where missed."""
    if not isinstance(plan.answer, Answer) or plan.problem is None:
        return ""
    told = goals_told(
        plan.problem, plan.answer.timetable, not_made=not_made_sentence(plan)
    )
    missed = {met.goal: met.sentence for met in told if not met.met}
    return " ".join(missed[g] for g in (Goal.ON_TIME, Goal.BY_THE_HOUR) if g in missed)


def _batches(number: int) -> str:
    return counted(number, "batch")
