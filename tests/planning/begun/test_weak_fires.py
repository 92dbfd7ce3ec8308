"""What boils on a fire that is too weak for it stays there, and nothing else does."""

from __future__ import annotations

from typing import Any

import pytest
from planning.small_days import day, jelly, step, work
from planning.written_out import at

from stillroom.methods.step import Link
from stillroom.planning.begun.weak_fires import borne_by_their_fires
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Problem

BOILING = ("boil", "full_boil", "hard_boil")


def asked(
    problem: Problem, now: int, step: str, ends: int, burner: str, batch: str = "a"
) -> dict[str, float]:
    """Watts that each step of the first batch asks for, with one of them begun."""
    begun = at(batch, step, 0, ends, burner=burner)
    happened = Happened(now_min=now, steps=(begun,), loads=())
    eased = borne_by_their_fires(problem, happened).problem
    return {s.id: s.burner_w for s in eased.batches[0].steps if s.burner_w}


def test_what_goes_on_without_a_pause_is_asked_of_the_fire_that_it_is_on() -> None:
    """A boil of 2000 W on a fire of 1000; jars are heated on another."""
    eased = asked(day(jelly("a")), 5, "boil", 12, "weak-1")
    assert eased == {**dict.fromkeys(BOILING, 1000.0), "heat_jars": 1000.0}
    begun = at("a", "boil", 0, 12, burner="weak-1")
    happened = Happened(now_min=5, steps=(begun,), loads=())
    stays = borne_by_their_fires(day(jelly("a")), happened).stays_on
    # skimmed off the fire in the same pot, at once as well
    assert stays == {("a", step): "weak-1" for step in (*BOILING, "skim")}


def test_what_was_before_it_is_as_it_was() -> None:
    eased = asked(day(jelly("a")), 5, "full_boil", 7, "weak-1")
    assert (eased["boil"], eased["full_boil"], eased["hard_boil"]) == (2000, 1000, 1000)


@pytest.mark.parametrize(("now", "watts"), [(12, 1000.0), (13, 2000.0)])
def test_a_pot_that_stood_off_its_fire_is_put_on_a_strong_one(
    now: int, watts: float
) -> None:
    """The boil ended at 8:12: that very minute the pot stands there still."""
    assert asked(day(jelly("a")), now, "boil", 12, "weak-1")["full_boil"] == watts


def test_after_a_pause_or_out_of_its_pot_it_may_stand_elsewhere() -> None:
    """Of what follows the boil at once, the pan alone is bound to its fire."""
    pan: dict[str, Any] = {"burner_w": 2000.0, "in_pot": True}
    steps = (
        step("boil", 12, 2, **pan),
        step("at_once", 5, 2, **pan),
        step("soon", 5, 2, **pan),
        step("beside", 5, 2, burner_w=2000.0),
        step("else", 5, 2, **pan),
        step("elsewhere", 5, 2, **pan),
    )
    links = (
        Link(before="boil", after="at_once", at_most_min=0),
        Link(before="boil", after="soon", at_most_min=5),
        Link(before="boil", after="beside", at_most_min=0),
        Link(before="else", after="elsewhere", at_most_min=0),
    )
    eased = asked(day(work("a", *steps, links=links)), 5, "boil", 12, "weak-1")
    assert {name for name, watts in eased.items() if watts < 2000} == {
        "boil",
        "at_once",
    }


def test_a_strong_fire_eases_nothing() -> None:
    for burner in ("middle-1", "strong-1"):
        assert asked(day(jelly("a")), 5, "boil", 12, burner)["hard_boil"] == 2000.0


def test_another_batch_asks_for_what_it_did() -> None:
    problem = day(jelly("b"), jelly("a"))
    assert asked(problem, 5, "boil", 12, "weak-1")["boil"] == 2000.0
