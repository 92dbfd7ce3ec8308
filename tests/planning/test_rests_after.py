"""Breaks of who goes before the day ends; the days are invented."""

import datetime as dt
from dataclasses import replace

from stillroom.planning.day import Day, Rest, Want
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.problem import Person
from stillroom.planning.way_changes import Kind
from stillroom.planning.ways.way_hours import all_hours
from stillroom.planning.whole_day import plan_the_day
from tests.kitchens import day, person

NOON = Rest(minutes=40, earliest=dt.time(11, 30), latest=dt.time(13, 30))
JELLY = Want(product="plum jelly", jars=8, jar="half-pint")


def leaving_at(goes: dt.time, *rests: Rest) -> Day:
    """A day until eight: one who stays, and a helper who goes before."""
    helper = replace(person(), name="Pip", goes=goes, breaks=rests)
    return day(JELLY, people=(person(), helper))


def planned(of: Day) -> tuple[DayPlan, Person]:
    plan = plan_the_day(of, seconds=0.5, explain=False)
    assert isinstance(plan, DayPlan)
    assert plan.problem is not None
    (pip,) = (p for p in plan.problem.people if p.id == "Pip")
    return plan, pip


def test_who_goes_at_noon_has_the_break_after_that_and_it_is_said():
    plan, pip = planned(leaving_at(dt.time(12), NOON))
    assert pip.breaks == ()
    assert pip.rests_later
    said = (
        "Pip has the break of 40 min after 12:00, when Pip goes: it is not in the plan"
    )
    assert said in [caution.text for caution in plan.cautions]
    # nobody is asked to stay on without the break
    assert not any("Pip" in hours.who for hours in all_hours(plan.problem))
    assert (Kind.STAYS, "Pip") not in {
        may for hours in all_hours(plan.problem) for may in hours.may_give
    }


def test_a_break_that_has_room_is_had_before_somebody_goes():
    # 11:30 and 40 minutes: to the very minute
    plan, pip = planned(leaving_at(dt.time(12, 10), NOON))
    assert len(pip.breaks) == 1
    assert not pip.rests_later
    assert not any("after 12:10" in caution.text for caution in plan.cautions)
    assert any("Pip" in hours.who for hours in all_hours(plan.problem))


def test_who_stays_to_the_end_of_the_day_rests_within_it():
    stays = leaving_at(dt.time(20), NOON)
    assert stays.people[1].rests_after(stays.ends) == ()
    short = replace(stays, ends=dt.time(12))
    assert short.people[1].rests_after(short.ends) == ()  # refused as it is read


def test_the_file_takes_a_break_after_the_hours_and_keeps_it():
    text = demo_day_text().replace('goes = "19:00"', 'goes = "11:00"')
    corwin = read_day(text).people[1]
    assert corwin.goes == dt.time(11)
    assert [rest.minutes for rest in corwin.breaks] == [30]
    assert corwin.rests_after(dt.time(20)) == corwin.breaks
