"""What is told of a day that slips: who stays on, what gives way, and against what."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.judged_again import plainly
from planning.small_days import day, jelly, person, step, work
from planning.written_out import LID, at, batch, closed, labour, load

from stillroom.methods.step import Link
from stillroom.planning.begun.as_known import Known
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.changes import Changed, Changes, with_changes
from stillroom.planning.begun.promised_anew import LackingJars
from stillroom.planning.happened import Happened
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Want
from stillroom.planning.second_thoughts import leave_out
from stillroom.planning.second_thoughts.before_its_hour import Sooner, sooner
from stillroom.planning.second_thoughts.leave_out import gives_way_min
from stillroom.planning.second_thoughts.moves import UnderWay, moves_between
from stillroom.planning.second_thoughts.put_off_breaks import stays_on, what_gives_way
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.second_thoughts.replan_changed import replan_changed
from stillroom.planning.second_thoughts.replanned import Replanned
from stillroom.planning.second_thoughts.take_in import has_room
from stillroom.planning.spoken_of import Minute, says
from stillroom.planning.timetable import Answer, PlacedBreak, Timetable


def table(*steps, loads=(), breaks=()) -> Timetable:
    return Timetable(steps=steps, loads=tuple(loads), breaks=tuple(breaks))


def so_far(now: int, *steps, loads=()) -> Happened:
    return Happened(now_min=now, steps=steps, loads=tuple(loads))


@pytest.fixture(scope="module")
def calm() -> Replanned:
    """A day that goes by its plan."""
    problem = day(jelly())
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    plan = answer.timetable
    return replan(problem, plan, as_planned(problem, plan, 1), seconds=1)


# --- what gives way ------------------------------------------------------------------


def test_places_that_are_not_there_are_too_much_and_no_room(calm: Replanned) -> None:
    assert not calm.is_too_much
    assert replace(calm, more_places=2).is_too_much
    assert has_room(calm)
    for less in (replace(calm, more_places=2), replace(calm, longer_min={"p1": 2})):
        assert gives_way_min(less) == 2
        assert not has_room(less)


def test_an_order_with_somebody_in_two_places_cannot_be_worked() -> None:
    problem = day(batch("a", labour(20)), batch("b", labour(20)))
    first = at("a", "do", 10, 30, "p1")
    for start, workable in ((30, True), (20, False)):
        new = table(first, at("b", "do", start, start + 20, "p1"))
        found = what_gives_way(problem, so_far(0), new, frozenset())
        assert found.workable == workable
        assert bool(found.broken) != workable


def test_who_rests_after_her_hour_stays_for_it() -> None:
    problem = day(people=(person("Ada", leaves_min=100),))
    rest = PlacedBreak(person="Ada", start_min=90, end_min=120)
    assert stays_on(problem, table(breaks=[rest])) == {"Ada": 20}


@pytest.mark.parametrize(("firm", "stays"), [(set(), {"Ada": 20}), ({"Ada"}, {})])
def test_who_said_when_she_goes_is_not_told_to_stay(
    firm: set[str], stays: dict[str, int]
) -> None:
    """What she would have to do then is told as what gives way."""
    problem = day(batch("a", labour(30)), people=(person("Ada", leaves_min=30),))
    new = table(at("a", "do", 20, 50, "Ada"))
    found = what_gives_way(problem, so_far(0), new, frozenset(firm))
    assert found.longer_min == stays
    assert any("Ada" in str(what) for what, _ in found.broken) == (not stays)


def test_who_said_when_she_goes_goes_though_another_comes_late() -> None:
    """Twenty minutes are left at 40: Ada goes at 45, and Ben comes at 200."""
    tidy = work(
        "tidy",
        step("long", 40, 3),
        step("short", 20, 3),
        links=(Link(before="long", after="short"),),
    )
    people = (person("Ada"), person("Ben", arrives_min=200))
    problem = day(tidy, people=people)
    long = at("tidy", "long", 0, 40, "Ada")
    plan = table(long, at("tidy", "short", 40, 60, "Ada"))
    happened = so_far(10, long)
    changed = with_changes(problem, plan, happened, Changes(leaves_min={"Ada": 45}))
    assert isinstance(changed, Changed)
    found = replan_changed(changed, happened, seconds=1.5, promised_min=60)
    assert found.longer_min == {}
    assert [(s.person, s.start_min) for s in found.new.steps] == [
        ("Ada", 0),
        ("Ben", 200),
    ]


def test_a_load_that_should_be_out_long_since_is_told_with_its_minutes() -> None:
    """Its rest ends at 61, ten minutes are allowed, and at 100 it is in yet."""
    problem = day(closed("a"), batch("b", labour(20)))
    plan = table(LID, at("b", "do", 110, 130, "p1"), loads=[load(30)])
    waits = load(30, lift_min=100, out_min=104)
    found = replan(problem, plan, so_far(100, LID, loads=[waits]), seconds=1.5)
    assert ("load L1 is lifted out too late", 29) in plainly(found.limits)


# --- beside the day as it was --------------------------------------------------------


def test_a_boil_of_this_very_minute_is_still_to_come() -> None:
    """Somebody has to start its clock: 46, where it was to be 41."""
    old, new = (table(LID, loads=[load(x)]) for x in (25, 30))
    told = moves_between(so_far(46, LID, loads=[load(30)]), old, new)
    assert [(m.under_way, m.was_min, m.is_min) for m in told] == [
        (UnderWay.BOIL, 41, 46),
        (UnderWay.LIFT, 56, 61),
    ]


def test_a_promise_is_told_beside_what_it_was_before_the_change(
    calm: Replanned,
) -> None:
    changed = Changed(problem=calm.problem, plan=calm.old, was_late_min={"jelly": 6})
    found = replan_changed(
        changed, calm.happened, seconds=1.0, promised_min=calm.old.finish_min
    )
    assert found.missed_before_min == {"jelly": 6}


def test_fewer_jars_of_a_promise_are_a_promise_broken_and_nothing_is_there() -> None:
    """Two jars are not made already; without another batch it would be four."""
    problem = day(jelly(), wants=(Want(product="jelly", by_min=80),))
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    plan = answer.timetable
    late = replan(problem, plan, as_planned(problem, plan, 1), seconds=1)
    late = replace(late, new=plan.moved(20))
    two, four = (LackingJars(product="jelly", jars=n, by_min=80) for n in (2, 4))
    found, again = (replace(late, not_made=(out,)) for out in (two, four))
    offer = leave_out.Offer(batch="x", jars=2, found=again)
    assert leave_out._breaks(offer, found)
    assert not leave_out._breaks(replace(offer, found=found), found)
    in_time = replace(again, new=plan)
    said = leave_out._promises_said(in_time, found, problem.wants)
    assert said == ("4 jars of jelly, wanted by 9:20, are not made",)
    whole = replace(in_time, not_made=())
    said = leave_out._promises_said(whole, found, problem.wants)
    assert said == ("jelly is there by 9:20",)


# --- begun before its hour -----------------------------------------------------------


def test_hours_that_are_said_count_from_the_earlier_minute() -> None:
    given = Changes(back_min={"Ada": 100}, leaves_min={"Ben": 200})
    moved = Sooner(30, frozenset({"Ada"})).changes(given)
    assert moved.back_min == {"Ada": 130}
    assert moved.leaves_min == {"Ben": 230}


def test_what_was_found_is_told_in_the_minutes_of_the_day(calm: Replanned) -> None:
    found = replace(
        calm,
        promised_min=130,
        broken=((says("p1 is away, ", Minute(60), " to ", Minute(75)), 0),),
        not_made=(LackingJars(product="jelly", jars=2, by_min=100),),
    )
    told = Sooner(30, frozenset({"p1"})).back(found)
    assert told.promised_min == 100
    assert plainly(told.broken) == (("p1 is away, minute 30 to minute 45", 0),)
    assert [out.by_min for out in told.not_made] == [70]
    assert told.later_min == found.later_min


def test_only_who_was_said_to_have_begun_is_there_before_the_hour() -> None:
    a, b = at("a", "do", -30, -10, "Ada"), at("b", "do", -30, -10, "Ben")
    happened = so_far(-20, a, b)
    known = Known(happened=happened, by_plan=frozenset({("b", "do")}))
    assert sooner(known) == Sooner(20, frozenset({"Ada"}))
    guessed = frozenset({("a", "do"), ("b", "do")})
    assert sooner(Known(happened=happened, by_plan=guessed)).by == 0
