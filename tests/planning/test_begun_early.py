"""A day begun before its hour, planned again while that hour is still to come."""

import pytest

from stillroom.planning.happened import Happened
from stillroom.planning.plan import plan_day
from stillroom.planning.replan import SOLVED, Replanned, replan
from stillroom.planning.timetable import PlacedStep, Timetable
from tests.planning.small_days import canner, day, jelly, person

HEAT_MIN = 30
EARLY_MIN = 40


def begun_early(problem, plan, by: int, now: int, count: int) -> Happened:
    """So many steps of the first batch, each so many minutes before its plan."""
    first = plan.loads[0].jars[0][0]
    mine = sorted((s for s in plan.steps if s.batch == first), key=lambda s: s.end_min)
    steps = Timetable(steps=tuple(mine[:count]), loads=(), breaks=()).moved(-by).steps
    assert all(s.start_min < now for s in steps)
    return Happened(now_min=now, steps=steps, loads=())


@pytest.fixture(scope="module")
def planned():
    problem = day(
        jelly("jelly-1", closed_wait_at_most_min=60), jelly("jelly-2"),
        people=(person("Ada"), person("Ben")),
        canners=(canner(first_heat_min=HEAT_MIN),),
    )  # fmt: skip
    return problem, plan_day(problem, seconds=1).timetable


def new_steps(found: Replanned) -> list[PlacedStep]:
    begun = found.happened.begun
    return [s for s in found.new.steps if (s.batch, s.step) not in begun]


def test_who_is_ahead_of_the_day_is_done_sooner(planned):
    """A batch is closed before 8:00: the water is put on before the hour, too."""
    problem, plan = planned
    first = plan.loads[0].jars[0][0]
    whole = sum(s.batch == first for s in plan.steps)
    by = max(s.end_min for s in plan.steps if s.batch == first) + EARLY_MIN
    now = 5 - EARLY_MIN
    found = replan(problem, plan, begun_early(problem, plan, by, now, whole), seconds=1)
    assert found.made_by == SOLVED
    load = next(x for x in found.new.loads if first in dict(x.jars))
    assert now <= load.heat_min < 0
    assert load.lower_min == load.heat_min + HEAT_MIN
    assert found.new.finish_min < plan.finish_min
    assert found.later_min == found.new.finish_min - plan.finish_min
    assert f"{-found.later_min} min earlier" in found.sentence
    assert set(found.happened.steps) <= set(found.new.steps)


def test_who_has_not_been_seen_comes_at_their_hour(planned):
    problem, plan = planned
    happened = begun_early(problem, plan, EARLY_MIN, -20, 1)
    (step,) = happened.steps
    found = replan(problem, plan, happened, seconds=1)
    assert found.made_by == SOLVED
    sooner = {s.person for s in new_steps(found) if s.start_min < 0} - {None}
    assert sooner <= {step.person}
    assert min(s.start_min for s in new_steps(found)) >= -20
    arrives = {p.id: p.arrives_min for p in found.problem.people}
    assert arrives[step.person] == -20
    assert all(at == 0 for who, at in arrives.items() if who != step.person)


def test_a_promise_is_told_in_the_minutes_of_the_day(planned):
    problem, plan = planned
    happened = begun_early(problem, plan, EARLY_MIN, -20, 1)
    plainly = replan(problem, plan, happened, seconds=1)
    said = plainly.new.finish_min + 7
    found = replan(problem, plan, happened, seconds=1, promised_min=said)
    assert found.later_min == found.new.finish_min - said
    assert found.old_order is None or found.old_order.finish_min >= -20
