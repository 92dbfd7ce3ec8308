"""A run planned again: promises that are late, and a day begun before its hour."""

import datetime as dt

import pytest

from stillroom.planning.begun.changes import Changes
from stillroom.planning.begun.promised_anew import LackingJars
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Want
from stillroom.planning.timetable import Answer
from stillroom.running import again
from stillroom.running.again import Told, plan_again
from stillroom.running.events import DayBegun, KeptPlan, PlanTaken
from stillroom.running.fold import fold
from tests.planning.small_days import day, jelly

START = dt.datetime(2026, 9, 12, 8, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))


@pytest.mark.parametrize(("by_min", "asked"), [(10, True), (400, False)])
def test_a_late_promise_asks_what_may_be_left_out(monkeypatch, by_min, asked):
    problem = day(jelly(), wants=(Want(product="jelly", by_min=by_min),))
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    kept = KeptPlan(of="x", problem=problem, timetable=answer.timetable)
    state = fold([DayBegun(loads=(), plan=kept, occurred_at=START)])
    calls = []
    monkeypatch.setattr(again, "offers", lambda *_, **__: calls.append(1) or ())
    found = plan_again(state, START, Told(), seconds=1.0)
    assert isinstance(found, again.Again)
    assert found.found.later_min == 0
    assert bool(calls) == asked


@pytest.mark.parametrize(("early", "said"), [(-10, True), (0, False), (5, False)])
def test_a_day_begun_before_its_hour_says_what_is_put_nowhere_sooner(early, said):
    answer = plan_day(day(jelly()), seconds=1)
    kept = KeptPlan(of="x", problem=day(jelly()), timetable=answer.timetable)
    begun = START + dt.timedelta(minutes=min(0, early - 20))
    state = fold([DayBegun(loads=(), plan=kept, occurred_at=begun)])
    at = START + dt.timedelta(minutes=early)
    found = plan_again(state, at, Told(), seconds=1.0)
    words = "Nothing is put before 8:00, when the day was to begin: plan again then"
    assert (words in found.found.sentence) == said
    assert all(s.start_min >= 0 for s in found.found.new.steps)


def test_a_promise_that_was_given_up_is_named_whatever_day_file_stands_by_then():
    """Tomorrow's day was saved meanwhile, and the next plan said nothing of it."""
    red, black = jelly("a", product="red"), jelly("b", product="black")
    problem = day(red, black, wants=(Want(product="black", by_min=400, jars=8),))
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    kept = KeptPlan(of="x", problem=problem, timetable=answer.timetable)
    state = fold([DayBegun(loads=(), plan=kept, occurred_at=START)])
    told = Told(changes=Changes(dropped=("b",)))
    found = plan_again(state, START, told, seconds=1.0)
    assert isinstance(found, again.Again)
    lacking = (LackingJars(product="black", jars=8, by_min=400),)
    assert found.found.not_made == lacking
    rest = KeptPlan(of="x", problem=found.found.problem, timetable=found.found.new)
    assert rest.problem.wants == ()
    state = fold(
        [PlanTaken(loads=(), plan=rest, sentence="", occurred_at=START)], state
    )
    found = plan_again(state, START, Told(), seconds=1.0)
    assert isinstance(found, again.Again)
    assert found.found.not_made == lacking
