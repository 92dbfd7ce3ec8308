"""A canner under pressure that nobody is there to watch; the days are invented."""

from dataclasses import replace

import pytest

from stillroom.planning.goal_order import Goal
from stillroom.planning.how_good.goals import goals_of
from stillroom.planning.how_good.rests_apart import with_rests_apart
from stillroom.planning.how_good.unwatched import kept_by, left_alone, unwatched
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Break, Process
from stillroom.planning.timetable import Answer, PlacedBreak, PlacedLoad, Timetable
from tests.planning.small_days import day, jelly, person

BEANS = Process(
    id="pint-20", jar="pint", minutes=20, may_ride_in=("pint-20",), pressure_psi=12.0
)
LOAD = PlacedLoad(
    id="L1",
    canner="dial canner",
    process="pint-20",
    process_min=20,
    jars=(("beans 1", 7),),
    hot=False,
    heat_min=30,
    lower_min=60,
    lowered_min=65,
    boil_min=95,
    done_min=115,
    lift_min=160,
    out_min=165,
    fire_free_min=115,
    lowered_by="ann",
    lifted_by="ann",
)
ANN = replace(person("ann"), skills=frozenset({"pan", "lift"}))
CHILD = replace(person("pip"), skills=frozenset({"cold"}))


def said(*people, breaks=(), process=BEANS) -> list[str]:
    problem = replace(day(jelly()), people=people, processes=(process,))
    timetable = Timetable(steps=(), loads=(LOAD,), breaks=tuple(breaks))
    return [caution.text for caution in unwatched(problem, timetable)]


def rest(start: int, end: int) -> PlacedBreak:
    return PlacedBreak(person="ann", start_min=start, end_min=end)


def test_free_hands_beside_a_canner_are_not_praised_as_free_time():
    """The only one who may lift has free hands and stays: from 9:55 she is free."""
    problem = replace(day(jelly()), people=(ANN,), processes=(BEANS,))
    plan = Timetable(steps=(), loads=(LOAD,), breaks=())
    assert kept_by(problem, plan, ANN) == ((65, 115),)
    (calm,) = [m for m in goals_of(problem, plan) if m.goal is Goal.CALM]
    assert calm.sentence == (
        "ann is free from 8:00 to 9:00 in one piece; while a pressure canner vents or "
        "is under pressure ann stays in the kitchen."
    )
    boiled = replace(problem, processes=(replace(BEANS, pressure_psi=None),))
    assert kept_by(boiled, plan, ANN) == ()


def test_who_has_another_beside_the_canner_is_free():
    other = replace(ANN, id="bea", away=((80, 90),))
    problem = replace(day(jelly()), people=(ANN, other, CHILD), processes=(BEANS,))
    plan = Timetable(steps=(), loads=(LOAD,), breaks=(rest(100, 105),))
    assert kept_by(problem, plan, ANN) == ((80, 90),)
    assert kept_by(problem, plan, other) == ((100, 105),)
    assert kept_by(problem, plan, CHILD) == ()


def test_a_break_of_the_only_one_who_may_lift_is_told():
    (one,) = said(ANN, CHILD, breaks=(rest(70, 110),))
    assert one.startswith("9:10–9:50 nobody who may lift jars is in the kitchen")
    assert "the dial canner vents or is under pressure: it is not left alone" in one


@pytest.mark.parametrize("span", [(20, 65), (115, 150)])
def test_a_break_before_the_jars_are_in_or_after_the_fire_is_off_is_hers(span):
    assert said(ANN, CHILD, breaks=(rest(*span),)) == []


@pytest.mark.parametrize(
    ("span", "told"), [((60, 66), "9:05–9:06"), ((114, 120), "9:54–9:55")]
)
def test_every_minute_counts(span, told):
    (one,) = said(ANN, breaks=(rest(*span),))
    assert one.startswith(told)


def test_who_is_away_or_has_gone_watches_nothing():
    away = replace(ANN, away=((80, 90),), leaves_min=110)
    assert [text[:9] for text in said(away)] == ["9:20–9:30", "9:50–9:55"]
    late = replace(ANN, arrives_min=100)
    assert said(late)[0].startswith("9:05–9:40")


def test_another_who_may_lift_is_enough():
    bea = replace(ANN, id="bea")
    assert said(ANN, bea, breaks=(rest(70, 110),)) == []


def test_boiling_water_is_another_matter():
    plain = replace(BEANS, pressure_psi=None)
    assert said(ANN, breaks=(rest(70, 110),), process=plain) == []


def test_a_rest_is_moved_off_a_canner_under_pressure() -> None:
    plain = day(jelly())
    found = plan_day(plain, seconds=0.5)
    assert isinstance(found, Answer)
    plan = found.timetable
    (load,) = plan.loads
    window = Break(duration_min=8, earliest_min=0, latest_start_min=470)
    (keeper,) = plain.people
    problem = replace(
        plain,
        people=(replace(keeper, breaks=(window,)),),
        processes=tuple(replace(p, pressure_psi=12.0) for p in plain.processes),
    )
    on_it = PlacedBreak(
        person=keeper.id, start_min=load.boil_min - 1, end_min=load.boil_min + 7
    )
    hidden = replace(plan, breaks=(on_it,))
    assert not violations(problem, hidden)
    assert [until - since for _, since, until in left_alone(problem, hidden)] == [8]
    moved = with_rests_apart(problem, hidden)
    assert not list(left_alone(problem, moved))
    assert not violations(problem, moved)
    assert replace(moved, breaks=()) == replace(plan, breaks=())
    # boiling water may be left for a rest: its clock alone is looked at
    water = replace(problem, processes=plain.processes)
    later = replace(on_it, start_min=load.boil_min + 1, end_min=load.boil_min + 9)
    beside = replace(plan, breaks=(later,))
    assert with_rests_apart(water, beside) == beside
