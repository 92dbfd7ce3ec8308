"""What is cut stands for half of its time, as far as the same hands are free later."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.day_odds.test_odds import unsure
from planning.small_days import day, person, step, work
from planning.written_out import at

from stillroom.methods.step import Link, Skill
from stillroom.planning.day_odds.odds import odds_of
from stillroom.planning.how_good.stands_less import standing_less
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Batch, Break, Problem
from stillroom.planning.timetable import Answer, PlacedBreak, PlacedStep, Timetable

BROWNS = Link(before="cut", after="cook", at_most_min=60, why="it browns")


def pears(name: str = "pears", **changes: object) -> Batch:
    """Cut in 20 min, cooked within an hour of it."""
    cut = replace(step("cut", 20, 3), **changes)  # type: ignore[arg-type]
    cook = replace(step("cook", 30, 3), skill=Skill.PAN)
    return work(name, cut, cook, links=(BROWNS,))


def two(*batches: Batch) -> Problem:
    """Ada cuts; Ben, who comes at two hours, cooks."""
    ada = person("Ada", skills=frozenset({Skill.COLD, Skill.KNIFE}))
    return day(*batches, people=(ada, person("Ben", arrives_min=120)))


def cut_at(
    problem: Problem,
    *steps: PlacedStep,
    batch: str = "pears",
    breaks: tuple[PlacedBreak, ...] = (),
) -> int:
    plan = Timetable(steps=steps, loads=(), breaks=breaks)
    assert violations(problem, plan) == ()
    found = standing_less(problem, plan)
    assert violations(problem, found) == ()
    others = [s for s in steps if (s.batch, s.step) != (batch, "cut")]
    assert all(s in found.steps for s in others)
    return next(s.start_min for s in found.steps if (s.batch, s.step) == (batch, "cut"))


COOKED = at("pears", "cook", 120, 150, "Ben")


def test_what_was_cut_an_hour_before_is_cut_half_an_hour_before() -> None:
    """It stood for the whole hour that it may: any slower day broke that."""
    problem = two(pears())
    assert cut_at(problem, at("pears", "cut", 40, 60, "Ada"), COOKED) == 70


@pytest.mark.parametrize("start", [70, 80, 100])
def test_what_stands_for_half_of_its_time_or_less_stays(start: int) -> None:
    cut = at("pears", "cut", start, start + 20, "Ada")
    assert cut_at(two(pears()), cut, COOKED) == start


@pytest.mark.parametrize(("from_min", "start"), [(64, 42), (68, 44), (60, 40)])
def test_where_the_hands_are_busy_later_it_is_in_the_middle_of_their_time(
    from_min: int, start: int
) -> None:
    """Ada is at something else from then on: half of what is free is left behind it."""
    other = work("other", step("knead", 80, 3))
    kneads = at("other", "knead", from_min, from_min + 80, "Ada")
    cut = at("pears", "cut", 40, 60, "Ada")
    assert cut_at(two(pears(), other), cut, kneads, COOKED) == start


def with_rest(problem: Problem) -> Problem:
    """Ada rests for ten minutes within that time."""
    rest = Break(duration_min=10, earliest_min=60, latest_start_min=100)
    ada, *others = problem.people
    return replace(problem, people=(replace(ada, breaks=(rest,)), *others))


@pytest.mark.parametrize(
    ("rest_min", "start"),
    [
        (62, 72),  # her free time lies behind it
        (61, 71),  # half of its time lies in the midst of it
        (70, 80),
        (80, 50),  # before it and behind it are alike: the middle before
        (90, 55),
    ],
)
def test_where_a_rest_lies_between_it_is_nearest_to_half_of_its_time(
    rest_min: int, start: int
) -> None:
    rest = PlacedBreak(person="Ada", start_min=rest_min, end_min=rest_min + 10)
    cut = at("pears", "cut", 40, 60, "Ada")
    problem = with_rest(two(pears()))
    assert cut_at(problem, cut, COOKED, breaks=(rest,)) == start


def test_what_lies_behind_other_work_of_the_same_hands_is_found() -> None:
    other = work("other", step("knead", 10, 3))
    kneads = at("other", "knead", 62, 72, "Ada")
    cut = at("pears", "cut", 40, 60, "Ada")
    assert cut_at(two(pears(), other), cut, kneads, COOKED) == 72


def test_what_lies_behind_it_is_not_taken_where_the_hands_are_busy_there() -> None:
    """Behind the rest Ada is at something else: then it is the middle before."""
    other = work("other", step("knead", 40, 3))
    kneads = at("other", "knead", 78, 118, "Ada")
    rest = PlacedBreak(person="Ada", start_min=66, end_min=76)
    cut = at("pears", "cut", 40, 60, "Ada")
    problem = with_rest(two(pears(), other))
    assert cut_at(problem, cut, kneads, COOKED, breaks=(rest,)) == 43


def test_a_helper_keeps_her_free_time_in_one_piece() -> None:
    """Cut later, Ada's hour and a half until the end would be an hour."""
    problem = two(pears())
    problem = replace(problem, people=problem.people[::-1])
    assert cut_at(problem, at("pears", "cut", 40, 60, "Ada"), COOKED) == 40


@pytest.mark.parametrize(
    "changes",
    [
        {"burner_w": 900.0},
        {"in_pot": True},
        {"on_mill": True},
        {"critical": True},
        {"same_hands": "pan"},
    ],
)
def test_what_has_a_tool_or_may_not_wait_stays(changes: dict[str, object]) -> None:
    batch = pears(**changes)
    if changes.get("in_pot"):
        batch = replace(batch, pots=("big",))
    cut = replace(
        at("pears", "cut", 40, 60, "Ada"),
        burner="weak-1" if "burner_w" in changes else None,
        pot="big-1" if "in_pot" in changes else None,
        mill=1 if "on_mill" in changes else None,
    )
    assert cut_at(two(batch), cut, COOKED) == 40


def test_nothing_is_moved_when_the_time_is_over() -> None:
    problem = two(pears())
    steps = (at("pears", "cut", 40, 60, "Ada"), COOKED)
    plan = Timetable(steps=steps, loads=(), breaks=())
    assert standing_less(problem, plan, is_over=lambda: True) == plan


def test_on_slower_days_what_was_cut_is_cooked_in_its_time() -> None:
    """Cut at the edge of its hour it stood too long on half of all days."""
    problem = two(unsure(pears()))
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    often = [b.times_a_day for b in odds_of(problem, answer.timetable, days=500).broken]
    assert sum(often) < 0.05
