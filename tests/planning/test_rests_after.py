"""Breaks of who goes before the day ends; the days are invented."""

import datetime as dt
from dataclasses import replace
from itertools import pairwise, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.planning.day import Day, Rest, Span, Want, have_room, minute_of
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.problem import Person
from stillroom.planning.way_changes import Kind
from stillroom.planning.ways.way_hours import all_hours
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import Unreadable
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


TEA = Rest(minutes=30, earliest=dt.time(11), latest=dt.time(12, 30))


def test_of_two_breaks_the_one_that_may_be_begun_last_comes_after():
    """Both were refused, although one of them may be had when Pip has gone."""
    plan, pip = planned(leaving_at(dt.time(12), TEA, NOON))
    # 11:00 to 11:30, and at 11:20 the latest start of 40 minutes until 12:00 is over
    assert [rest.duration_min for rest in pip.breaks] == [30]
    assert pip.breaks[0].latest_start_min == 60 * 11 + 30 - minute_of(plan.day.starts)
    assert pip.rests_later
    after = [c.text for c in plan.cautions if "has the break of" in c.text]
    assert [text[:26] for text in after] == ["Pip has the break of 40 min"[:26]]


def test_two_breaks_that_both_have_room_are_both_had():
    short = replace(NOON, minutes=20)
    _, pip = planned(leaving_at(dt.time(12), TEA, short))
    assert len(pip.breaks) == 2
    assert not pip.rests_later


def test_a_break_beside_an_absence_comes_after_where_no_room_is_left():
    helper = leaving_at(dt.time(12), TEA)
    pip = replace(helper.people[1], away=((dt.time(11), dt.time(11, 45)),))
    assert pip.rests_after(dt.time(20)) == (TEA,)
    assert pip.rests_here(dt.time(20)) == ()
    assert replace(pip, away=((dt.time(10), dt.time(11)),)).rests_here(dt.time(20)) == (
        TEA,
    )


def test_two_breaks_alike_of_which_one_has_room():
    half = Rest(minutes=30, earliest=dt.time(11, 30), latest=dt.time(13))
    pip = leaving_at(dt.time(12), half, half).people[1]
    assert len(pip.rests_here(dt.time(20))) == len(pip.rests_after(dt.time(20))) == 1


def test_the_file_takes_two_breaks_and_one_beside_an_absence():
    breaks = (
        'breaks = [{ minutes = 30, earliest = "11:00", latest = "13:00" }, '
        '{ minutes = 45, earliest = "11:15", latest = "13:30" }]'
    )
    text = demo_day_text().replace('goes = "19:00"', 'goes = "12:00"')
    was = 'breaks = [{ minutes = 30, earliest = "11:30", latest = "13:30" }]'
    assert text.count(was) >= 1
    head, _, tail = text.partition('name = "Corwin"')
    corwin = read_day(head + 'name = "Corwin"' + tail.replace(was, breaks, 1)).people[1]
    assert [rest.minutes for rest in corwin.rests_here(dt.time(20))] == [30]
    assert [rest.minutes for rest in corwin.rests_after(dt.time(20))] == [45]
    again = read_day(
        write_day(read_day(head + 'name = "Corwin"' + tail.replace(was, breaks, 1)))
    )
    assert again.people[1] == corwin
    gone = breaks + '\naway = [["11:00", "11:50"]]'
    rest = tail.replace(was, gone, 1)
    rest = rest.replace('away = [["10:00", "10:20"]]', "", 1)
    away = read_day(head + 'name = "Corwin"' + rest).people[1]
    assert away.rests_here(dt.time(20)) == ()
    assert len(away.rests_after(dt.time(20))) == 2


def test_breaks_that_cannot_come_after_are_refused_still():
    breaks = (
        'breaks = [{ minutes = 40, earliest = "11:00", latest = "11:20" }, '
        '{ minutes = 40, earliest = "11:00", latest = "11:30" }]'
    )
    text = demo_day_text().replace('goes = "19:00"', 'goes = "12:30"')
    was = 'breaks = [{ minutes = 30, earliest = "11:30", latest = "13:30" }]'
    head, _, tail = text.partition('name = "Corwin"')
    with pytest.raises(Unreadable, match="not all breaks can be taken"):
        read_day(head + 'name = "Corwin"' + tail.replace(was, breaks, 1))


def test_of_many_breaks_each_has_room_by_itself_or_comes_after():
    short = [
        Rest(minutes=5, earliest=dt.time(8 + n // 2, 30 * (n % 2)), latest=dt.time(13))
        for n in range(6)
    ]
    pip = leaving_at(dt.time(12), *short, replace(NOON, minutes=120)).people[1]
    assert [rest.minutes for rest in pip.rests_after(dt.time(20))] == [120]
    assert len(pip.rests_here(dt.time(20))) == 6


def clock(minute: int) -> dt.time:
    return dt.time(minute // 60, minute % 60)


FIVES = st.integers(96, 144).map(lambda fives: 5 * fives)  # 8:00 to 12:00


@st.composite
def rests(draw: st.DrawFn) -> Rest:
    earliest = draw(FIVES)
    return Rest(
        minutes=5 * draw(st.integers(1, 9)),
        earliest=clock(earliest),
        latest=clock(earliest + 5 * draw(st.integers(0, 12))),
    )


def by_every_start(breaks: list[Rest], away: list[Span], hours: Span) -> bool:
    """Try every start on the five minutes for every break."""
    gone = [(minute_of(since), minute_of(until)) for since, until in away]
    begins, ends = (minute_of(hour) for hour in hours)

    def starts(rest: Rest) -> list[int]:
        first = max(begins, minute_of(rest.earliest))
        last = min(minute_of(rest.latest), ends - rest.minutes)
        return list(range(first, last + 1, 5))

    for chosen in product(*map(starts, breaks)):
        taken = [(s, s + r.minutes) for s, r in zip(chosen, breaks, strict=True)]
        spans = sorted([*taken, *gone])
        if all(one[1] <= then[0] for one, then in pairwise(spans)):
            return True
    return False


@given(
    st.lists(rests(), min_size=1, max_size=3),
    st.lists(st.tuples(FIVES, st.integers(1, 9)), max_size=1),
    FIVES,
)
def test_there_is_room_where_trying_every_start_finds_it(breaks, away, ends):
    gone = [(clock(since), clock(since + 5 * fives)) for since, fives in away]
    hours = (dt.time(7, 30), clock(ends))
    assert have_room(breaks, gone, hours) == by_every_start(breaks, gone, hours)
