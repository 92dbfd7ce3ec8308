"""What a search begins with: whose plan it is, what was held, and how long it took."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from stillroom.planning import start
from stillroom.planning.answering import Shown
from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Burner, Problem, Want
from stillroom.planning.start import BeforeSearch, Start, begin, start_of
from stillroom.planning.timetable import Timetable
from tests.planning.small_days import butter, canner, day, jelly

KNOWN = Bound(10, "invented")


@pytest.fixture(scope="module")
def problem() -> Problem:
    return day(jelly("jelly-1"), butter(), people=2)


@pytest.fixture(scope="module")
def plan(problem: Problem) -> Timetable:
    found = by_hand(problem)
    assert found is not None
    return found


def by_turns_gives(
    monkeypatch: pytest.MonkeyPatch, made: Timetable | None
) -> list[SimpleNamespace]:
    """Let the plan by turns be this one; with what it was asked for."""
    asked: list[SimpleNamespace] = []

    def by_turns(problem: Problem, **how: object) -> Timetable | None:
        asked.append(SimpleNamespace(**how))
        return made

    monkeypatch.setattr(start, "by_turns", by_turns)
    return asked


def start_with(
    problem: Problem, first: Timetable | None, seconds: float = 5.0, **how: bool
) -> Start:
    return start_of(
        problem, first, seconds=seconds, seed=1, counted=how.get("counted", True)
    )


# --- by turns, or by hand ----------------------------------------------------------


def test_the_better_of_the_two_is_begun_with_and_it_is_known_whose_it_is(
    problem, plan, monkeypatch
):
    later = plan.moved(10)
    assert violations(problem, later) == ()
    assert score(problem, later) == score(problem, plan) + 10
    by_turns_gives(monkeypatch, plan)
    assert start_with(problem, later) == Start(plan, by_hand=False)
    assert start_with(problem, None) == Start(plan, by_hand=False)
    by_turns_gives(monkeypatch, later)
    assert start_with(problem, plan) == Start(plan, by_hand=True)


def test_what_breaks_a_rule_is_not_begun_with(problem, plan, monkeypatch):
    """It would end sooner: nobody has canned anything in it."""
    broken = replace(plan, loads=())
    assert violations(problem, broken)
    by_turns_gives(monkeypatch, broken)
    found = start_with(problem, plan)
    assert found.by_hand
    assert found.plan is not None
    assert violations(problem, found.plan) == ()
    assert start_with(problem, None) == Start(None, by_hand=False)


@pytest.mark.parametrize(
    ("seconds", "counted", "spent", "plans"),
    [
        (5.0, False, 1.0, 200),  # a fifth of the time, forty plans a second
        (60.0, False, 3.0, 400),  # never more than three seconds or 400 plans
        (0.01, False, 0.002, 1),
        (60.0, True, 1e9, 400),  # where plans are counted, no clock ends it
    ],
)
def test_the_start_takes_a_small_share_of_the_time(
    problem, plan, monkeypatch, seconds, counted, spent, plans
):
    asked = by_turns_gives(monkeypatch, plan)
    start_with(problem, plan, seconds, counted=counted)
    assert (asked[0].seconds, asked[0].plans) == (pytest.approx(spent), plans)


def test_shuffled_orders_are_counted_where_work_is_counted(problem, plan, monkeypatch):
    """Else one day was planned otherwise on a busy machine."""
    asked = []

    def by_hand_as(problem: Problem, **how: float | None) -> Timetable:
        asked.append((how["shuffle_seconds"], how["work_s"]))
        return plan

    monkeypatch.setattr(start, "by_hand", by_hand_as)
    for counted in (True, False):
        begun(problem, seconds=10.0, counted=counted)
    assert asked == [(pytest.approx(1.2), pytest.approx(1.2)), (1.2, None)]


# --- before the search -------------------------------------------------------------


def begun(
    problem: Problem,
    given: Timetable | None = None,
    *,
    known: Bound = KNOWN,
    seconds: float = 1.0,
    counted: bool = True,
    seen: list[Timetable] | None = None,
) -> BeforeSearch:
    into = [] if seen is None else seen
    shown = Shown(problem, lambda plan, _: into.append(plan), began=0.0)
    return begin(problem, given, shown, known, seconds, seed=1, counted=counted)


def test_a_plan_at_hand_is_begun_with_only_where_it_is_better(
    problem, plan, monkeypatch
):
    later = plan.moved(10)
    monkeypatch.setattr(start, "as_far_as_it_holds", lambda _, given: given)
    monkeypatch.setattr(start, "by_hand", lambda *_, **__: later)
    better = begun(problem, plan)
    assert (better.start, better.is_held, better.as_by_hand) == (plan, True, None)
    monkeypatch.setattr(start, "by_hand", lambda *_, **__: plan)
    monkeypatch.setattr(
        start, "start_of", lambda _, first, **__: Start(first, by_hand=True)
    )
    worse = begun(problem, later)
    # it holds all the same, and what a person would have made is known
    assert (worse.start, worse.is_held, worse.as_by_hand) == (plan, True, plan)
    assert not begun(problem).is_held


def test_what_is_begun_with_is_shown_after_the_plan_by_hand(problem, plan, monkeypatch):
    later = plan.moved(10)
    monkeypatch.setattr(start, "by_hand", lambda *_, **__: later)
    monkeypatch.setattr(start, "start_of", lambda *_, **__: Start(plan, by_hand=False))
    seen: list[Timetable] = []
    found = begun(problem, seen=seen)
    assert seen == [later, plan]
    assert (found.first, found.start, found.as_by_hand) == (later, plan, None)


def test_no_plan_can_be_where_the_bound_is_past_the_day_and_none_is_there(
    monkeypatch,
):
    short = day(jelly(), horizon_min=60)
    past = Bound(61, "invented")
    assert begun(short, known=past).is_never
    assert not begun(short, known=Bound(60, "invented")).is_never
    # lateness counts in the bound: a promise may be missed by more than the day is long
    late = day(jelly(), wants=(Want(product="jelly", by_min=0, weight=9),))
    found = begun(late, known=Bound(late.horizon_min + 1, "invented"))
    assert found.start is not None
    assert not found.is_never


def test_no_hand_tries_what_pot_and_canner_on_one_fire_cannot_do(monkeypatch):
    """The water takes an hour once the pot is off; jars may wait for twenty minutes."""
    only = Burner(id="strong-1", power_w=3000.0)
    slow = canner(burners=("strong-1",), first_heat_min=60)
    monkeypatch.delattr(start, "by_hand")
    monkeypatch.delattr(start, "by_turns")
    found = begun(day(jelly(), burners=(only,), canners=(slow,)))
    assert found.is_never
    assert (found.first, found.start) == (None, None)
