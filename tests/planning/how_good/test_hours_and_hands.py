"""What is said of the hours of a plan, and hands that are full; days written out."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace

import pytest
from planning.small_days import canner, day, person, step, work
from planning.written_out import LID, at, batch, closed, fire, labour, load

from stillroom.planning.how_good.by_the_hour import by_the_hour, off_its_fire
from stillroom.planning.how_good.other_hands import _lift_starts, in_calmer_hands
from stillroom.planning.how_good.who_does import WhoDoes
from stillroom.planning.timetable import Timetable


def table(*steps, loads=(), breaks=()) -> Timetable:
    return Timetable(steps=steps, loads=tuple(loads), breaks=tuple(breaks))


def texts(cautions) -> list[str]:
    return [caution.text for caution in cautions]


# --- hours ---------------------------------------------------------------------------


def test_a_canner_is_lifted_off_only_a_fire_that_it_has_stood_on() -> None:
    """It is lit at 30: what burnt there before has nothing to do with it."""
    problem = day(closed("a"), fire("b", 900.0))
    one = load(60)
    for start, told in ((10, 0), (100, 1)):
        burns = at("b", "burn", start, start + 10, burner="strong-1")
        said = texts(off_its_fire(problem, table(LID, burns, loads=[one])))
        assert len(said) == told
    assert said[0].startswith(
        "by 9:40 the canner is off the burner strong-1, which b needs:"
    )


def test_canners_that_come_off_their_fires_are_told_by_the_clock() -> None:
    canners = (canner("north"), canner("south", burners=("weak-1",)))
    problem = day(closed("a"), fire("b", 900.0), fire("c", 900.0), canners=canners)
    plan = table(
        at("b", "burn", 120, 130, burner="strong-1"),
        at("c", "burn", 100, 110, burner="weak-1"),
        loads=[load(60, canner="north"), load(60, id="L2", canner="south")],
    )
    said = texts(off_its_fire(problem, plan))
    assert [words.split(" is off")[0] for words in said] == [
        "by 9:40 the south",
        "by 10:00 the north",
    ]


@pytest.mark.parametrize(
    ("hour", "told"),
    [(10, "10 min after 10:00"), (11, ""), (8, "2 h 10 min after 8:00")],
)
def test_a_plan_that_ends_after_her_hour_says_by_how_much(hour: int, told: str) -> None:
    asked = SimpleNamespace(done_by=dt.time(hour, 0))
    plan = table(at("a", "do", 120, 130, "p1"))
    said = texts(by_the_hour(asked, day(batch("a", labour())), plan))
    assert [words for words in said if "the plan ends" in words] == (
        [f"the plan ends {told}, the hour you named"] if told else []
    )


# --- hands ---------------------------------------------------------------------------


@pytest.mark.parametrize(("quarters", "leaves", "has"), [
    (4, 30, True), (3, 30, False), (4, 29, False),
])  # fmt: skip
def test_nobody_has_more_hands_or_hours_than_she_has(
    quarters: int, leaves: int, has: bool
) -> None:
    """Two things at once that ask for two quarters each, from 10 to 30."""
    who = person("p1", quarters=quarters, leaves_min=leaves)
    problem = day(
        batch("a", labour(20, quarters=2)), batch("b", labour(20, 2)), people=(who,)
    )
    both = (at(name, "do", 10, 30, "p1", quarters=2) for name in "ab")
    assert WhoDoes(problem, table(*both)).has_hands("p1") == has


BOIL = step("boil", 10, 4, critical=True)


@pytest.mark.parametrize(("tidies", "lifted"), [(65, 61), (80, 63)])
def test_a_lift_is_put_off_only_as_far_as_there_are_hands_for_it(
    tidies: int, lifted: int
) -> None:
    """The boil is over at 60 and the lift is at 61: two minutes later is calmer."""
    problem = day(closed("a"), work("b", BOIL, step("tidy", 10, 3)))
    plan = table(
        LID,
        at("b", "boil", 50, 60, "p1", quarters=4),
        at("b", "tidy", tidies, tidies + 10, "p1"),
        loads=[load(30)],
    )
    assert in_calmer_hands(problem, plan).loads[0].lift_min == lifted


def test_a_load_is_out_before_the_water_is_warmed_for_the_next() -> None:
    problem = day(closed("a"), closed("c"))
    one = load(30)
    after = load(100, id="L2", jars=(("c", 5),))
    assert _lift_starts(problem, table(loads=[one]), one) == range(61, 72)
    plan = table(loads=[one, replace(after, heat_min=70)])
    assert _lift_starts(problem, plan, one) == range(61, 67)
    hot = replace(after, hot=True, lower_min=72, heat_min=72)
    assert _lift_starts(problem, table(loads=[one, hot]), one) == range(61, 69)
