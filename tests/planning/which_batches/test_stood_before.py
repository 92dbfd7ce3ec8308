"""What stands before its day stands as long as is printed, whenever the day begins."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.problem import Problem, Window
from stillroom.planning.which_batches.around import evening_tasks
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.evening import evening_before
from stillroom.planning.which_batches.kitchen_problem import problem_of
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import granted
from tests.kitchens import CUP, day, stores

POUND = 0.45359237


def a_day(product: str, jars: int, lot: Lot, starts: dt.time) -> Day:
    want = Want(product=product, jars=jars, jar="pint")
    return day(want, shelf=(lot, *stores()), starts=starts)


def planned(today: Day) -> tuple[list[tuple[Window, ...]], dt.datetime]:
    """The windows of each batch, and when what stands is begun."""
    air = granted(air_in(today.kitchen))
    made = make_batches(
        today, Place(kitchen=today.kitchen, air=air), Shelf(today.shelf)
    )
    problem = problem_of(today, made, air)
    assert isinstance(problem, Problem)
    tasks = evening_tasks(today, evening_before(today, made), {})
    begun = next(task.when for task in tasks if "wash and cut" in task.what)
    return [batch.windows for batch in problem.batches], begun


CUCUMBERS = Lot(name="c", what="pickling cucumbers", mass_kg=16.1 * POUND)
CHOPPED = Lot(name="c", what="cucumbers", volume_m3=24.1 * CUP)


@pytest.mark.parametrize("starts", [dt.time(5), dt.time(6, 30), dt.time(7)])
@pytest.mark.parametrize(
    ("product", "lot", "jars", "step", "hours"),
    [
        # Guide 6: 12 h in the soak; 4 h, 1 h and 24 h in ice and in the syrup
        ("quick fresh-pack dill pickles", CUCUMBERS, 16, "drain", 12),
        ("pickle relish", CHOPPED, 16, "from_cold", 29),
    ],
)
def test_what_stands_longer_than_the_night_is_gone_on_with_later(
    product, lot, jars, step, hours, starts
):
    """Relish that stands 29 h was begun at seven and boiled at seven."""
    today = a_day(product, jars, lot, starts)
    windows, begun = planned(today)
    assert len(windows) == 2
    for (window,) in windows:
        assert window.step == step
        start = dt.datetime.combine(today.date, starts)
        stood = start + dt.timedelta(minutes=window.earliest_min) - begun
        assert hours * 60 < stood.total_seconds() / 60 < hours * 60 + 45  # the cutting
        assert "stood as long as is printed" in window.why


def test_after_a_long_day_it_is_begun_later_and_stands_as_long():
    dills = a_day("quick fresh-pack dill pickles", 8, CUCUMBERS, dt.time(7))
    (early,), begun = planned(dills)
    seven = dt.datetime.combine(dt.date(2026, 8, 21), dt.time(19))
    long = seven + dt.timedelta(minutes=106)
    (late,), then = planned(replace(dills, evening_from=long))
    assert (begun, then) == (seven, long)
    assert late[0].earliest_min - early[0].earliest_min == 106


def test_what_is_cut_on_one_evening_is_cut_one_behind_another():
    """Dills and piccalilli: by the same hands, and both stand twelve hours."""
    dills = a_day("quick fresh-pack dill pickles", 8, CUCUMBERS, dt.time(7))
    piccalilli = Want(product="piccalilli", jars=9, jar="half-pint")
    lots = [
        Lot(name=what, what=what, volume_m3=cups * CUP)
        for what, cups in (
            ("green tomatoes", 6.1),
            ("sweet red peppers", 1.6),
            ("sweet green peppers", 1.6),
            ("onions", 2.3),
            ("cabbage", 7.6),
        )
    ]
    both = replace(dills, wants=(*dills.wants, piccalilli), shelf=(*dills.shelf, *lots))
    ((alone,),) = planned(dills)[0]
    ((soaked,), (salted,)) = planned(both)[0]
    assert soaked.earliest_min > alone.earliest_min
    assert (
        salted.earliest_min == soaked.earliest_min
    )  # twelve hours are printed of both


def test_relish_is_begun_in_the_morning_and_dills_in_the_evening():
    relish = a_day("pickle relish", 9, CHOPPED, dt.time(8))
    assert f"{planned(relish)[1]:%d %H:%M}" == "21 07:00"
    dills = a_day("quick fresh-pack dill pickles", 8, CUCUMBERS, dt.time(8))
    assert f"{planned(dills)[1]:%d %H:%M}" == "21 19:00"


@pytest.mark.parametrize(
    ("product", "lot", "heading"),
    [
        ("pickle relish", CHOPPED, "The day before"),
        ("quick fresh-pack dill pickles", CUCUMBERS, "The evening before"),
    ],
)
def test_what_is_begun_in_the_morning_is_no_thing_of_the_evening(product, lot, heading):
    plan = plan_the_day(a_day(product, 8, lot, dt.time(8)), seconds=0.2)
    assert isinstance(plan, DayPlan)
    assert plan.before_is_called == heading


def test_a_night_that_is_long_enough_holds_nothing_back():
    dills = a_day("quick fresh-pack dill pickles", 8, CUCUMBERS, dt.time(8))
    assert planned(dills)[0] == [()]
