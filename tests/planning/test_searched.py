"""A day searched: how its time is shared out, and what is known of what was found."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import ClassVar

import pytest

from stillroom.planning import searched
from stillroom.planning.answering import Shown
from stillroom.planning.bounding.beside import BoundBeside
from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.cpsat.solve import Search, SearchResult
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.searched import (
    FAR,
    _is_proven,
    _proven_at_last,
    _with_bound,
    _with_end_open,
    search_for,
)
from stillroom.planning.timetable import Timetable
from tests.planning.small_days import day, jelly

DAY = day(jelly())


@pytest.fixture(scope="module")
def plan() -> Timetable:
    found = by_hand(DAY)
    assert found is not None
    assert violations(DAY, found) == ()
    return found


def work(seconds: float = 10.0) -> Search:
    """Counted work."""
    return Search(0.0, 2, 1, True, seconds)


# --- the time ----------------------------------------------------------------------


@pytest.mark.parametrize(("seconds", "until"), [(60.0, 159.5), (4.0, 103.8)])
def test_a_little_of_the_time_is_kept_for_what_comes_after(seconds, until):
    """A twentieth, and never more than half a second: the judge is quick."""
    search, over = search_for(DAY, 100.0, seconds, 2, 1, deterministic=False)
    assert search.until == pytest.approx(until)
    assert over == 100.0 + seconds


def test_counted_work_is_a_share_of_the_time_and_more_on_a_small_day(monkeypatch):
    """A large day's bound is reckoned beside it on the same two cores."""
    small, over = search_for(DAY, 0.0, 10.0, 2, 1, deterministic=True)
    assert small.seconds == pytest.approx(9.0)
    assert over == small.latest
    monkeypatch.setattr(searched, "is_small", lambda _: False)
    large, _ = search_for(DAY, 0.0, 10.0, 2, 1, deterministic=True)
    assert large.seconds == pytest.approx(7.4)


# --- what a search left over ---------------------------------------------------------


class Proof:
    """Stands for the proof by all rules; notes what it is given."""

    asked: ClassVar[list[tuple[int, int, float, float | None]]] = []
    cut = False

    def __init__(self, problem, seed):
        """It needs neither."""

    def up_from(self, known, at_most, seconds, latest, on_better):
        """Prove one minute more."""
        self.asked.append((known, at_most, seconds, latest))
        on_better(known + 1)
        return known + 1


@pytest.mark.parametrize("counted", [True, False])
def test_seconds_that_are_left_over_go_into_the_proof(monkeypatch, plan, counted):
    monkeypatch.setattr(searched, "RuledOut", Proof)
    monkeypatch.setattr(Proof, "asked", [])
    known = Bound(20, "the plain floors")
    search = replace(
        work(), deterministic=counted, latest=1e9, until=time.monotonic() + 30
    )
    for left, asked in ((0.0, 0), (3.0, 1), (100.0, 2)):
        found = SearchResult(timetable=plan, bound=20, unused_s=left)
        beside = BoundBeside(DAY, known, None, 0.0)
        more = _proven_at_last(DAY, found, known, search, beside)
        assert more.minute == beside.best.minute == (21 if asked else 20)
        assert len(Proof.asked) == asked
    (since, at_most, seconds, latest), (*_, more_s, _) = Proof.asked
    assert (since, at_most, seconds) == (20, plan.finish_min, 3.0)
    assert latest == (1e9 if counted else None)
    assert more_s == 100.0 if counted else 20.0 < more_s <= 30.0


def test_nothing_is_proven_at_last_without_a_plan_or_with_its_proof(monkeypatch, plan):
    monkeypatch.setattr(searched, "RuledOut", Proof)
    monkeypatch.setattr(Proof, "asked", [])
    done = Bound(plan.finish_min, "so long it takes")
    for found, known in (
        (SearchResult(unused_s=9.0), Bound(20, "")),
        (SearchResult(timetable=plan, unused_s=9.0), done),
    ):
        beside = BoundBeside(DAY, known, None, 0.0)
        assert _proven_at_last(DAY, found, known, work(), beside) == known
    assert Proof.asked == []


# --- with the end of the day left open -----------------------------------------------


def ending(plan: Timetable, minute: int) -> Timetable:
    """The same, its last step ending then: it breaks a rule."""
    last = max(plan.steps, key=lambda s: s.end_min)
    late = replace(last, end_min=minute)
    found = replace(plan, steps=tuple(late if s == last else s for s in plan.steps))
    assert found.finish_min == minute
    assert violations(DAY, found)
    return found


def shares(monkeypatch, *found: Timetable | None) -> list[tuple[float, object]]:
    """Let these be found one after another; with time and plan that each began with."""
    given = iter(found)
    asked: list[tuple[float, object]] = []

    def end_open(problem: Problem, search: Search, reached: object) -> object:
        asked.append((round(search.seconds, 6), reached))
        return next(given)

    monkeypatch.setattr(searched, "with_end_open", end_open)
    return asked


def test_a_day_that_comes_near_to_its_hours_is_searched_on(plan, monkeypatch):
    """What is far past them does not fit, and what fits needs no second time."""
    near = ending(plan, DAY.horizon_min + 1)
    far = ending(plan, int(FAR * DAY.horizon_min) + 1)
    for first, second, spent in (
        (near, plan, 8.0),
        (far, None, 4.5),
        (plan, None, 4.5),
    ):
        asked = shares(monkeypatch, first, second)
        search = work(10.0)
        assert _with_end_open(DAY, search) == (second or first)
        assert search.seconds == pytest.approx(10.0 - spent)
        assert asked[0] == (4.5, None)
        assert asked[1:] == ([(3.5, near)] if second else [])
    # no plan by hand of a longer day: nothing was searched, nor would be a second time
    asked = shares(monkeypatch, None, plan)
    search = work(10.0)
    assert _with_end_open(DAY, search) is None
    assert search.seconds == 10.0
    assert len(asked) == 1


def on_a_large_day(
    monkeypatch, reached: Timetable | None, start: Timetable | None = None
) -> tuple[list[Timetable | None], Timetable | None]:
    """What a search is begun with, if one is; and what was reached before."""
    begun: list[Timetable | None] = []

    def find(problem: Problem, first: Timetable | None, *_: object, **__: object):
        begun.append(first)
        return SearchResult(timetable=first)

    monkeypatch.setattr(searched, "is_small", lambda _: False)
    monkeypatch.setattr(searched, "_with_end_open", lambda *_: reached)
    monkeypatch.setattr(searched, "find_timetable", find)
    shown = Shown(DAY, None, began=0.0)
    _, _, told = searched.searched(DAY, start, Bound(1, "invented"), shown, work(0.1))
    return begun, told


def test_a_day_that_is_far_too_long_is_not_searched_once_more(plan, monkeypatch):
    near = ending(plan, DAY.horizon_min + 1)
    far = ending(plan, int(FAR * DAY.horizon_min) + 1)
    assert on_a_large_day(monkeypatch, far) == ([], far)
    # near to its hours it may still fit, but what breaks them is no plan to begin with
    assert on_a_large_day(monkeypatch, near) == ([None], near)
    assert on_a_large_day(monkeypatch, plan) == ([plan], plan)


def asked_for_any(
    monkeypatch, reached: Timetable | None, *found: Timetable | None
) -> tuple[list[tuple[float, int]], tuple[Timetable | None, Timetable | None]]:
    """With which seconds and seeds any plan was asked for, and what came of it."""
    given, asked = iter(found), []

    def any_plan(_: object, least: int, search: Search) -> tuple[object, float]:
        asked.append((round(search.seconds, 6), search.seed))
        return next(given), search.seconds

    monkeypatch.setattr(searched, "any_plan", any_plan)
    monkeypatch.setattr(searched, "_with_end_open", lambda *_: reached)
    return asked, searched._begun_otherwise(DAY, 1, work(10.0))


def test_any_plan_is_asked_for_first_and_once_more_where_none_is_by_hand(
    plan, monkeypatch
):
    late = ending(plan, DAY.horizon_min + 1)
    three_tenths, once_more = (3.0, 1), (4.2, 2)
    for reached, found, asked, came in (
        (plan, [plan], [three_tenths], (plan, None)),
        (plan, [None], [three_tenths], (plan, plan)),
        (late, [None], [three_tenths], (None, late)),
        (None, [None, plan], [three_tenths, once_more], (plan, None)),
        (None, [None, None], [three_tenths, once_more], (None, None)),
    ):
        assert asked_for_any(monkeypatch, reached, *found) == (asked, came)


def test_a_day_that_has_a_plan_is_not_left_open(plan, monkeypatch):
    assert on_a_large_day(monkeypatch, None, start=plan) == ([plan], None)


# --- what is known of it -----------------------------------------------------------


def test_the_better_of_two_bounds_holds(plan):
    found = SearchResult(timetable=plan, bound=20)
    _with_bound(DAY, found, Bound(30, "invented"))
    assert found.bound == 30
    _with_bound(DAY, found, Bound(25, "invented"))
    assert found.bound == 30


def test_a_bound_past_the_day_proves_that_there_is_no_plan_and_one_at_its_end_not(plan):
    last = DAY.horizon_min
    for minute, made, impossible in (
        (last, None, False),
        (last + 1, None, True),
        (last + 1, plan, False),  # late by its points, and made all the same
    ):
        found = SearchResult(timetable=made)
        _with_bound(DAY, found, Bound(minute, "invented"))
        assert found.impossible == impossible


def test_a_plan_as_good_as_its_bound_is_proven(plan):
    least = score(DAY, plan)
    assert _is_proven(DAY, SearchResult(timetable=plan, bound=least))
    assert not _is_proven(DAY, SearchResult(timetable=plan, bound=least - 1))
    assert not _is_proven(DAY, SearchResult(bound=least))


class Slow:
    """A bound beside that the clock has cut short."""

    cut = True

    def stop(self, *, now: bool) -> Bound:
        return Bound(40, "invented")

    def told_in(self, trace: object) -> tuple[tuple[float, int, int], ...]:
        return ((1.0, 90, 40),)


def test_what_the_clock_cut_of_the_bound_is_noted_and_its_moments_are_told(
    plan, monkeypatch
):
    monkeypatch.setattr(searched, "_beside", lambda *_: Slow())
    monkeypatch.setattr(
        searched,
        "find_timetable",
        lambda *_, **__: SearchResult(timetable=plan, trace=[(1.0, 90, 30)]),
    )
    search = work(1.0)
    shown = Shown(DAY, None, began=0.0)
    found, known, _ = searched.searched(DAY, plan, Bound(30, ""), shown, search)
    assert search.cut.happened
    assert known.minute == found.bound == 40
    assert found.trace == [(1.0, 90, 40)]
