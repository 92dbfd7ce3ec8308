"""A day taken to have gone to plan, but for what was late: what has not begun."""

from __future__ import annotations

import pytest

from stillroom.methods.step import Link
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import (
    PlacedBreak,
    PlacedLoad,
    PlacedStep,
    Timetable,
)
from stillroom.refusal import Unreadable
from tests.planning.small_days import canner, day, person, step, work


def placed(batch: str, name: str, start: int, end: int, **more: object) -> PlacedStep:
    given = {"person": "Ada", "quarters": 3, **more}
    return PlacedStep(
        batch=batch,
        step=name,
        start_min=start,
        end_min=end,
        **given,  # type: ignore[arg-type]
    )


def load(number: int, lower: int, *batches: str, **more: object) -> PlacedLoad:
    """Ten minutes in a canner: lowered in 4, to the boil in 12, a rest of 5."""
    given: dict[str, object] = {
        "id": f"canner/{number}",
        "canner": "canner",
        "process": "half-pint-10",
        "process_min": 10,
        "jars": tuple((batch, 8) for batch in batches),
        "hot": number > 1,
        "heat_min": lower - 30,
        "lower_min": lower,
        "lowered_min": lower + 4,
        "boil_min": lower + 16,
        "done_min": lower + 26,
        "lift_min": lower + 31,
        "out_min": lower + 35,
        "fire_free_min": lower + 26,
        "lowered_by": "Ada",
        "lifted_by": "Ada",
    }
    return PlacedLoad(**{**given, **more})  # type: ignore[arg-type]


def plan(*steps: PlacedStep, loads: tuple[PlacedLoad, ...] = ()) -> Timetable:
    return Timetable(steps=steps, loads=loads, breaks=())


def jars(name: str) -> Batch:
    """A batch whose jars are closed by its lids."""
    lid = step("lid", 10, 3)
    return work(name, lid, jars=8, process="half-pint-10", ready_after="lid")


def two(first: Batch, second: Batch, **changes: object) -> Problem:
    people = (person("Ada"), person("Ben"))
    return day(first, second, people=people, canners=(canner(),), **changes)


def begun(found: Happened) -> set[tuple[str, str]]:
    return set(found.begun)


# --- jars and loads -------------------------------------------------------------


def test_jars_that_were_not_closed_in_time_are_in_no_canner():
    problem = two(jars("a"), jars("b"))
    by_the_plan = plan(
        placed("a", "lid", 40, 50),
        placed("b", "lid", 0, 10),
        loads=(load(1, 50, "a", lowered_by="Ben"),),
    )
    assert as_planned(problem, by_the_plan, 60).loads
    late = {("a", "lid"): 5}
    assert as_planned(problem, by_the_plan, 60, late_min=late).loads == ()


def test_who_is_still_at_something_else_has_lowered_no_jars():
    problem = two(jars("a"), work("b", step("cut", 20, 3)))
    by_the_plan = plan(
        placed("a", "lid", 40, 50, person="Ben"),
        placed("b", "cut", 25, 45),
        loads=(load(1, 50, "a"),),
    )
    assert as_planned(problem, by_the_plan, 60).loads
    late = {("b", "cut"): 30}
    assert as_planned(problem, by_the_plan, 60, late_min=late).loads == ()


def test_a_load_that_waits_for_hands_is_still_in_and_keeps_the_next_one_out():
    """Nobody lifts it: it stands in the water, and the canner is not empty."""
    problem = two(jars("a"), jars("b"))
    by_the_plan = plan(
        placed("a", "lid", 20, 30, person="Ben"),
        placed("b", "lid", 60, 70, person="Ada"),
        loads=(load(1, 50, "a"), load(2, 86, "b", lowered_by="Ben")),
    )
    found = as_planned(problem, by_the_plan, 95, late_min={("b", "lid"): 12})
    assert [one.id for one in found.loads] == ["canner/1"]
    found = as_planned(problem, by_the_plan, 95)
    assert [one.id for one in found.loads] == ["canner/1", "canner/2"]


def test_who_lifts_a_load_late_takes_as_long_for_it_as_ever():
    problem = two(jars("a"), work("b", step("cut", 20, 3)))
    by_the_plan = plan(
        placed("a", "lid", 20, 30, person="Ben"),
        placed("b", "cut", 60, 80),
        loads=(load(1, 50, "a"),),
    )
    found = as_planned(problem, by_the_plan, 90, late_min={("b", "cut"): 30})
    (still_in,) = found.loads
    assert (still_in.lift_min, still_in.out_min) == (90, 94)


# --- steps ----------------------------------------------------------------------


def test_what_has_to_stand_for_a_while_is_not_begun_before_it_has():
    soak = work(
        "a",
        step("soak", 10, 3),
        step("drain", 10, 3),
        links=(Link(before="soak", after="drain", at_least_min=30),),
    )
    problem = two(soak, work("b", step("cut", 5, 3)))
    by_the_plan = plan(
        placed("a", "soak", 0, 10),
        placed("a", "drain", 40, 50),
        placed("b", "cut", 60, 65),
    )
    assert begun(as_planned(problem, by_the_plan, 50)) == {
        ("a", "soak"),
        ("a", "drain"),
    }
    late = {("a", "soak"): 1}
    assert begun(as_planned(problem, by_the_plan, 50, late_min=late)) == {("a", "soak")}


@pytest.mark.parametrize(("quarters", "goes_on"), [(1, True), (3, False)])
def test_who_is_kept_has_only_what_is_left_of_her_for_the_next_thing(quarters, goes_on):
    """Two quarters are asked for: beside one that is a hand, beside three it is not."""
    problem = two(work("a", step("stir", 20, quarters)), work("b", step("cut", 10, 2)))
    by_the_plan = plan(
        placed("a", "stir", 0, 20, quarters=quarters),
        placed("b", "cut", 20, 30, quarters=2),
    )
    found = as_planned(problem, by_the_plan, 25, late_min={("a", "stir"): 15})
    assert (("b", "cut") in begun(found)) == goes_on


@pytest.mark.parametrize(
    "held", [{"mill": 1}, {"burner": "strong-1"}], ids=["mill", "fire"]
)
def test_a_mill_or_fire_that_is_still_in_use_is_free_for_nothing_else(held):
    problem = two(work("a", step("use", 20, 3)), work("b", step("use", 10, 3)))
    by_the_plan = plan(
        placed("a", "use", 0, 20, **held),
        placed("b", "use", 20, 30, person="Ben", **held),
    )
    assert ("b", "use") in begun(as_planned(problem, by_the_plan, 25))
    late = as_planned(problem, by_the_plan, 25, late_min={("a", "use"): 10})
    assert begun(late) == {("a", "use")}


def test_a_pot_that_was_not_washed_is_not_free():
    first = work(
        "a",
        step("boil", 20, 3, in_pot=True),
        step("wash", 5, 3, in_pot=True),
        links=(Link(before="boil", after="wash"),),
        pots=("big",),
    )
    second = work("b", step("boil", 20, 3, in_pot=True), pots=("big",))
    problem = two(first, second)
    by_the_plan = plan(
        placed("a", "boil", 0, 20, pot="big-1"),
        placed("a", "wash", 20, 25, pot="big-1"),
        placed("b", "boil", 25, 45, pot="big-1", person="Ben"),
    )
    assert ("b", "boil") in begun(as_planned(problem, by_the_plan, 30))
    late = as_planned(problem, by_the_plan, 30, late_min={("a", "boil"): 3})
    assert begun(late) == {("a", "boil")}


def test_nothing_ends_as_it_begins():
    problem = two(jars("a"), jars("b"))
    by_the_plan = plan(placed("a", "lid", 0, 10), placed("b", "lid", 10, 20))
    sooner = as_planned(problem, by_the_plan, 15, late_min={("a", "lid"): -9})
    assert sooner.begun["a", "lid"].end_min == 1
    with pytest.raises(Unreadable, match=r"a/lid begins at .* and cannot end at"):
        as_planned(problem, by_the_plan, 15, late_min={("a", "lid"): -10})


def test_nobody_rests_while_something_keeps_her():
    problem = two(jars("a"), jars("b"))
    rest = PlacedBreak(person="Ada", start_min=30, end_min=50)
    by_the_plan = Timetable(
        steps=(placed("a", "lid", 20, 30), placed("b", "lid", 50, 60)),
        loads=(),
        breaks=(rest,),
    )
    assert as_planned(problem, by_the_plan, 40).breaks == (rest,)
    late = as_planned(problem, by_the_plan, 40, late_min={("a", "lid"): 5})
    assert late.breaks == ()


@pytest.mark.parametrize(("has", "asked", "begun"), [(4, 1, True), (3, 1, False)])
def test_who_has_less_to_give_begins_less_beside_what_runs_on(
    has: int, asked: int, begun: bool
) -> None:
    """She minds a baby: three quarters at the mill leave her none for anything else."""
    problem = day(
        work("a", step("mill", 20, 3)),
        work("b", step("wash", 5, asked)),
        people=(person("Ada", quarters=has),),
    )
    told = plan(placed("a", "mill", 0, 20), placed("b", "wash", 25, 30, quarters=asked))
    found = as_planned(problem, told, 40, late_min={("a", "mill"): 30})
    assert (("b", "wash") in found.begun) is begun


def test_a_rest_is_had_by_who_has_less_to_give() -> None:
    """A rest takes all that she has, and she has all of it."""
    rest = PlacedBreak(person="Ada", start_min=25, end_min=35)
    problem = day(work("a", step("mill", 20, 3)), people=(person("Ada", quarters=3),))
    told = Timetable(steps=(placed("a", "mill", 0, 20),), loads=(), breaks=(rest,))
    assert as_planned(problem, told, 40).breaks == (rest,)
    # a break that was to begin this minute has not begun
    assert as_planned(problem, told, rest.start_min).breaks == ()
    assert as_planned(problem, told, rest.start_min + 1).breaks == (rest,)


@pytest.mark.parametrize(
    ("late", "said"),
    [
        (("c", "boil"), 'the plan has no batch "c"; it has: a, b'),
        (("a", "fry"), 'the plan has no step "a/fry"; of a it has: boil'),
    ],
)
def test_what_is_not_in_the_plan_is_named_as_what_it_is(late, said):
    """Batches were listed as the steps that there are."""
    problem = day(work("a", step("boil", 5, 3)), work("b", step("boil", 5, 3)))
    steps = (placed("a", "boil", 0, 5), placed("b", "boil", 5, 10))
    plan = Timetable(steps=steps, loads=(), breaks=())
    with pytest.raises(Unreadable) as no:
        as_planned(problem, plan, 20, late_min={late: 5})
    assert said in str(no.value)
