"""Pots and fires of the rest of a day keep their names, wherever they can."""

from __future__ import annotations

from planning.small_days import day, step, work
from planning.written_out import at, fire

from stillroom.methods.step import Link
from stillroom.planning.begun.residual import residual_of
from stillroom.planning.happened import Happened
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
