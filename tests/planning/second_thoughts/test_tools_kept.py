"""Pots and fires of the rest of a day keep their names, wherever they can."""

from __future__ import annotations

from planning.small_days import day, step, work
from planning.written_out import at, fire

from stillroom.methods.step import Link
from stillroom.planning.begun.residual import residual_of
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Pot
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
