"""Longest waits and latest hours that give way: of what is to come, and of the past."""

from __future__ import annotations

from planning.small_days import day, step, work
from planning.written_out import at, closed, load

from stillroom.planning.happened import Happened
from stillroom.planning.judge.check_waits import (
    CLOSED,
    Limit,
    waits_over,
    waits_over_by_now,
    waits_were_over,
)
from stillroom.planning.problem import Link, Problem, Window
from stillroom.planning.timetable import PlacedLoad, PlacedStep, Timetable

WAIT, HOUR, JARS = ("a", "boil", "fill"), ("a", "", "fill"), ("a", CLOSED, "")
Over = dict[Limit, int]


def found(
    problem: Problem, now: int, *placed: PlacedStep | PlacedLoad
) -> tuple[Over, Over, Over]:
    """What is over to come, what was over, and what is by now; begun is what began."""
    steps = tuple(one for one in placed if isinstance(one, PlacedStep))
    loads = tuple(one for one in placed if isinstance(one, PlacedLoad))
    happened = Happened(
        now_min=now,
        steps=tuple(s for s in steps if s.start_min < now),
        loads=tuple(one for one in loads if one.lower_min < now),
    )
    plan = Timetable(steps=steps, loads=loads, breaks=())
    return (
        waits_over(problem, happened, plan),
        waits_were_over(problem, happened, plan),
        waits_over_by_now(problem, happened, plan),
    )


def boiled(**hours: int) -> Problem:
    """Boiled for 10, and filled at most 5 after that."""
    links = (Link(before="boil", after="fill", at_most_min=5),)
    windows = (Window(step="fill", earliest_min=0, **hours),) if hours else ()
    two = step("boil", 10, 0), step("fill", 4, 0)
    return day(work("a", *two, links=links, windows=windows))


def test_a_wait_is_over_by_what_is_to_come_and_by_now() -> None:
    """Boiled at 10 and so to be filled by 15; it is filled at 18."""
    boil, fill = at("a", "boil", 0, 10), at("a", "fill", 18, 22)
    assert found(boiled(), 12, boil, fill) == ({WAIT: 3}, {}, {})
    assert found(boiled(), 17, boil, fill) == ({WAIT: 3}, {}, {WAIT: 2})
    assert found(boiled(), 20, boil, fill) == ({}, {WAIT: 3}, {})


def test_of_two_to_come_nothing_is_over_by_now() -> None:
    boil, fill = at("a", "boil", 30, 40), at("a", "fill", 48, 52)
    assert found(boiled(), 5, boil, fill) == ({WAIT: 3}, {}, {})


def test_an_hour_is_over_by_what_is_to_come_and_by_now() -> None:
    """Filled at 45 where it is to begin by 40: at 42 two minutes are past already."""
    boil, fill = at("a", "boil", 32, 42), at("a", "fill", 45, 49)
    latest = boiled(latest_min=40)
    assert found(latest, 39, boil, fill) == ({HOUR: 5}, {}, {})
    assert found(latest, 42, boil, fill) == ({HOUR: 5}, {}, {HOUR: 2})
    assert found(latest, 46, boil, fill) == ({}, {HOUR: 5}, {})


def test_closed_jars_wait_at_most_so_long_for_the_last_load_with_some_of_them() -> None:
    """Closed at 5 and lowered by 25; a load of others tells nothing of them."""
    problem = day(closed("a"), closed("b"))
    lids = at("a", "lid", 0, 5), at("b", "lid", 50, 55)
    one = load(40, jars=(("a", 2), ("b", 1)))
    assert found(problem, 30, *lids, one)[0][JARS] == 15
    assert found(problem, 30, *lids, one)[2] == {JARS: 5}
    two = load(60, id="L2", jars=(("a", 3),))
    assert found(problem, 30, *lids, one, two)[0][JARS] == 35
    others = load(90, id="L3", jars=(("b", 5),))
    assert JARS not in found(problem, 30, *lids, others)[0]
    assert found(problem, 41, *lids, one)[1] == {JARS: 15}
    assert found(problem, 41, *lids, one)[0] == {}


def test_without_a_closing_step_jars_are_closed_when_all_is_done() -> None:
    """Lids at 5 and labels at 12: lowered at 40 they waited 28, eight too long."""
    jars = closed("a", steps=(step("lid", 5, 0), step("label", 2, 0)))
    placed = at("a", "lid", 0, 5), at("a", "label", 10, 12)
    assert found(day(jars), 14, *placed, load(40))[0] == {JARS: 8}


def test_what_has_no_latest_hour_is_never_too_late() -> None:
    hour = Window(step="fill", earliest_min=10)
    problem = day(work("a", step("fill", 4, 0), windows=(hour,)))
    assert found(problem, 5, at("a", "fill", 400, 404)) == ({}, {}, {})
