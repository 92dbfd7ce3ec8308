"""What a replan tells first: promises, what moves, and what gives way."""

from dataclasses import replace

import pytest

from stillroom.planning.happened import as_planned
from stillroom.planning.lateness import weighted_lateness
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Want
from stillroom.planning.replan import replan
from tests.planning.small_days import day, jelly

BY_80 = (Want(product="jelly", by_min=80),)


@pytest.fixture(scope="module")
def one_jelly():
    """One batch, out of the canner at 76; a boil 25 minutes longer ends it at 101."""
    problem = day(jelly())
    plan = plan_day(problem, seconds=2).timetable
    assert plan.finish_min == 76
    boil = next(s for s in plan.steps if s.step == "boil")
    late = {("jelly-1", "boil"): 25}
    happened = as_planned(problem, plan, boil.start_min + 5, late_min=late)
    return problem, plan, happened


# --- promises ------------------------------------------------------------------------


def test_a_promise_that_a_slip_breaks_is_said_in_the_first_sentence(one_jelly):
    problem, plan, happened = one_jelly
    found = replan(replace(problem, wants=BY_80), plan, happened)
    assert found.sentence.startswith(
        "Done at 9:41, 25 min later; jelly, wanted by 9:20, comes 21 min late; "
    )


def test_a_promise_that_was_broken_before_says_what_is_new_or_nothing(one_jelly):
    problem, plan, happened = one_jelly
    early = replace(problem, wants=(Want(product="jelly", by_min=10),))
    told = replan(early, plan, happened).sentence
    assert "jelly, wanted by 8:10, comes 1 h 31 min late, 25 min more than" in told
    as_it_was = replan(early, plan, as_planned(problem, plan, 5)).sentence
    assert "late" not in as_it_was


def test_a_promise_that_is_kept_is_not_spoken_of(one_jelly):
    problem, plan, happened = one_jelly
    kept = replace(problem, wants=(Want(product="jelly", by_min=101),))
    assert "wanted" not in replan(kept, plan, happened).sentence


def test_a_batch_that_an_old_plan_does_not_have_was_late_for_nobody(one_jelly):
    # taken in later: the promise is broken by the new plan alone
    problem, plan, happened = one_jelly
    late = replace(problem, wants=BY_80)
    without = replace(plan, steps=(), loads=())
    assert weighted_lateness(late, without) == 0
    told = replace(replan(late, plan, happened), old=without)
    assert "jelly, wanted by 9:20, comes 21 min late;" in told.sentence
