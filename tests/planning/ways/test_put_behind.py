"""A batch more is put behind what is planned: as soon as all that it takes is free."""

from __future__ import annotations

import pytest
from planning.small_days import Counter, canner, day, person, step, work
from planning.written_out import LID, at, batch, closed, labour, load

from stillroom.planning.problem import Break, Problem, Window
from stillroom.planning.timetable import PlacedBreak, Timetable
from stillroom.planning.ways.put_behind import with_the_others


def begins(problem: Problem, plan: Timetable, *others: str) -> list[int] | None:
    """Minutes at which the others begin; `None` where there is no plan."""
    whole = with_the_others(problem, plan, others)
    if whole is None:
        return None
    assert set(plan.steps) <= set(whole.steps)  # nothing of the plan is moved
    return [min(s.start_min for s in whole.steps if s.batch == o) for o in others]


def table(*steps, loads=(), breaks=()) -> Timetable:
    return Timetable(steps=steps, loads=tuple(loads), breaks=tuple(breaks))


@pytest.mark.parametrize(("minutes", "since"), [(20, 20), (21, 60)])
def test_what_has_room_between_goes_between(minutes: int, since: int) -> None:
    """The keeper is at it until 20, and again from 40 to 60."""
    busy = batch("a", labour(20)), batch("c", labour(20))
    problem = day(*busy, batch("b", labour(minutes)))
    plan = table(at("a", "do", 0, 20, "p1"), at("c", "do", 40, 60, "p1"))
    assert begins(problem, plan, "b") == [since]


def test_what_finds_no_place_makes_no_plan() -> None:
    problem = day(batch("a", labour(60)), batch("b", labour(30)), horizon_min=90)
    assert begins(problem, table(at("a", "do", 0, 60, "p1")), "b") == [60]
    short = day(batch("a", labour(60)), batch("b", labour(31)), horizon_min=90)
    assert begins(short, table(at("a", "do", 0, 60, "p1")), "b") is None


def test_the_others_are_put_in_one_after_another_as_they_are_named() -> None:
    three = (batch(name, labour(10)) for name in "abc")
    problem = day(*three)
    plan = table(at("a", "do", 0, 10, "p1"))
    assert begins(problem, plan, "c", "b") == [10, 20]


def test_a_pot_a_mill_and_a_fire_are_free_when_they_are_left() -> None:
    pot = {"in_pot": True}
    for more, kept, held in (
        (pot, {"pots": ("big",)}, {"pot": "big-1"}),
        ({"on_mill": True}, {}, {"mill": 1}),
        ({"burner_w": 2500.0}, {}, {"burner": "strong-1"}),
    ):
        two = (work(n, step("do", 20, 0, **more), **kept) for n in "ab")
        plan = table(at("a", "do", 10, 30, **held))
        assert begins(day(*two), plan, "b") == [30]


def test_of_two_mills_the_other_is_free_at_once() -> None:
    problem = day(*(work(n, step("do", 20, 0, on_mill=True)) for n in "ab"), mills=2)
    for mill in (1, 2):
        assert begins(problem, table(at("a", "do", 10, 30, mill=mill)), "b") == [0]


def test_nobody_works_in_a_rest_of_the_plan() -> None:
    meal = Break(duration_min=15, earliest_min=0, latest_start_min=60)
    who = (person("p1", breaks=(meal,)),)
    problem = day(batch("a", labour(10)), batch("b", labour(10)), people=who)
    rest = PlacedBreak(person="p1", start_min=12, end_min=27)
    plan = table(at("a", "do", 0, 10, "p1"), breaks=(rest,))
    assert begins(problem, plan, "b") == [27]


def test_a_fire_that_a_canner_stands_on_is_free_when_its_jars_are_out() -> None:
    """Heated from 0 and out at 65, on the only fire that is strong enough."""
    boil = work("b", step("boil", 10, 0, burner_w=2500.0))
    plan = table(LID, loads=[load(30)])
    assert begins(day(closed("a"), boil), plan, "b") == [65]
    kept_on = table(LID, loads=[load(30, fire_free_min=80)])
    assert begins(day(closed("a"), boil), kept_on, "b") == [80]


def test_a_new_load_has_a_name_of_its_own_and_those_of_the_plan_keep_theirs() -> None:
    problem = day(closed("a"), closed("b", 16, ready_after="lid"))
    plan = table(LID, loads=[load(30, id="canner/1")])
    whole = with_the_others(problem, plan, ["b"])
    assert whole is not None
    assert [one.id for one in whole.loads] == ["canner/1", "canner/2"]
    first, second = whole.loads
    assert first.jars == (("a", 5),)
    assert second.jars == (("b", 16),)
    assert second.lower_min >= first.out_min


@pytest.mark.parametrize(("since", "loads"), [(25, 1), (26, 2)])
def test_jars_join_a_load_that_they_are_closed_for(since: int, loads: int) -> None:
    """It is lowered at 30, and is not held up for jars that are closed at 31."""
    hour = Window(step="lid", earliest_min=since)
    problem = day(closed("a"), closed("b", ready_after="lid", windows=(hour,)))
    plan = table(LID, loads=[load(30, id="canner/1")])
    whole = with_the_others(problem, plan, ["b"])
    assert whole is not None
    assert len(whole.loads) == loads
    assert whole.loads[0].lower_min == 30


def test_jars_that_have_no_room_to_cool_make_no_plan() -> None:
    plan = table(LID, loads=[load(30, id="canner/1")])
    for places, fits in ((21, True), (20, False)):
        counter = Counter(places=places, cooling_min=1440)
        problem = day(
            closed("a"),
            closed("b", 16, ready_after="lid"),
            counter=counter,
            canners=(canner(),),
        )
        assert (with_the_others(problem, plan, ["b"]) is not None) == fits
