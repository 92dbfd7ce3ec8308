"""The rest of a day looked at for longer: the better plan of the two is kept."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from stillroom.planning.begun.changes import Changes
from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import Answer
from stillroom.refusal import Refusal
from stillroom.running import again as again_module
from stillroom.running import look_longer as module
from stillroom.running.again import HARDER, OFFERS_S, Again, Told, plan_again
from stillroom.running.events import DayBegun, KeptPlan
from stillroom.running.fold import RunState, fold
from stillroom.running.look_longer import LONGER_S, look_longer, takes_s
from tests.planning.small_days import day, jelly

START = dt.datetime(2026, 9, 12, 8, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))


@pytest.fixture(scope="module")
def begun() -> tuple[RunState, Again]:
    problem = day(jelly("a"), jelly("b"))
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    kept = KeptPlan(of="x", problem=problem, timetable=answer.timetable)
    state = fold([DayBegun(loads=(), plan=kept, occurred_at=START)])
    found = plan_again(state, START + dt.timedelta(minutes=10), Told(), seconds=1.0)
    assert isinstance(found, Again)
    return state, found


def ended(again: Again, later_min: int) -> Again:
    """The same with its plan so much later, as a search might have found it."""
    new = again.found.new
    steps = tuple(
        replace(s, start_min=s.start_min + later_min, end_min=s.end_min + later_min)
        for s in new.steps
    )
    loads = tuple(replace(load, out_min=load.out_min + later_min) for load in new.loads)
    new = replace(new, steps=steps, loads=loads)
    return replace(again, found=replace(again.found, new=new))


@pytest.mark.parametrize(("later_min", "better"), [(-10, True), (0, False), (1, False)])
def test_the_better_of_two_is_kept(
    monkeypatch: pytest.MonkeyPatch,
    begun: tuple[RunState, Again],
    later_min: int,
    better: bool,
) -> None:
    """Asked for the same minute and what was told then, with ten seconds for it."""
    state, shown = begun
    told = Told(changes=Changes(leaves_min={"p1": 300}))
    shown = replace(shown, told=told, said=told)
    other = ended(shown, later_min)
    asked: list[Any] = []

    def plan(*args: Any, **more: Any) -> Again:
        asked.append((args, more))
        return other

    monkeypatch.setattr(module, "plan_again", plan)
    found = look_longer(shown, state)
    assert isinstance(found, Again)
    assert found.better is better
    assert found.found is (other if better else shown).found
    assert asked == [((state, shown.at, told), {"seconds": LONGER_S, "own": shown.own})]


@pytest.mark.parametrize(
    ("told", "times"),
    [(Told(), 1), (Told(changes=Changes(leaves_min={"p1": 300})), HARDER)],
)
def test_where_hands_are_gone_the_search_takes_longer(
    monkeypatch: pytest.MonkeyPatch,
    begun: tuple[RunState, Again],
    told: Told,
    times: int,
) -> None:
    state, shown = begun
    asked_s: list[float] = []
    no = Refusal("stop here", instead="", source="this test")

    def planned(_: Any, __: Any, seconds: float) -> Refusal:
        asked_s.append(seconds)
        return no

    monkeypatch.setattr(again_module._Rest, "planned", planned)
    assert plan_again(state, shown.at, told, seconds=3.0) is no
    assert asked_s == [3.0 * times]
    assert takes_s(replace(shown, told=told)) == LONGER_S * times + OFFERS_S


def test_what_has_happened_since_is_not_passed_over(
    begun: tuple[RunState, Again],
) -> None:
    state, shown = begun
    no = look_longer(shown, replace(state, sequence=state.sequence + 1))
    assert isinstance(no, Refusal)
    assert "something has happened at the stove" in no.reason


def test_what_cannot_be_planned_any_more_is_said(
    monkeypatch: pytest.MonkeyPatch, begun: tuple[RunState, Again]
) -> None:
    state, shown = begun
    no = Refusal("no", instead="yes", source="us")
    monkeypatch.setattr(module, "plan_again", lambda *_, **__: no)
    assert look_longer(shown, state) is no


def test_it_is_found_by_the_planner(begun: tuple[RunState, Again]) -> None:
    """Two jellies of one person are proven to change nothing: none is better."""
    state, shown = begun
    found = look_longer(shown, state, seconds=1.0)
    assert isinstance(found, Again)
    assert (found.better, found.found.new) == (False, shown.found.new)


def test_hands_that_are_gone_take_twice_as_long(begun: tuple[RunState, Again]) -> None:
    _, shown = begun
    gone = Told(changes=Changes(leaves_min={"p1": 300}))
    assert takes_s(shown) == LONGER_S + OFFERS_S
    assert takes_s(replace(shown, told=gone)) == 2 * LONGER_S + OFFERS_S
