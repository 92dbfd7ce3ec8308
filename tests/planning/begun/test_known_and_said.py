"""The day up to now, on days written out by hand: what was said, and what follows."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day, step, work
from planning.written_out import LID, at, batch, closed, labour, load

from stillroom.methods.step import Link
from stillroom.planning.begun.as_known import Known, Said, as_known
from stillroom.planning.begun.over import SeenLoad
from stillroom.planning.timetable import PlacedLoad, Timetable

IN = day(closed("a"))
PLAN = Timetable(steps=(LID,), loads=(load(30),), breaks=())
SLOW = day(work("a", step("cook", 25, 1)))
COOK = at("a", "cook", 0, 25, "p1", quarters=1)


def only_load(now: int, **seen) -> PlacedLoad:
    said = Said(loads={"L1": SeenLoad(**seen)})
    (one,) = as_known(IN, PLAN, now, said).happened.loads
    return one


def cooking(now: int, **said) -> Known:
    plan = Timetable(steps=(COOK,), loads=(), breaks=())
    return as_known(SLOW, plan, now, Said(**said))


def test_a_load_rests_its_minutes_before_it_is_lifted() -> None:
    """At the boil since 46: done at 56, and five minutes of rest, whatever is now."""
    assert only_load(58, boil_min=46).lift_min == 61
    assert only_load(70, boil_min=46).lift_min == 70


def test_a_load_whose_boil_was_lost_is_in_its_canner_however_early_it_is() -> None:
    """It was to be lowered at 30 only; at 20 somebody says that it lost its boil."""
    one = only_load(20, lost=True)
    assert one.lower_min == 19
    assert one.boil_min >= 20


def test_a_canner_holds_one_load() -> None:
    """The second went in before its turn: the first, which nobody saw, waits."""
    first, second = load(30), load(70, id="L2", jars=(("c", 5),))
    plan = Timetable(
        steps=(LID, at("c", "lid", 20, 25)), loads=(first, second), breaks=()
    )
    said = Said(loads={"L2": SeenLoad(boil_min=46)})
    known = as_known(day(closed("a"), closed("c")), plan, 60, said)
    assert [one.id for one in known.happened.loads] == ["L2"]


def test_what_was_said_begun_ends_its_minutes_later_and_was_said() -> None:
    known = cooking(20, began_min={("a", "cook"): 10})
    (cook,) = known.happened.steps
    assert (cook.start_min, cook.end_min) == (10, 35)
    assert ("a", "cook") not in known.by_plan


def test_what_was_begun_is_over_once_what_follows_it_is_done() -> None:
    """Jars were put into hot water at 10 and filled by 30: at 90 that is over."""
    heat, fill = step("heat", 15, 0), step("fill", 5, 1)
    problem = day(work("a", heat, fill, links=(Link(before="heat", after="fill"),)))
    steps = (at("a", "heat", 5, 20), at("a", "fill", 20, 25, "p1", quarters=1))
    plan = Timetable(steps=steps, loads=(), breaks=())
    said = Said(began_min={("a", "heat"): 10}, ended_min={("a", "fill"): 30})
    hot, full = as_known(problem, plan, 90, said).happened.steps
    assert (hot.start_min, hot.end_min) == (10, full.start_min)
    # unless she says that it is not
    runs = replace(said, more_min={("a", "heat"): 5})
    assert as_known(problem, plan, 90, runs).happened.steps[0].end_min == 95


def test_what_nobody_calls_over_runs_on() -> None:
    (cook,) = cooking(30, not_over=[("a", "cook")]).happened.steps
    assert (cook.start_min, cook.end_min) == (0, 31)


def test_nobody_is_thought_to_do_what_she_has_no_hands_for() -> None:
    """She began the third before the second: that has not begun."""
    problem = day(*(batch(name, labour(20)) for name in "abc"))
    plan = Timetable(
        steps=tuple(
            at(name, "do", start, start + 20, "p1")
            for name, start in (("a", 0), ("b", 20), ("c", 40))
        ),
        loads=(),
        breaks=(),
    )
    begun = as_known(problem, plan, 30, Said(began_min={("c", "do"): 25}))
    assert {batch for batch, _ in begun.happened.begun} == {"a", "c"}


JAM = day(
    work(
        "a",
        step("wash", 5, 3),
        step("boil", 20, 3),
        step("fill", 5, 3),
        links=(
            Link(before="wash", after="boil", at_least_min=5, at_most_min=60),
            Link(before="wash", after="fill", at_most_min=60),
            Link(before="boil", after="fill", at_most_min=2),
        ),
    )
)
JAM_PLAN = Timetable(
    steps=(
        at("a", "wash", 20, 25, "p1"),
        at("a", "boil", 40, 60, "p1"),
        at("a", "fill", 60, 65, "p1"),
    ),
    loads=(),
    breaks=(),
)


def of_the_jam(now: int, **said: dict[tuple[str, str], int]) -> dict[str, int]:
    """When each step of it was over, as far as that is known or taken for it."""
    known = as_known(JAM, JAM_PLAN, now, Said(**said))  # type: ignore[arg-type]
    return {s.step: s.end_min for s in known.happened.steps}


@pytest.mark.parametrize(
    ("filled", "boiled", "washed"),
    [
        (65, 60, 25),  # as planned
        (67, 60, 25),  # two minutes later: it may wait them
        (85, 78, 25),  # filled from 80, so off the fire at 78
        (100, 93, 35),  # from 95: jars washed at 35 have waited an hour
        (50, 45, 20),  # and sooner than planned
    ],
)
def test_what_nobody_said_waited_no_longer_than_it_may(
    filled: int, boiled: int, washed: int
) -> None:
    ended = {("a", "fill"): filled}
    assert of_the_jam(120, ended_min=ended) == {
        "wash": washed,
        "boil": boiled,
        "fill": filled,
    }
    began = {("a", "fill"): filled - 5}
    assert of_the_jam(filled, began_min=began)["boil"] == boiled


def test_what_was_said_to_have_waited_waited() -> None:
    ended = {("a", "boil"): 60, ("a", "fill"): 85}
    assert of_the_jam(120, ended_min=ended) == {"wash": 25, "boil": 60, "fill": 85}


def test_what_comes_at_once_after_came_at_once() -> None:
    """Skimmed at 8:40 where the plan has 8:20: it boiled until 8:38."""
    problem = day(
        work(
            "a",
            step("boil", 10, 3),
            step("skim", 2, 3),
            links=(Link(before="boil", after="skim", at_most_min=0),),
        )
    )
    steps = (at("a", "boil", 8, 18, "p1"), at("a", "skim", 18, 20, "p1"))
    plan = Timetable(steps=steps, loads=(), breaks=())
    known = as_known(problem, plan, 60, Said(ended_min={("a", "skim"): 40}))
    assert known.happened.begun["a", "boil"].end_min == 38


def test_what_was_said_begun_and_is_over_began_when_it_was_said() -> None:
    """Boiled from 8:40, and filled from 8:45: five minutes were enough that day."""
    said = Said(began_min={("a", "boil"): 40}, ended_min={("a", "fill"): 50})
    boil = as_known(JAM, JAM_PLAN, 60, said).happened.begun["a", "boil"]
    assert (boil.start_min, boil.end_min) == (40, 45)
