"""A burner that is taken, in a day that has begun: what is on it is ended first."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import canner, day
from planning.written_out import LID, at, closed, fire, load

from stillroom.planning.begun.burners_left import burners_left, was_taken
from stillroom.planning.begun.put_off import put_off
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad, Timetable


def taken(problem: Problem, burner: str, *spans: tuple[int, int]) -> Problem:
    burners = tuple(
        replace(b, taken=spans) if b.id == burner else b for b in problem.burners
    )
    return replace(problem, burners=burners)


@pytest.mark.parametrize(
    ("now", "until", "left"),
    [
        (25, 28, ((30, 40), (60, 70))),
        (25, 30, ((30, 40), (60, 70))),
        (25, 32, ((32, 40), (60, 70))),  # the pot is on it for two minutes of supper
        (25, 40, ((60, 70),)),  # and for all of it
        (25, 65, ((65, 70),)),
        (35, 34, ((30, 40), (60, 70))),  # that was over, and is nobody's concern now
        (50, 36, ((30, 40), (60, 70))),
    ],
)
def test_a_pot_that_boils_is_ended_first(now: int, until: int, left: tuple) -> None:
    problem = taken(day(fire("a", 1000.0)), "weak-1", (30, 40), (60, 70))
    boil = at("a", "burn", 20, until, burner="weak-1")
    happened = Happened(now_min=now, steps=(boil,), loads=())
    burners = {b.id: b.taken for b in burners_left(problem, happened)}
    assert burners.pop("weak-1") == left
    assert not any(burners.values())
    beside = replace(happened, steps=(replace(boil, burner="weak-2"),))
    assert burners_left(problem, beside) == problem.burners


def in_canner(now: int, one: PlacedLoad) -> Happened:
    return Happened(now_min=now, steps=(LID,), loads=(one,))


def test_a_canner_ends_its_process_first_on_both_of_its_burners() -> None:
    # lowered at 30, its process ends at 56 and its jars are out at 65
    wide = canner(burners=("strong-1", "middle-1"))
    for burner in wide.burners:
        problem = taken(day(closed(), canners=(wide,)), burner, (50, 90))
        for now, left in ((40, ((56, 90),)), (60, ((60, 90),)), (65, ((50, 90),))):
            found = burners_left(problem, in_canner(now, load()))
            assert {b.id: b.taken for b in found}[burner] == left


@pytest.mark.parametrize(
    ("since", "until", "was"),
    [(0, 30, False), (0, 31, True), (39, 60, True), (40, 60, False)],
)
def test_a_canner_had_to_leave_its_burner(since: int, until: int, was: bool) -> None:
    problem = taken(day(closed()), "strong-1", (30, 40))
    (one,) = problem.canners
    assert was_taken(problem, one, since, until) == was
    assert not was_taken(taken(day(closed()), "weak-1", (30, 40)), one, 0, 90)


@pytest.mark.parametrize(("over", "begins"), [(20, 20), (22, 40), (35, 40), (45, 45)])
def test_the_old_order_put_off_keeps_off_it(over: int, begins: int) -> None:
    """Ten minutes on it after the pot before: not from 21 on, supper is from 30."""
    problem = taken(day(fire("a", 1000.0), fire("b", 1000.0)), "weak-1", (30, 40))
    old = Timetable(
        steps=(
            at("a", "burn", 5, 15, burner="weak-1"),
            at("b", "burn", 15, 25, burner="weak-1"),
        ),
        loads=(),
        breaks=(),
    )
    slow = at("a", "burn", 5, over, burner="weak-1")
    later = put_off(problem, old, Happened(now_min=12, steps=(slow,), loads=()))
    assert later.start["b", "burn"] == begins


def test_the_old_order_lifts_jars_out_though_their_burner_is_taken() -> None:
    """Out at 65 by the plan, and the burner somebody else's from 60: nobody waits."""
    problem = taken(day(closed()), "strong-1", (60, 90))
    old = Timetable(steps=(LID,), loads=(load(),), breaks=())
    later = put_off(problem, old, in_canner(50, load()))
    assert later.start["L1", "lift"] == 61
