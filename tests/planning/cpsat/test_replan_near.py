"""A slip is taken up near to where it is; the day beyond it is kept in one piece."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest

from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.put_off import put_off
from stillroom.planning.begun.residual import residual_of
from stillroom.planning.cpsat import replan_near, replan_search
from stillroom.planning.cpsat.reading import timetable_of
from stillroom.planning.cpsat.replan_model import rest_model
from stillroom.planning.problem import Break
from stillroom.planning.timetable import PlacedBreak, PlacedStep, Timetable
from tests.planning.small_days import day, jelly, person, step

LONG_S = 30.0
"""More than such a search takes on any machine. [s]"""


def work(name, minutes):
    """A batch of one step that takes both hands, and nothing else."""
    return jelly(
        name, steps=(step("do", minutes, 4),), links=(), pots=(), process=None,
        ready_after="do",
    )  # fmt: skip


def placed(name, who, start, end):
    return PlacedStep(
        batch=name, step="do", start_min=start, end_min=end, person=who, quarters=4,
        pot=None, burner=None, mill=None,
    )  # fmt: skip


def feed_day(*people):
    """
    Ada: first 0 to 40, small 40 to 50, away 50 to 70, then two of 30 min.

    Ben: what takes until 100, but for 45 to 60.
    """
    problem = day(
        work("first", 40), work("small", 10), work("third", 30), work("last", 30),
        work("ben's", 45), work("ben's last", 40), people=people,
    )  # fmt: skip
    steps = (
        placed("first", "Ada", 0, 40),
        placed("small", "Ada", 40, 50),
        placed("third", "Ada", 70, 100),
        placed("last", "Ada", 100, 130),
        placed("ben's", "Ben", 0, 45),
        placed("ben's last", "Ben", 60, 100),
    )
    return problem, Timetable(steps=steps, loads=(), breaks=())


def rest(problem, plan, late):
    """What is left at minute 39, where the first step ends later."""
    happened = as_planned(problem, plan, 39, late_min={("first", "do"): late})
    later = put_off(problem, plan, happened)
    residual = residual_of(problem, happened, later.unkept)
    model = rest_model(residual, happened, plan, later)
    model.day.model.minimize(model.goal)
    known = replan_search._old_order(model, time.monotonic() + LONG_S, 1)
    assert known is not None
    model.day.model.minimize(model.goal)
    return model, known


def begins(model, solver):
    found = timetable_of(model.day, solver.value)
    return {s.batch: (s.person, s.start_min) for s in found.steps if s.step == "do"}


@pytest.fixture
def a_day():
    return feed_day(person("Ada", away=((50, 70),)), person("Ben"))


def test_where_a_plan_cannot_be_kept(a_day):
    """Five minutes late: the small one no longer ends before she goes at 50."""
    model, known = rest(*a_day, 5)
    assert model.slip is not None
    assert (model.slip.since_min, model.slip.late_min) == (40, 5)
    assert model.slip.away == ((50, 70),)
    # put off behind the absence, and all of hers behind it: 70, 80, 110 to 140
    assert begins(model, known)["last"] == ("Ada", 110)
    assert known.value(model.day.finish) == 140


def test_nothing_slips_where_the_old_plan_can_be_kept(a_day):
    model, known = rest(*a_day, 0)
    assert model.slip is None
    found = replan_near.kept_beyond(model, known, until=time.monotonic() + LONG_S)
    assert found is known


@pytest.mark.parametrize("workers", [1, 2])
def test_what_runs_into_an_absence_is_given_to_who_is_free(a_day, workers):
    """Ben has 45 to 60 free: the small one is his, and the day ends as it was to."""
    model, known = rest(*a_day, 5)
    found = replan_near.kept_beyond(
        model, known, until=time.monotonic() + LONG_S, workers=workers
    )
    assert found.value(model.goal) < known.value(model.goal)
    assert begins(model, found)["small"] == ("Ben", 45)
    assert found.value(model.day.finish) <= 130 < known.value(model.day.finish)


def test_where_there_is_no_room_the_rest_goes_later_in_one_piece():
    """Forty late, nobody free: all that is beyond begins later by the same."""
    problem = day(work("first", 40), work("second", 200), work("third", 30),
                  work("fourth", 30), people=(person("Ada"),))  # fmt: skip
    steps = (
        placed("first", "Ada", 0, 40),
        placed("second", "Ada", 40, 240),
        placed("third", "Ada", 250, 280),
        placed("fourth", "Ada", 300, 330),
    )
    model, _ = rest(problem, Timetable(steps=steps, loads=(), breaks=()), 40)
    assert model.slip is not None
    cp = model.day.model.clone()
    replan_near._hold(cp, model, model.slip, [(0, 250)], (0, 100))
    solver = replan_near._solver(time.monotonic() + LONG_S, 1)
    assert solver.solve(cp) in replan_near.SOLVED
    at = {name: start for name, (_, start) in begins(model, solver).items()}
    assert at["second"] == 80
    assert at["third"] == at["fourth"] - 50 == 280


def near(model, known):
    now = time.monotonic()
    enough = replan_near._Enough(now + LONG_S, now + LONG_S)
    best = known.value(model.goal)
    return replan_near._near(model, model.slip, best, enough, 1), enough


def alone(*steps):
    """Ada alone, one thing behind the other."""
    made = [work(name, end - start) for name, start, end in steps]
    problem = day(*made, people=(person("Ada"),))
    done = tuple(placed(name, "Ada", start, end) for name, start, end in steps)
    return problem, Timetable(steps=done, loads=(), breaks=())


def test_where_there_is_room_the_rest_keeps_its_minutes():
    """Five late, and two hundred minutes without work before the third."""
    a_day = alone(("first", 0, 40), ("second", 40, 50), ("third", 250, 280))
    found, enough = near(*rest(*a_day, 5))
    assert found is None  # the old order put off is that: nothing is better
    assert not enough.found.is_set()
    a_day = feed_day(person("Ada", away=((50, 70),)), person("Ben"))
    model, known = rest(*a_day, 5)
    found, enough = near(model, known)
    assert found is not None
    assert enough.found.is_set()
    assert found.value(model.gives_way) == 0
    assert begins(model, found)["last"] == ("Ada", 100)


def test_where_its_minutes_cannot_be_kept_it_begins_later_by_just_what_runs_late():
    """Five late on a full day: the one that is beyond begins five later."""
    a_day = alone(("first", 0, 40), ("second", 40, 240), ("third", 240, 270))
    model, known = rest(*a_day, 5)
    worse = known.value(model.goal) + 1000  # for any plan is better than that
    enough = replan_near._Enough(*[time.monotonic() + LONG_S] * 2)
    found = replan_near._near(model, model.slip, worse, enough, 1)
    assert found is not None
    at = {name: start for name, (_, start) in begins(model, found).items()}
    assert (at["second"], at["third"]) == (45, 245)


def test_it_keeps_its_minutes_only_where_nothing_gives_way():
    """Ada was to rest at 42 at the latest, and cannot before 45: three minutes."""
    rest_by = Break(duration_min=15, earliest_min=30, latest_start_min=42)
    steps = (("first", 0, 40), ("second", 60, 70), ("third", 250, 280))
    made = [work(name, end - start) for name, start, end in steps]
    problem = day(*made, people=(person("Ada", breaks=(rest_by,)),))
    done = tuple(placed(name, "Ada", start, end) for name, start, end in steps)
    taken = PlacedBreak(person="Ada", start_min=40, end_min=55)
    plan = Timetable(steps=done, loads=(), breaks=(taken,))
    model, known = rest(problem, plan, 25)
    assert known.value(model.gives_way) > 0
    worse = known.value(model.goal) + 10_000
    enough = replan_near._Enough(*[time.monotonic() + LONG_S] * 2)
    found = replan_near._near(model, model.slip, worse, enough, 1)
    assert found is not None
    assert begins(model, found)["third"] == ("Ada", 275)


def test_what_has_begun_late_is_no_slip_of_what_is_to_come():
    """The first begun five late and done all the same by 40: nothing is put off."""
    problem, plan = alone(("first", 0, 40), ("second", 60, 70))
    happened = as_planned(problem, plan, 50)
    (first,) = happened.steps
    happened = replace(happened, steps=(replace(first, start_min=5),))
    later = put_off(problem, plan, happened)
    model = rest_model(residual_of(problem, happened), happened, plan, later)
    assert model.slip is None


@pytest.mark.parametrize(("gives_way", "asked"), [(True, 1), (False, 0)])
def test_it_is_tried_where_the_old_order_breaks_something(
    monkeypatch, gives_way, asked
):
    by = 42 if gives_way else 90
    rest_by = Break(duration_min=15, earliest_min=30, latest_start_min=by)
    problem, plan = alone(("first", 0, 40), ("second", 60, 70))
    people = (person("Ada", breaks=(rest_by,)),)
    problem = replace(problem, people=people)
    taken = PlacedBreak(person="Ada", start_min=40, end_min=55)
    plan = replace(plan, breaks=(taken,))
    model, _ = rest(problem, plan, 10)
    tried = []

    def heard(model, known, **_):
        tried.append(known.value(model.gives_way))
        return known

    monkeypatch.setattr(replan_search, "FEW_PIECES", 0)
    monkeypatch.setattr(replan_search, "kept_beyond", heard)
    found = replan_search.solve_rest(model, until=time.monotonic() + 2)
    assert found is not None
    assert len(tried) == asked
    assert all(tried)


def test_a_plan_that_is_no_better_is_not_taken(a_day):
    """With the best one known nothing is found, and that one stays."""
    model, known = rest(*a_day, 5)
    best = replan_near.kept_beyond(model, known, until=time.monotonic() + LONG_S)
    again = replan_near.kept_beyond(model, best, until=time.monotonic() + LONG_S)
    assert again is best
