"""
One more look at all of a day, near its end (docs/decisions/0114).

Work is counted. Three batches for two people: their soonest end is found, and proven,
in a second of work; what the small days come to is held by brute force elsewhere.
"""

from __future__ import annotations

import time
from dataclasses import replace

import pytest

from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.cpsat import large_day as large
from stillroom.planning.cpsat import last_look as look
from stillroom.planning.cpsat import objective, solve
from stillroom.planning.cpsat.last_look import last_look
from stillroom.planning.cpsat.reading import hints_of, timetable_of
from stillroom.planning.cpsat.ruled_out import RuledOut
from stillroom.planning.cpsat.search import Search
from stillroom.planning.cpsat.solve import day_model, hint_fully
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Want
from tests.planning.cpsat.test_improve import large_day
from tests.planning.small_days import butter, day, jelly

THREE = day(butter("a"), butter("b"), jelly("c"))


def search(seconds=60.0):
    until = time.monotonic() + 600
    return Search(until, 2, 1, deterministic=True, seconds=seconds, latest=until)


@pytest.fixture(scope="module")
def soonest():
    """The plan of the three batches that is proven to end first."""
    answer = plan_day(THREE, seconds=20.0)
    assert answer.proven
    assert answer.lateness == 0
    return answer.timetable


def looked_at(plan, *, problem=THREE, seconds=8.0, told=lambda _: None):
    model = day_model(problem, plan, 0)
    known = hint_fully(model, hints_of(model, plan), search())
    goal = objective.end_and_lateness(model)
    found, floor = last_look(model, goal, known, 0, search(), seconds, told)
    return timetable_of(model, found.value), floor


def test_what_ends_first_is_proven_to(soonest):
    plan, floor = looked_at(soonest)
    assert plan.finish_min == floor == soonest.finish_min
    assert lower_bound_min(THREE) < floor  # more than the sums know


def test_what_does_not_is_made_sooner_and_nothing_is_proven_by_it(soonest):
    hand = by_hand(THREE)
    assert hand.finish_min > soonest.finish_min + 5
    told = []
    plan, floor = looked_at(hand, told=told.append)
    assert violations(THREE, plan) == ()
    assert plan.finish_min == soonest.finish_min
    assert told
    assert floor == 0


def test_of_a_plan_that_is_late_no_end_is_asked_to_be_proven(soonest, monkeypatch):
    """It might end later and be late on less."""
    asked = []
    monkeypatch.setattr(RuledOut, "is_soonest", lambda *_: asked.append(1) or True)
    wanted = replace(THREE, wants=(Want(product=THREE.batches[0].product, by_min=0),))
    assert score(wanted, soonest) > soonest.finish_min
    _, floor = looked_at(soonest, problem=wanted, seconds=0.5)
    assert floor == 0
    assert not asked


@pytest.mark.parametrize(("known", "at_most"), [(300, 300), (301, 300)])
def test_what_is_known_to_be_soonest_is_not_asked(monkeypatch, known, at_most):
    monkeypatch.setattr(RuledOut, "_ask", lambda *_: pytest.fail("asked"))
    assert RuledOut(THREE, 1).is_soonest(known, at_most, 1.0, None)


def test_without_the_time_for_it_nothing_is_said_to_be_proven(soonest):
    proof = RuledOut(THREE, 1)
    latest = time.monotonic() + 600
    assert not proof.is_soonest(0, soonest.finish_min, 1e-6, latest)
    assert not proof.cut
    assert proof.is_soonest(0, soonest.finish_min, 30.0, latest)
    assert not proof.is_soonest(0, soonest.finish_min + 1, 30.0, latest)


def test_what_fails_beside_it_is_raised(soonest, monkeypatch):
    def fails(*_, **__):
        raise RuntimeError("the solver is gone")

    monkeypatch.setattr(look, "search_aimed", fails)
    with pytest.raises(RuntimeError, match="is gone"):
        looked_at(soonest)


# --- when it is taken, and by what bound ---------------------------------------------


@pytest.mark.parametrize(("left_s", "looks"), [(4.0, 1), (0.2, 0)])
def test_what_parts_leave_over_is_for_the_last_look(monkeypatch, left_s, looks):
    given, problem = [], large_day()

    def at_rest(_day, _goal, known, effort, **_):
        effort.left_s = left_s
        return known

    def nothing_sooner(day, goal, known, floor, how, seconds, told):
        given.append((floor, seconds))
        return known, 444

    monkeypatch.setattr(large, "improve", at_rest)
    monkeypatch.setattr(large, "search_aimed", lambda *given: given[2])
    monkeypatch.setattr(large, "last_look", nothing_sooner)
    plan = by_hand(problem)
    found = solve.find_timetable(
        problem, plan, search(10.0), least=100, proven=lambda: 400
    )
    assert given == [(400, left_s)] * looks
    assert found.bound == (444 if looks else 100)
    assert found.unused_s == pytest.approx(0.0 if looks else left_s)


def test_parts_in_vain_end_the_sooner_for_it():
    """By parts of a plan that nothing can make better."""
    tried = []
    plan = plan_day(THREE, seconds=20.0).timetable
    model = day_model(THREE, plan, 0)
    known = hint_fully(model, hints_of(model, plan), search())
    goal = objective.end_and_lateness(model)
    model.model.minimize(goal)
    for at_rest in (3, 90):
        effort = solve.effort_of(search(), 40.0)
        solve.improve(model, goal, known, effort, unit=1, at_rest=at_rest)
        tried.append(40.0 - effort.left_s)
    assert tried[0] < tried[1] < 40.0
