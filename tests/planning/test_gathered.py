"""What goes with the plan of a day: the evening before, the day after, cautions."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stillroom.planning.day import Day, Lot, Rest, Want, had_after
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.gathered import CANNER_RUN, SEAL_CHECK
from stillroom.planning.sentence import bound_sentence
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import granted
from tests.kitchens import day, juice, kitchen, stores

DATE = dt.date(2026, 8, 22)
JELLY = Want(product="plum jelly", jars=16, jar="half-pint")


def planned(today: Day) -> DayPlan:
    """By hand: what goes with a plan asks for no better one."""
    plan = plan_the_day(today, seconds=0.0)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    return plan


def past(plan: DayPlan) -> list[str]:
    return [c.text for c in plan.cautions if "that day is past" in c.text]


def test_only_what_is_drawn_and_was_over_before_the_day_is_looked_at():
    def of(use_by: dt.date, what: str = "plum juice") -> list[str]:
        other = juice(what, use_by=use_by)
        lots = (other,) if what == "plum juice" else (juice(), other)
        return past(planned(day(JELLY, shelf=(*lots, *stores()))))

    yesterday = DATE - dt.timedelta(days=1)
    assert of(DATE) == []  # by the day itself is in time
    assert of(yesterday, "grape juice") == []
    (said,) = of(yesterday)
    assert said == (
        "frozen plum juice: to be used by 21 August 2026, and that day is past by 1 "
        "day; look and smell, discard what is doubtful, and take off the shelf of the "
        "day what you would not eat"
    )


def test_seals_are_looked_at_of_what_was_canned_alone():
    apples = Lot(name="apples", what="apples", mass_kg=3.0)
    dried = Want(product="dried apples", jars=1, jar="pint")
    plan = planned(day(JELLY, dried, shelf=(juice(), apples, *stores())))
    canned = {b.id for b in plan.batches if b.process}
    assert canned < {b.id for b in plan.batches}
    after = {one.later: set(one.batches) for one in plan.afterwards}
    assert after[SEAL_CHECK] == after[CANNER_RUN] == canned


def test_a_bag_is_wanted_when_the_first_of_its_batches_takes_it():
    plan = planned(day(JELLY))
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    starts = {}
    for s in sorted(plan.answer.timetable.steps, key=lambda s: -s.start_min):
        if s.pot is not None:
            starts[s.batch] = s.start_min
    assert len(set(starts.values())) == 2
    begins = dt.datetime.combine(DATE, dt.time(8))
    first = begins + dt.timedelta(minutes=min(starts.values()))
    (line,) = (x for x in plan.evening_before if x.startswith("Move"))
    assert f"the first is wanted at {first:%-H:%M}" in line


def test_what_is_left_out_by_name_is_left_over_on_the_shelf():
    def left(*without: str) -> str:
        plan = planned(replace(day(JELLY), without=without))
        return next(x.text for x in plan.leftovers if x.lot == "frozen plum juice")

    assert left().startswith("5 cups")
    assert left("plum jelly 2").startswith("10 cups")


def test_why_a_pot_is_too_small_is_said_of_what_is_made_and_of_nothing_else():
    """It was said of batches that are not made that day, too."""
    plan = planned(day(JELLY))
    assert any("small pot holds" in c.text and "short" in c.text for c in plan.cautions)
    neither = day(JELLY, without=("plum jelly 1", "plum jelly 2"))
    none = granted(plan_the_day(neither, seconds=0.0))
    assert not none.batches
    assert not any("small pot holds" in c.text for c in none.cautions)


def test_grape_juice_is_set_to_stand_the_evening_before():
    """It stood among the cautions of the day, when it was too late for it."""
    grape = Want(product="grape jelly", jars=8, jar="half-pint")
    plan = planned(day(grape, shelf=(juice("grape juice"), *stores())))
    line = "The evening before, set the grape juice to stand cold overnight"
    (task,) = [t for t in plan.evening_tasks if t.what.startswith(line)]
    assert task.source == "Univ. of Illinois Extension, Grape jelly"
    assert not any(c.text.startswith(line) for c in plan.cautions)


# --- a break that is had after work ---------------------------------------------


def test_a_break_that_may_begin_as_she_goes_may_be_had_then():
    noon = Rest(minutes=30, earliest=dt.time(11, 45), latest=dt.time(12))
    hours = (dt.time(7), dt.time(12))
    assert had_after((noon,), (), hours, dt.time(20)) == (0,)
    sooner = replace(noon, latest=dt.time(11, 59))
    assert had_after((sooner,), (), hours, dt.time(20)) == ()


def test_who_stays_to_the_end_of_the_day_rests_within_it():
    late = Rest(minutes=30, earliest=dt.time(11, 45), latest=dt.time(13))
    hours = (dt.time(7), dt.time(12))
    assert had_after((late,), (), hours, dt.time(12)) == ()
    assert had_after((late,), (), hours, dt.time(12, 1)) == (0,)


def test_a_fire_under_a_canner_that_is_stronger_is_said_and_nothing_proven_of_it():
    """
    Minutes are those of the free 3.5 kW fire; the canner's 5 kW would be sooner.

    "No plan for this kitchen can end sooner" was said, and one burner less ended so.
    """
    front, canners, back = kitchen().burners
    strong = kitchen(burners=(front, replace(canners, power_w=5000.0), back))
    weaker, equal = planned(day(JELLY, kitchen=strong)), planned(day(JELLY))
    assert equal.on_strongest_fires
    assert not weaker.on_strongest_fires
    assert weaker.bound_of == "these batches"
    assert isinstance(weaker.answer, Answer)
    said = bound_sentence(weaker, weaker.answer)
    assert said.startswith("No plan of these batches, cooked on a free fire, can end")
    (told,) = [c.text for c in weaker.cautions if "no canner stands on" in c.text]
    assert "front left (3.5 kW)" in told
    assert "front right (5 kW) is stronger" in told
    assert not any("no canner stands on" in c.text for c in equal.cautions)
