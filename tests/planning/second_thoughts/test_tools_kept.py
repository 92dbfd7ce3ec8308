"""Pots and fires of the rest of a day keep their names, wherever they can."""

from __future__ import annotations

import pytest
from planning.small_days import day, step, work
from planning.written_out import at, fire

from stillroom.methods.step import Link
from stillroom.planning.begun.residual import residual_of
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Pot, Problem
from stillroom.planning.second_thoughts.tools_kept import with_tools_kept
from stillroom.planning.timetable import PlacedStep, Timetable


def table(*steps: PlacedStep) -> Timetable:
    return Timetable(steps=steps, loads=(), breaks=())


def test_what_has_not_begun_is_on_the_fire_that_it_was_to_be_on() -> None:
    residual = residual_of(
        day(fire("a", 900.0)), Happened(now_min=5, steps=(), loads=())
    )
    rest = table(at("a", "burn", 10, 20, burner="weak-1"))
    old = table(at("a", "burn", 10, 20, burner="weak-2"))
    (burn,) = with_tools_kept(residual, rest, old, 5).steps
    assert burn.burner == "weak-2"


def test_a_pot_that_goes_on_at_this_minute_stays_where_it_stands() -> None:
    """Its first fire ends now: moved to the other one it would be off for a minute."""
    pan = {"in_pot": True, "burner_w": 900.0}
    cooks = work(
        "a",
        step("boil", 20, 0, **pan),
        step("simmer", 10, 0, **pan),
        links=(Link(before="boil", after="simmer"),),
        pots=("small",),
    )
    boil = at("a", "boil", 0, 20, burner="weak-2", pot="small-1")
    simmer = at("a", "simmer", 20, 30, burner="weak-1", pot="small-1")
    happened = Happened(now_min=20, steps=(boil,), loads=())
    residual = residual_of(day(cooks), happened)
    named = with_tools_kept(residual, table(simmer), table(boil, simmer), 20)
    assert [s.burner for s in named.steps] == ["weak-2"]


def pot_of(
    old: dict[str, str], rest: dict[str, tuple[int, int, str]], held: str = ""
) -> dict[str, str | None]:
    """Pots of batches of one step each, named again at 10; one stands held till 40."""
    cook = step("cook", 30, 0, in_pot=True)
    names = {*old, *rest}
    batches = [work(n, cook, pots=("big",)) for n in sorted(names)]
    problem = day(*batches, big_pots=3)
    begun = [at(held, "cook", 5, 40, pot=rest[held][2])] if held else []
    happened = Happened(now_min=10, steps=tuple(begun), loads=())
    residual = residual_of(problem, happened)
    to_come = (at(n, "cook", a, b, pot=pot) for n, (a, b, pot) in rest.items())
    was = (at(n, "cook", 50, 80, pot=pot) for n, pot in old.items())
    named = with_tools_kept(residual, table(*to_come), table(*was), 10)
    return {s.batch: s.pot for s in named.steps}


def test_a_batch_is_in_the_pot_that_it_was_to_be_in() -> None:
    old = {"a": "big-3", "b": "big-1"}
    rest = {"a": (20, 50, "big-1"), "b": (30, 60, "big-2")}
    assert pot_of(old, rest) == old
    # one after the other they have one pot, if that is what they were to have
    both = {"a": "big-2", "b": "big-2"}
    assert pot_of(both, {"a": (20, 50, "big-1"), "b": (50, 80, "big-3")}) == both


def test_a_pot_that_is_not_free_goes_to_who_begins_first() -> None:
    """b has its pot from 49, a minute before a is out of it: the one free longest."""
    both = {"a": "big-2", "b": "big-2"}
    found = pot_of(both, {"a": (20, 50, "big-1"), "b": (49, 79, "big-1")})
    assert found == {"a": "big-2", "b": "big-1"}


def test_what_stands_in_a_pot_keeps_it_and_others_go_elsewhere() -> None:
    old = {"a": "big-2", "b": "big-1"}
    rest = {"a": (10, 40, "big-1"), "b": (20, 50, "big-2")}
    assert pot_of(old, rest, held="a") == {"a": "big-1", "b": "big-2"}
    later = {"a": (10, 40, "big-1"), "b": (40, 70, "big-2")}
    assert pot_of(old, later, held="a") == {"a": "big-1", "b": "big-1"}


def test_a_batch_is_on_the_mill_that_it_was_to_be_on() -> None:
    mill = step("mill", 20, 0, on_mill=True)
    problem = day(work("a", mill), work("b", mill), mills=2)
    residual = residual_of(problem, Happened(now_min=5, steps=(), loads=()))
    old = table(at("a", "mill", 10, 30, mill=2), at("b", "mill", 10, 30, mill=1))
    rest = table(at("a", "mill", 10, 30, mill=1), at("b", "mill", 20, 40, mill=2))
    named = with_tools_kept(residual, rest, old, 5)
    assert [s.mill for s in named.steps] == [2, 1]


def test_fires_of_one_pot_without_a_pause_stay_on_one_burner() -> None:
    """Boiled to 20 on weak-2 as planned, and so simmered there, though not planned."""
    pan = {"in_pot": True, "burner_w": 900.0}
    cooks = work("a", step("boil", 10, 0, **pan), step("melt", 10, 0, **pan))
    residual = residual_of(day(cooks), Happened(now_min=5, steps=(), loads=()))
    old = table(
        at("a", "boil", 10, 20, burner="weak-2"),
        at("a", "melt", 25, 35, burner="weak-1"),
    )
    for melted, burners in ((20, ["weak-2", "weak-2"]), (21, ["weak-2", "weak-1"])):
        rest = table(
            at("a", "boil", 10, 20, burner="weak-1"),
            at("a", "melt", melted, melted + 10, burner="weak-1"),
        )
        named = with_tools_kept(residual, rest, old, 5)
        assert [s.burner for s in named.steps] == burners


FIRE, PAN = {"burner_w": 900.0}, {"in_pot": True, "burner_w": 900.0}


def fires(
    problem: Problem,
    rest: dict[tuple[str, str], tuple[int, int]],
    old: dict[tuple[str, str], str],
    *begun: PlacedStep,
    now: int = 5,
) -> list[str | None]:
    """Burners of what is to come, in that order, where all of it had another name."""
    happened = Happened(now_min=now, steps=begun, loads=())
    residual = residual_of(problem, happened)
    to_come = (at(*key, *span, burner="weak-1") for key, span in rest.items())
    was = (at(*key, 0, 10, burner=name) for key, name in old.items())
    named = with_tools_kept(residual, table(*to_come), table(*was), now)
    return [s.burner for s in named.steps]


A, B = ("a", "burn"), ("b", "burn")


@pytest.mark.parametrize(
    ("second", "burners"),
    [((30, 50), ["weak-2", "weak-2"]), ((29, 49), ["weak-2", "weak-1"])],
)
def test_of_two_that_were_to_have_one_fire_the_first_has_it(
    second: tuple[int, int], burners: list[str]
) -> None:
    two = day(fire("a", 900.0), fire("b", 900.0))
    old = {A: "weak-2", B: "weak-2"}
    assert fires(two, {A: (10, 30), B: second}, old) == burners


def test_a_pot_holds_its_fire_from_its_first_step_there_to_its_last() -> None:
    """Boiled from 10 and melted to 30: nothing else is on that fire in between."""
    cooks = work("a", step("boil", 10, 0, **PAN), step("melt", 10, 0, **PAN))
    pot = {("a", "boil"): (10, 20), ("a", "melt"): (20, 30)}
    old = {("a", "boil"): "weak-2", ("a", "melt"): "weak-1", B: "weak-2"}
    both = day(cooks, fire("b", 900.0))
    for span, burner in (
        ((12, 18), "weak-1"),
        ((22, 28), "weak-1"),
        ((30, 40), "weak-2"),
    ):
        found = fires(both, {**pot, B: span}, old)
        assert found == ["weak-2", "weak-2", burner]


def test_three_steps_on_end_are_on_one_fire() -> None:
    names = ("boil", "melt", "stir")
    cooks = work("a", *(step(name, 10, 0, **PAN) for name in names))
    rest = {("a", name): (10 * n, 10 * n + 10) for n, name in enumerate(names, 1)}
    old = {("a", "boil"): "weak-2", ("a", "melt"): "weak-1", ("a", "stir"): "weak-1"}
    assert fires(day(cooks), rest, old) == ["weak-2"] * 3


def test_what_is_in_another_pot_or_in_none_is_on_a_fire_of_its_own() -> None:
    """Its jars are heated beside the pot, and b is in a pot of its own."""
    boil, jars = step("burn", 10, 0, **PAN), step("jars", 10, 0, **FIRE)
    problem = day(work("a", boil, jars), work("b", boil))
    old = {A: "weak-2", ("a", "jars"): "weak-1", B: "weak-1"}
    after = {A: (10, 20), ("a", "jars"): (20, 30)}
    assert fires(problem, after, old) == ["weak-2", "weak-1"]
    before = {("a", "jars"): (10, 20), A: (20, 30)}
    assert fires(problem, before, old) == ["weak-1", "weak-2"]
    assert fires(problem, {A: (10, 20), B: (20, 30)}, old) == ["weak-2", "weak-1"]


def test_what_burns_now_stays_where_it_burns() -> None:
    """It was begun on weak-1, though it was to be on weak-2."""
    problem = day(fire("a", 900.0, 20), fire("b", 900.0))
    runs = at("a", "burn", 0, 20, burner="weak-1")
    old = {A: "weak-2", B: "weak-1"}
    rest = {A: (10, 20), B: (15, 25)}
    assert fires(problem, rest, old, runs, now=10) == ["weak-1", "weak-2"]


def test_jars_that_are_heated_as_the_pot_comes_off_are_not_on_its_fire() -> None:
    boil, jars = step("burn", 20, 0, **PAN), step("jars", 10, 0, **FIRE)
    boiled = at("a", "burn", 0, 20, burner="weak-2", pot="small-1")
    problem = day(work("a", boil, jars, pots=("small",)))
    rest, old = {("a", "jars"): (20, 30)}, {("a", "jars"): "weak-1"}
    assert fires(problem, rest, old, boiled, now=20) == ["weak-1"]


def test_a_mill_is_held_until_it_is_washed() -> None:
    """Milled and washed by 25: b, from 22 on, has the other mill."""
    two = step("mill", 10, 0, on_mill=True), step("wash", 5, 0, on_mill=True)
    problem = day(work("a", *two), work("b", *two), mills=2)
    residual = residual_of(problem, Happened(now_min=5, steps=(), loads=()))
    old = table(at("a", "mill", 10, 20, mill=2), at("b", "mill", 30, 40, mill=2))
    for start, mill in ((22, 1), (25, 2)):
        rest = table(
            at("a", "mill", 10, 20, mill=1),
            at("a", "wash", 20, 25, mill=1),
            at("b", "mill", start, start + 10, mill=2),
        )
        named = with_tools_kept(residual, rest, old, 5)
        assert [s.mill for s in named.steps] == [2, 2, mill]


def test_a_pot_is_held_from_the_first_step_in_it() -> None:
    """a is cut on the board from 10 and in its pot from 20: b has it until then."""
    cut, cook = step("cut", 10, 0), step("cook", 10, 0, in_pot=True)
    problem = day(*(work(n, cut, cook, pots=("big",)) for n in "ab"), big_pots=2)
    residual = residual_of(problem, Happened(now_min=5, steps=(), loads=()))
    rest = table(
        at("a", "cut", 10, 20),
        at("a", "cook", 20, 30, pot="big-1"),
        at("b", "cook", 10, 20, pot="big-1"),
    )
    old = table(*(at(n, "cook", 50, 60, pot="big-2") for n in "ab"))
    named = with_tools_kept(residual, rest, old, 5)
    assert [s.pot for s in named.steps] == [None, "big-2", "big-2"]


def test_pots_that_are_all_one_go_to_the_batches_in_their_order() -> None:
    """Not in whatever order a process has its words: the same plan on every run."""
    names = [f"batch {n}" for n in range(8)]
    pots = tuple(Pot(id=f"pot {n}", size="small") for n in range(8))
    works = (work(n, step("stir", 20, 0, in_pot=True), pots=("small",)) for n in names)
    begun = Happened(now_min=0, steps=(), loads=())
    residual = residual_of(day(*works, pots=pots), begun)
    rest = table(*(at(n, "stir", 10, 30, pot="pot 0") for n in names))
    given = [s.pot for s in with_tools_kept(residual, rest, table(), 0).steps]
    assert given == [pot.id for pot in pots]
