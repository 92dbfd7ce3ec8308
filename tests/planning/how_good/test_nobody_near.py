"""A clock that starts or ends while nobody is there is said."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day, jelly, person

from stillroom.planning import answering
from stillroom.planning.how_good.nobody_near import nobody_near
from stillroom.planning.how_good.rests_apart import with_rests_apart
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Break, Problem
from stillroom.planning.timetable import Answer, PlacedBreak, Timetable


@pytest.fixture(scope="module")
def planned() -> tuple[Problem, Timetable]:
    problem = day(jelly())
    found = plan_day(problem, seconds=0.5)
    assert isinstance(found, Answer)
    return problem, found.timetable


def resting(plan: Timetable, since: int, until: int, *who: str) -> Timetable:
    breaks = tuple(PlacedBreak(person=w, start_min=since, end_min=until) for w in who)
    return replace(plan, breaks=breaks)


def test_all_resting_at_the_full_boil_is_said(planned) -> None:
    problem, plan = planned
    (load,) = plan.loads
    everybody = [p.id for p in problem.people]
    assert nobody_near(problem, plan) == ""
    said = nobody_near(
        problem, resting(plan, load.boil_min, load.boil_min + 1, *everybody)
    )
    assert "load 1 comes to its full boil" in said
    assert "ends" not in said
    # back at that very minute, or begun just after it
    for since, until in (
        (load.boil_min - 9, load.boil_min),
        (load.boil_min + 1, load.done_min),
    ):
        assert nobody_near(problem, resting(plan, since, until, *everybody)) == ""
    both = nobody_near(
        problem, resting(plan, load.boil_min, load.done_min + 1, *everybody)
    )
    assert ") and the process of load 1 ends (" in both


def test_one_who_is_there_is_enough(planned) -> None:
    problem, plan = planned
    (load,) = plan.loads
    away = person("away", away=((load.boil_min, load.done_min + 1),))
    late = person("late", arrives_min=load.boil_min + 1)
    gone = person("gone", leaves_min=load.boil_min)
    nobody = replace(problem, people=(away, gone))
    assert "comes to its full boil" in nobody_near(nobody, plan)
    only_late = replace(problem, people=(away, late))
    said = nobody_near(only_late, plan)
    assert "comes to its full boil" in said
    assert "process of load 1 ends" not in said
    there = replace(problem, people=(away, late, person("there")))
    assert nobody_near(there, plan) == ""


def test_a_rest_is_moved_where_all_rest_at_a_full_boil(planned) -> None:
    """Two rest for 10 min around the boil; one of them may rest just after it."""
    problem, plan = planned
    (load,) = plan.loads
    boil, free = load.boil_min, load.lift_min
    window = Break(duration_min=10, earliest_min=boil - 5, latest_start_min=boil + 1)
    people = tuple(replace(p, breaks=(window,)) for p in problem.people[:1])
    helper = person("helper", breaks=(window,))
    two = replace(problem, people=(*people, helper))
    names = [p.id for p in two.people]
    both = resting(plan, boil - 5, boil + 5, *names)
    assert boil + 11 <= free, "nobody is needed so long"
    assert nobody_near(two, both) != ""
    apart = with_rests_apart(two, both)
    assert nobody_near(two, apart) == ""
    assert violations(two, apart) == ()
    assert replace(apart, breaks=()) == replace(plan, breaks=())
    # the nearest minute that helps: begun one after the boil
    assert sorted(r.start_min for r in apart.breaks) == [boil - 5, boil + 1]


def test_a_rest_stays_where_no_other_minute_helps(planned) -> None:
    problem, plan = planned
    (load,) = plan.loads
    boil = load.boil_min
    window = Break(duration_min=10, earliest_min=boil - 5, latest_start_min=boil)
    two = replace(
        problem, people=tuple(person(n, breaks=(window,)) for n in ("one", "two"))
    )
    both = resting(plan, boil - 5, boil + 5, "one", "two")
    assert with_rests_apart(two, both) == both


def test_a_clock_is_said_to_start_where_one_does(planned) -> None:
    problem, plan = planned
    (load,) = plan.loads
    everybody = [p.id for p in problem.people]
    boil = resting(plan, load.boil_min, load.boil_min + 1, *everybody)
    assert nobody_near(problem, boil).endswith(
        "agree on who looks then; a clock starts at the full boil, never earlier."
    )
    ends = resting(plan, load.done_min, load.done_min + 1, *everybody)
    assert nobody_near(problem, ends).endswith("agree on who looks then.")
    under = replace(
        problem,
        processes=tuple(replace(p, pressure_psi=11.0) for p in problem.processes),
    )
    said = nobody_near(under, boil)
    assert "load 1 comes to its pressure" in said
    assert said.endswith("a clock starts when the pressure is reached, never earlier.")


def test_clocks_are_told_in_the_order_of_the_day(planned) -> None:
    problem, plan = planned
    (load,) = plan.loads
    between = (load.boil_min + load.done_min) // 2
    second = replace(
        load,
        id="canner/2",
        lower_min=load.lower_min + 1,
        boil_min=between,
        done_min=load.done_min + 9,
    )
    two = replace(plan, loads=(load, second))
    gone = replace(problem, people=(person("gone", leaves_min=load.boil_min),))
    said = nobody_near(gone, two)
    told = ["load 1 comes", "load 2 comes", "process of load 1", "process of load 2"]
    places = [said.index(words) for words in told]
    assert places == sorted(places)


def test_a_plan_is_shown_with_its_rests_apart(planned, monkeypatch) -> None:
    """What comes of the search has both resting at the boil, and is not shown so."""
    problem, _ = planned
    window = Break(duration_min=10, earliest_min=0, latest_start_min=120)
    two = replace(
        problem, people=tuple(person(n, breaks=(window,)) for n in ("one", "two"))
    )

    def together(
        problem: Problem, plan: Timetable, *, is_over: object = None
    ) -> Timetable:
        (load,) = plan.loads
        since = load.boil_min - 2
        both = resting(plan, since, since + 10, "one", "two")
        assert violations(problem, both) == ()
        assert nobody_near(problem, both) != ""
        return both

    monkeypatch.setattr(answering, "in_calmer_hands", together)
    found = plan_day(two, seconds=0.5)
    assert isinstance(found, Answer)
    assert nobody_near(two, found.timetable) == ""
    assert len(found.timetable.breaks) == 2
