"""What is said of each kind of wait: who or what, until when, and what comes after."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day, person, step, work
from planning.written_out import LID, at, batch, closed, labour, load

from stillroom.planning.problem import Burner, Link, Problem, Window
from stillroom.planning.timetable import PlacedBreak, PlacedStep, Timetable
from stillroom.planning.waits.why import Because, why

PAN = {"in_pot": True, "burner_w": 900.0}


def first(problem: Problem, asked: str, *steps: PlacedStep, **more: object) -> Because:
    given: dict[str, object] = {"loads": (), "breaks": ()}
    plan = Timetable(steps=steps, **{**given, **more})  # type: ignore[arg-type]
    return why(problem, plan, asked).chain[0]


def wait(found: Because) -> str:
    """What holds it, without how much sooner all of that could be."""
    return found.sentence.partition("; with all that it waits for")[0]


@pytest.mark.parametrize(
    ("link", "said"),
    [
        ({}, "skim (a) has to be done first"),
        ({"at_least_min": 5}, "skim (a) has to be done first, 5 min before"),
        (
            {"at_least_min": 5, "why": "foam rises"},
            "skim (a) has to be done first, 5 min before: foam rises",
        ),
    ],
)
def test_a_step_waits_for_the_one_before_it(link: dict, said: str) -> None:
    links = (Link(before="skim", after="fill", **link),)
    problem = day(work("a", step("skim", 10, 0), step("fill", 5, 0), links=links))
    lag = link.get("at_least_min", 0)
    placed = at("a", "skim", 0, 10), at("a", "fill", 10 + lag, 15 + lag)
    found = first(problem, "a/fill", *placed)
    assert (found.held_by, found.resource, found.sentence) == ("link", "", said)


def test_a_step_is_put_off_for_what_must_follow_it_soon() -> None:
    """Cut for 10 and in the pan within 5: with the pan at 40, not before 25."""
    links = (Link(before="cut", after="pan", at_most_min=5, why="they brown"),)
    problem = day(work("a", step("cut", 10, 0), step("pan", 5, 0), links=links))
    found = first(problem, "a/cut", at("a", "cut", 25, 35), at("a", "pan", 40, 45))
    assert found.held_by == "limit"
    assert wait(found) == (
        "at most 5 min may pass after it (they brown); pan (a) begins at 8:40"
    )


@pytest.mark.parametrize(
    ("lids", "held", "said"),
    [
        (30, "jars", "the jars of a are closed at 8:30"),
        (29, "canner", "the water of the canner is hot at 8:30"),
    ],
)
def test_a_load_waits_for_its_jars_and_its_water(
    lids: int, held: str, said: str
) -> None:
    """Its water is hot at 30; of jars that are closed at that minute the jars count."""
    jars = batch("a", step("lid", lids, 0), jars=5, process="half-pint-10")
    found = first(day(jars), "L1", at("a", "lid", 0, lids), loads=(load(30),))
    assert (found.held_by, found.sentence) == (held, said)


def test_water_is_heated_for_the_minute_at_which_jars_go_in() -> None:
    lid = at("a", "lid", 35, 40)
    found = first(day(closed("a")), "L1/heat", lid, loads=(load(40),))
    assert found.held_by == "limit"
    assert wait(found) == (
        "the water is hot when the jars go in; lower load 1 into the canner begins "
        "at 8:40"
    )


def test_jars_are_closed_no_sooner_than_they_may_wait() -> None:
    """Lowered at 45 and closed at most 20 before: the lids of 5 min not before 20."""
    lid = at("a", "lid", 20, 25)
    found = first(day(closed("a")), "a/lid", lid, loads=(load(45),))
    assert found.held_by == "limit"
    assert wait(found) == (
        "closed jars wait at most 20 min; lower load 1 into the canner begins at 8:45"
    )


def test_a_load_is_put_off_for_whoever_lifts_it() -> None:
    """Lifted at 80: rested at 70 at the soonest, and so lowered 31 min before that."""
    hour = Window(step="do", earliest_min=43)
    problem = day(closed("a"), batch("b", labour(37, quarters=4), windows=(hour,)))
    late = load(39, hot=True, heat_min=39, lift_min=80, out_min=84)
    busy = at("b", "do", 43, 80, "p1", quarters=4)
    found = first(problem, "L1", at("a", "lid", 30, 35), busy, loads=(late,))
    assert found.held_by == "limit"
    assert wait(found) == (
        "the rest of load 1 in the canner follows it without a wait, and jars are "
        "lifted within 10 min of their rest; lift load 1 out of the canner begins at "
        "9:20"
    )


def test_hands_are_away_or_at_rest_until_an_hour() -> None:
    problem = day(batch("a", labour(10)), people=(person("p1", away=((0, 30),)),))
    after = at("a", "do", 30, 40, "p1")
    gone = first(problem, "a/do", after)
    assert (gone.held_by, gone.resource) == ("break", "p1")
    assert gone.sentence == "p1 is away until 8:30"
    plan = Timetable(steps=(after,), loads=(), breaks=())
    assert why(problem, plan, "a/do").chain[1].what == "the absence of p1"
    rest = PlacedBreak(person="p1", start_min=0, end_min=30)
    meal = first(day(batch("a", labour(10))), "a/do", after, breaks=(rest,))
    assert (meal.held_by, meal.resource) == ("break", "p1")
    assert meal.sentence == "p1 rests until 8:30"


@pytest.mark.parametrize(
    ("fire", "called"),
    [("weak-1", "the burner weak-1"), ("back burner", "back burner")],
)
def test_a_fire_is_somebody_elses_until_an_hour(fire: str, called: str) -> None:
    """Taken from 10 to 30, and twenty minutes on it: they would not be over by 10."""
    boil = work("a", step("boil", 20, 0, burner_w=900.0))
    supper = Burner(id=fire, power_w=1000.0, taken=((10, 30),))
    problem = day(boil, burners=(supper,))
    after = at("a", "boil", 30, 50, burner=fire)
    found = first(problem, "a/boil", after)
    assert (found.held_by, found.resource) == ("burner", fire)
    assert found.sentence == f"{called} is taken until 8:30"
    plan = Timetable(steps=(after,), loads=(), breaks=())
    hours = why(problem, plan, "a/boil").chain[1]
    assert (hours.what, hours.batch) == (f"the hours of others on {called}", "")
    assert hours.sentence == f"{called} is taken from 8:10"


def test_a_canner_waits_for_a_burner_that_is_taken() -> None:
    # its water is heated from 40 on, when the one burner under it is ours again
    burners = tuple(
        replace(b, taken=((5, 40),)) if b.id == "strong-1" else b for b in day().burners
    )
    problem = day(closed("a"), burners=burners)
    lid = at("a", "lid", 65, 70)
    found = first(problem, "L1/heat", lid, loads=(load(70),))
    assert (found.held_by, found.resource) == ("burner", "strong-1")
    assert wait(found) == "the burner strong-1 is taken until 8:40"


@pytest.mark.parametrize(
    ("fire", "called"),
    [("weak-1", "the burner weak-1"), ("back burner", "back burner")],
)
def test_a_fire_is_taken_until_the_pot_before_is_off_it(fire: str, called: str) -> None:
    two = (work(n, step("boil", 20, 0, burner_w=900.0)) for n in ("a", "b"))
    problem = day(*two, burners=(Burner(id=fire, power_w=1000.0),))
    boils = (at(n, "boil", m, m + 20, burner=fire) for n, m in (("a", 0), ("b", 20)))
    found = first(problem, "b/boil", *boils)
    assert (found.held_by, found.resource) == ("burner", fire)
    assert found.sentence == f"{called} is taken until 8:20 by: boil (a)"


def test_a_pot_is_moved_to_another_fire_a_minute_after() -> None:
    problem = day(work("a", step("boil", 20, 0, **PAN), step("melt", 10, 0, **PAN)))
    boil = at("a", "boil", 0, 20, pot="small-1", burner="weak-1")
    melt = at("a", "melt", 21, 31, pot="small-1", burner="weak-2")
    found = first(problem, "a/melt", boil, melt)
    assert found.sentence == (
        "the pot is moved to the burner weak-2 1 min after: boil (a)"
    )


def test_a_mill_holds_a_batch_until_it_is_washed() -> None:
    problem = day(*(work(n, step("mill", 20, 0, on_mill=True)) for n in ("a", "b")))
    mills = (at(n, "mill", m, m + 20, mill=1) for n, m in (("a", 0), ("b", 20)))
    found = first(problem, "b/mill", *mills)
    assert found.held_by == "mill"
    assert found.sentence.endswith(" holds a until 8:20: mill")


def test_water_is_heated_anew_once_the_load_before_is_out() -> None:
    """The first is out at 65; with 20 of heating the second is lowered at 85."""
    problem = day(closed("a"), closed("c"))
    second = load(85, id="L2", jars=(("c", 5),), heat_min=65)
    lids = LID, at("c", "lid", 75, 80)
    found = first(problem, "L2/heat", *lids, loads=(load(30), second))
    assert found.sentence.startswith("the canner is emptied of load 1 at 9:05")


def test_what_nothing_holds_begins_with_the_day_or_at_no_hour() -> None:
    problem = day(work("a", step("soak", 10, 0)))
    for start, said in ((0, "the day begins"), (7, "nothing holds it")):
        found = first(problem, "a/soak", at("a", "soak", start, start + 10))
        assert (found.held_by, found.sentence) == ("day", said)
        assert found.spare_min == start
