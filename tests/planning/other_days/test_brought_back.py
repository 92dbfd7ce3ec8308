"""What one more brings back of what was left out: the whole day planned with it."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from kitchens import day, juice, person, stores

from stillroom.planning.day import Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.other_days import brought_back as brought
from stillroom.planning.other_days.brought_back import brought_back
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import Refusal


def planned(goes: dt.time) -> DayPlan:
    today = day(
        Want(product="plum jelly", jars=62, jar="half-pint"),
        shelf=(juice("plum juice", bags=8), *stores()),
        people=(person(goes=goes),),
        ends=goes,
    )
    plan = plan_the_day(today, seconds=1, explain=False)
    assert isinstance(plan, DayPlan)
    return plan


@pytest.fixture(scope="module")
def full() -> DayPlan:
    return planned(dt.time(10, 30))


def test_a_canner_makes_room_and_nothing_makes_less(full: DayPlan) -> None:
    out = {pair for left in full.left_out for pair in left.each}
    assert out
    back = brought_back(full)
    assert len(back) == 3
    assert [b.jars for b in back] == sorted((b.jars for b in back), reverse=True)
    for one in back:
        assert set(one.batches) <= out
        assert one.jars == sum(jars for _, jars in one.batches)
        assert one.finish_min <= 150
    # a third load comes too late behind two others in the one canner
    assert "canner" in back[0].what
    assert back[0].jars > 0


def test_where_all_fits_nothing_is_brought_back() -> None:
    roomy = planned(dt.time(20))
    assert isinstance(roomy.answer, Answer)
    assert not roomy.left_out
    assert brought_back(roomy, seconds=0.5) == ()


def test_what_has_no_plan_with_one_more_brings_nothing_back(
    full: DayPlan, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With a helper no plan is found, with a burner the kitchen makes no sense."""
    none = NoPlan(clashes=(), minimal=False, would_help=())
    no = Refusal("the kitchen makes no sense", instead="look again", source="here")
    plans = [replace(full, answer=none), no, full]
    monkeypatch.setattr(brought, "plan_the_day", lambda *_, **__: plans.pop(0))
    (one,) = brought_back(full)
    assert plans == []
    assert isinstance(full.answer, Answer)
    assert one.finish_min == full.answer.finish_min
    assert one.batches == ()  # with it the very same is made
    assert one.jars == 0
