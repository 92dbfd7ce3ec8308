"""Water that nobody has lit does not warm by the plan."""

from __future__ import annotations

import pytest

from stillroom.planning.begun.as_known import Said, as_known
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.warming import HEAT
from stillroom.planning.plan import plan_day
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.timetable import Answer
from tests.planning.small_days import canner, day, jelly

FIRST_HEAT = canner().first_heat_min


@pytest.fixture(scope="module")
def plain():
    """One batch; the water is lit half an hour before its jars go in."""
    problem = day(jelly("jelly-1"))
    answer = plan_day(problem, seconds=1, deterministic=True)
    assert isinstance(answer, Answer)
    return problem, answer.timetable


def replanned(plain, now, **said):
    problem, plan = plain
    known = as_known(problem, plan, now, Said(**said))
    return known, replan(problem, plan, known.happened, seconds=1.0)


def midway(plan):
    (load,) = plan.loads
    return (load.heat_min + load.lower_min) // 2


def test_a_canner_that_nobody_lit_is_lit_from_now(plain):
    now = midway(plain[1])
    _, found = replanned(plain, now)
    (load,) = found.new.loads
    assert load.heat_min >= now
    assert load.lower_min >= now + FIRST_HEAT
    assert "Nobody has said that the canner is lit" in found.sentence


def test_a_canner_that_was_lit_late_is_hot_as_much_later(plain):
    (was,) = plain[1].loads
    now = midway(plain[1])
    for lit in (was.heat_min, was.heat_min + 5):
        _, found = replanned(plain, now, began_min={(was.id, HEAT): lit})
        (load,) = found.new.loads
        assert load.lower_min == max(was.lower_min, lit + FIRST_HEAT)
        assert "is lit" not in found.sentence


def test_minutes_that_the_water_still_needs_say_that_it_is_lit(plain):
    (was,) = plain[1].loads
    now = midway(plain[1])
    _, found = replanned(plain, now, more_min={(was.id, HEAT): 25})
    (load,) = found.new.loads
    assert load.lower_min == now + 25


def test_what_was_said_lit_and_has_not_begun_is_not_lit(plain):
    (was,) = plain[1].loads
    now = midway(plain[1])
    key = (was.id, HEAT)
    known, found = replanned(
        plain, now, began_min={key: was.heat_min}, not_begun=(key,)
    )
    assert known.happened.lit == {}
    assert found.new.loads[0].lower_min >= now + FIRST_HEAT


def test_jars_are_not_taken_to_be_in_water_that_was_lit_too_late(plain):
    problem, plan = plain
    (was,) = plan.loads
    now = was.lower_min + 2
    trusted = as_known(problem, plan, now, Said())
    assert [load.id for load in trusted.happened.loads] == [was.id]
    late = Said(began_min={(was.id, HEAT): now - 10})
    assert as_known(problem, plan, now, late).happened.loads == ()


def test_a_day_that_went_as_planned_was_lit_as_planned(plain):
    problem, plan = plain
    happened = as_planned(problem, plan, midway(plan))
    assert happened.lit is None
    found = replan(problem, plan, happened, seconds=1.0)
    assert found.new.loads == plan.loads
