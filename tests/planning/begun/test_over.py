"""Loads whose jars all broke or were given up free their canner, and no sooner."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import canner, day
from planning.written_out import LID, at, closed, load

from stillroom.planning.begun.as_known import Said, as_known
from stillroom.planning.begun.over import SeenLoad
from stillroom.planning.judge.check_replan import replan_breaches
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.timetable import PlacedLoad, Timetable

SLOW = 40
"""So long this canner takes to lose its pressure; invented. [min]"""
TWO = day(closed("a"), closed("b"), canners=(canner(rest_min=SLOW),))
FIRST = load(30, lift_min=56 + SLOW, out_min=60 + SLOW)
SECOND = load(
    84 + SLOW,
    id="L2",
    jars=(("b", 5),),
    heat_min=64 + SLOW,
    lift_min=110 + 2 * SLOW,
    out_min=114 + 2 * SLOW,
)
LIDS = (LID, at("b", "lid", 60 + SLOW, 64 + SLOW, "p1"))
PLAN = Timetable(steps=LIDS, loads=(FIRST, SECOND), breaks=())
NOW = 50


def known(seen: dict[str, SeenLoad], now: int = NOW):
    return as_known(TWO, PLAN, now, Said(loads=seen)).happened


def first(**seen) -> PlacedLoad:
    return next(x for x in known({"L1": SeenLoad(**seen)}).loads if x.id == "L1")


def test_the_canner_is_free_since_the_glass_is_out() -> None:
    """At the boil since 46, out at 48: its ten minutes and its rest are not kept."""
    one = first(boil_min=46, lifted_min=48, is_over=True)
    assert (one.boil_min, one.out_min, one.stands_until_min) == (46, 48, 48)
    assert one.is_cut_short


def test_a_load_that_never_boiled_and_is_cleared_out_holds_nothing() -> None:
    """The plan went on to have it lowered, boiled and lifted."""
    one = first(lifted_min=45, lost=True, is_over=True)
    assert {one.lower_min, one.boil_min, one.out_min, one.fire_free_min} == {45}


def test_a_load_that_was_given_up_is_opened_after_its_rest_and_no_sooner() -> None:
    """Nobody said that it is out: it may stand under pressure, with the fire off."""
    one = first(lost=True, is_over=True)
    assert one.done_min == one.fire_free_min == NOW - 1
    assert one.lift_min == NOW - 1 + SLOW
    assert one.out_min == one.lift_min + 4


def test_what_was_given_up_was_out_before_another_load_went_in() -> None:
    seen = {"L1": SeenLoad(is_over=True, lost=True), "L2": SeenLoad(boil_min=48)}
    loads = {one.id: one for one in known(seen).loads}
    assert loads["L1"].out_min == loads["L2"].lower_min


@pytest.mark.parametrize(
    ("seen", "free"),
    [
        (SeenLoad(boil_min=46, lifted_min=48, is_over=True), 48),
        (SeenLoad(lifted_min=45, lost=True, is_over=True), 45),
        (SeenLoad(lost=True, is_over=True), NOW - 1 + SLOW + 4),
    ],
)
def test_the_next_load_goes_in_as_soon_as_that_and_in_no_hot_water(seen, free) -> None:
    """Twenty minutes of heating lie between; it had those of the first before it."""
    plan = replace(PLAN, steps=(LID, at("b", "lid", 50, 54, "p1")))
    asked = as_known(TWO, plan, NOW, Said(loads={"L1": seen})).happened
    found = replan(TWO, plan, asked, seconds=1.5)
    second = next(x for x in found.new.loads if x.id == "L2")
    assert not second.hot
    assert second.heat_min >= free
    assert free + 20 <= second.lower_min <= max(free, NOW) + 30
    assert not replan_breaches(TWO, asked, found.new)
    # no jar of the first is planned once more
    assert sum(count for x in found.new.loads for b, count in x.jars if b == "a") == 5
