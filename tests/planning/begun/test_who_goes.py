"""Who goes, comes or rests, what breaks and is left out: hour by hour, step by step."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import canner, day, person, step, work
from planning.written_out import LID, at, batch, closed, labour, load

from stillroom.methods.step import Skill
from stillroom.planning.begun.absences import (
    breaks_asked,
    gone_from,
    is_there,
    not_there_until,
)
from stillroom.planning.begun.changes import (
    Changed,
    Changes,
    may_be_dropped,
    with_changes,
)
from stillroom.planning.begun.handed_on import handed_on
from stillroom.planning.begun.promised_anew import served_anew
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Break, Problem, Want
from stillroom.planning.timetable import PlacedBreak, Timetable
from stillroom.refusal import Refusal

NOTHING = Timetable(steps=(), loads=(), breaks=())


def so_far(now: int, *steps, loads=()) -> Happened:
    return Happened(now_min=now, steps=steps, loads=tuple(loads))


def otherwise(
    problem: Problem, plan: Timetable, happened: Happened, **given
) -> Changed:
    found = with_changes(problem, plan, happened, Changes(**given))
    assert isinstance(found, Changed), found
    return found


# --- who is there --------------------------------------------------------------------


def test_who_lowers_a_load_ends_that_before_she_goes() -> None:
    happened = so_far(32, LID, loads=[load(30, lifted_by="p2")])
    assert gone_from("p1", happened) == 34


@pytest.mark.parametrize(("latest", "kept"), [(75, 0), (76, 1)])
def test_a_rest_is_had_only_where_all_of_it_falls_in_the_absence(
    latest: int, kept: int
) -> None:
    """Gone from 40 to 90: 15 minutes begun at 76 end when she is back."""
    rest = Break(duration_min=15, earliest_min=45, latest_start_min=latest)
    happened = so_far(40, at("a", "do", 0, 40, "Ada"))
    later = not_there_until(person("Ada", breaks=(rest,)), 90, happened)
    assert len(later.breaks) == kept


def test_no_rest_is_asked_of_who_has_gone_home_by_then() -> None:
    rest = Break(duration_min=15, earliest_min=100, latest_start_min=120)
    problem = day(people=(person("Ada", breaks=(rest,), leaves_min=100),))
    placed = PlacedBreak(person="Ada", start_min=110, end_min=125)
    plan = replace(NOTHING, breaks=(placed,))
    assert breaks_asked(problem, plan, so_far(10)) == ()


def test_a_rest_comes_behind_the_absence_that_it_would_fall_into() -> None:
    rest = Break(duration_min=15, earliest_min=0, latest_start_min=120)
    problem = day(people=(person("Ada", breaks=(rest,), away=((45, 70),)),))
    placed = PlacedBreak(person="Ada", start_min=50, end_min=65)
    plan = replace(NOTHING, breaks=(placed,))
    (moved,) = breaks_asked(problem, plan, so_far(10))
    assert (moved.start_min, moved.end_min) == (70, 85)


def test_who_has_not_come_is_not_there() -> None:
    late = person("Ada", arrives_min=30)
    assert not is_there(late, 20, 25)
    assert is_there(late, 30, 35)


def test_an_hour_of_coming_lies_after_this_minute() -> None:
    problem = day(people=(person("Ada"),))
    no = with_changes(problem, NOTHING, so_far(10), Changes(back_min={"Ada": 10}))
    assert isinstance(no, Refusal)
    assert "Ada cannot come at 8:10: it is 8:10 now" in no.reason


def test_nobody_leaves_before_the_day_begins() -> None:
    """Seven in the evening, typed as "7:00", is no reason to plan without her."""
    problem = day(people=(person("Ada"),))
    no = with_changes(problem, NOTHING, so_far(10), Changes(leaves_min={"Ada": -60}))
    assert isinstance(no, Refusal)
    assert "Ada cannot leave at 7:00: the day begins at 8:00" in no.reason
    assert '"19:00"' in no.instead


def test_nobody_leaves_before_now_and_who_says_so_is_not_asked_to_stay() -> None:
    problem = day(people=(person("Ada"), person("Ben")))
    found = otherwise(problem, NOTHING, so_far(10), leaves_min={"Ada": 5})
    assert found.problem.people[0].leaves_min == 10
    assert found.goes == {"Ada"}


@pytest.mark.parametrize(("leaves", "kept"), [(64, 0), (65, 1)])
def test_a_rest_that_does_not_end_before_she_goes_is_not_asked_for(
    leaves: int, kept: int
) -> None:
    rest = Break(duration_min=15, earliest_min=50, latest_start_min=90)
    problem = day(people=(person("Ada", breaks=(rest,)),))
    found = otherwise(problem, NOTHING, so_far(10), leaves_min={"Ada": leaves})
    assert len(found.problem.people[0].breaks) == kept


# --- what breaks, and what is left out -----------------------------------------------


@pytest.mark.parametrize(("now", "holds"), [(58, True), (61, True), (62, False)])
def test_jars_that_rest_in_a_broken_canner_are_in_it(now: int, holds: bool) -> None:
    """The process is over at 56, and they are lifted at 61."""
    problem = day(closed("a"))
    plan = replace(NOTHING, steps=(LID,), loads=(load(30),))
    happened = so_far(now, LID, loads=[load(30)])
    found = with_changes(problem, plan, happened, Changes(broken=("canner",)))
    assert isinstance(found, Refusal) == holds


def test_what_is_in_the_mill_or_in_its_jars_is_not_left_out() -> None:
    milled = work("b", step("mill", 10, 3, on_mill=True), step("lid", 5, 0))
    problem = day(milled)
    assert may_be_dropped(problem, so_far(10), "b")
    happened = so_far(10, at("b", "mill", 5, 15, "p1", mill=1))
    assert not may_be_dropped(problem, happened, "b")
    washed = closed("a", steps=(step("lid", 5, 0), step("tidy", 5, 3)))
    problem = replace(problem, batches=(replace(washed, ready_after="lid"),))
    assert may_be_dropped(problem, so_far(40, LID), "a")
    assert not may_be_dropped(problem, so_far(40, LID, loads=[load(30)]), "a")


def test_raw_peaches_in_their_jars_are_not_left_out() -> None:
    """They are in no pot: closed jars were offered to be left out of the canner."""
    packed = step("pack", 10, 3, put_up=True)
    problem = day(work("b", step("cut", 5, 3), packed, step("lid", 5, 0)))
    cut = at("b", "cut", 0, 5, "p1")
    assert may_be_dropped(problem, so_far(5, cut), "b")
    happened = so_far(10, cut, at("b", "pack", 5, 15, "p1"))
    assert not may_be_dropped(problem, happened, "b")


# --- other hands, other canners ------------------------------------------------------


def test_nobody_is_handed_what_they_do_not_do() -> None:
    pans = batch("a", labour(20, skill=Skill.PAN))
    cold = frozenset({Skill.COLD})
    people = (person("Ada", leaves_min=30), person("Ben", skills=cold))
    plan = replace(NOTHING, steps=(at("a", "do", 40, 60, "Ada"),))
    (given,) = handed_on(day(pans, people=people), plan, so_far(10)).steps
    assert given.person == "Ada"
    people = (people[0], person("Ben"))
    (given,) = handed_on(day(pans, people=people), plan, so_far(10)).steps
    assert given.person == "Ben"


def test_a_load_to_be_lifted_this_minute_is_lifted_by_who_is_there() -> None:
    people = (person("p1", leaves_min=61), person("p2"))
    plan = replace(NOTHING, steps=(LID,), loads=(load(30),))
    happened = so_far(61, LID, loads=[load(30)])
    (one,) = handed_on(day(closed("a"), people=people), plan, happened).loads
    assert (one.lowered_by, one.lifted_by) == ("p1", "p2")


def test_a_load_of_a_broken_canner_goes_where_all_of_it_has_room() -> None:
    """Five jars: four places are too few. Its process takes its published minutes."""
    canners = (
        canner("canner", places={"half_pint": 0}),
        canner("small", places={"half_pint": 4}, burners=("weak-1",)),
        canner("large", burners=("middle-1",), come_up_min=20),
    )
    plan = replace(NOTHING, steps=(LID,), loads=(load(30),))
    problem = day(closed("a"), canners=canners)
    (one,) = handed_on(problem, plan, so_far(10), loads_too=True).loads
    assert one.canner == "large"
    assert (one.boil_min, one.done_min, one.lift_min) == (54, 64, 69)


# --- for whom the jars are -----------------------------------------------------------


def test_the_first_that_is_done_serves_the_first_hour() -> None:
    """The first is left out; of the others the last in the list is done first."""
    wants = (
        Want(product="early", by_min=100, jars=8),
        Want(product="late", by_min=200, jars=8),
    )

    def jars(name: str, product: str):
        return closed(name, 8, product=product, contents="plum", jar="half_pint")

    before = (jars("a", "early"), jars("b", "late"), jars("c", "plum"))
    found = served_anew(wants, before, before[1:], {"a"}, {"b": 150, "c": 90})
    assert {b.id: b.serves for b in found} == {"b": ("late",), "c": ("early",)}
