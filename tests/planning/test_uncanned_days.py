"""A worked day for each way of putting up that is not jelly, planned and checked."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.cli.contracts import not_made_as_json
from stillroom.methods.kitchen import Pot
from stillroom.methods.method import Kept
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.judge.check import violations
from stillroom.planning.sentence import how_good
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import Refusal
from tests.kitchens import day, kitchen, stores


def today(product: str, jar: str, jars: int, food: str, **amount: float) -> Day:
    """An invented day with one want, one food and a pot of 15 L."""
    return day(
        Want(product=product, jars=jars, jar=jar),
        shelf=(Lot(name="food", what=food, **amount), *stores()),
        kitchen=kitchen(pots=(Pot(name="big pot", volume_m3=0.015),)),
    )


def planned(this: Day) -> DayPlan:
    plan = plan_the_day(this, seconds=1.0)
    assert not isinstance(plan, Refusal)
    return plan


@pytest.mark.parametrize(
    ("product", "jar", "jars", "food", "kept"),
    [
        ("frozen green beans", "pint", 6, "green beans", Kept.FREEZER),
        ("frozen whole onions", "quart", 3, "onions", Kept.FREEZER),
        ("dried apples", "pint", 2, "apples", Kept.DRY),
        ("lard", "pint", 4, "pork fat", Kept.COLD),
        ("strawberry freezer jam", "half-pint", 5, "strawberries", Kept.FREEZER),
        ("sauerkraut", "quart", 9, "cabbage", Kept.COLD),
        ("fermented dill pickles", "quart", 4, "pickling cucumbers", Kept.COLD),
        ("quick sweet pickles", "pint", 8, "pickling cucumbers", Kept.SHELF),
        ("berry syrup", "half-pint", 8, "berries, cherries or grapes", Kept.SHELF),
    ],
)
def test_a_day_of_it_is_planned_and_holds(product, jar, jars, food, kept):
    plan = planned(today(product, jar, jars, food, mass_kg=15.0))
    assert not plan.unmet
    assert sum(batch.jars for batch in plan.batches) == jars
    assert {batch.kept for batch in plan.batches} == {kept}
    assert all(
        (batch.process is None) == (kept is not Kept.SHELF) for batch in plan.batches
    )
    assert isinstance(plan.answer, Answer)
    assert violations(plan.problem, plan.answer.timetable) == ()
    assert plan.afterwards


def test_no_jars_are_counted_out_for_what_stays_in_its_crock():
    plan = planned(today("sauerkraut", "quart", 9, "cabbage", mass_kg=15.0))
    assert [batch.jars for batch in plan.batches] == [9]
    assert not any("Count out" in line for line in plan.evening_before)


def test_low_acid_food_is_welcome_in_the_freezer_without_any_canner():
    this = day(
        Want(product="frozen green beans", jars=4, jar="pint"),
        shelf=(Lot(name="beans", what="green beans", mass_kg=4.0),),
        kitchen=kitchen(canners=()),
    )
    plan = planned(this)
    assert not plan.unmet
    assert any("cubic" in caution.text for caution in plan.cautions)


def test_what_soaks_overnight_is_said_for_the_evening_before():
    plan = planned(
        today(
            "quick fresh-pack dill pickles",
            "pint",
            8,
            "pickling cucumbers",
            mass_kg=5.0,
        )
    )
    (line,) = [line for line in plan.evening_before if "12 h" in line]
    assert line.startswith("The evening before")


def test_what_soaks_overnight_is_told_once_with_who_says_so():
    plan = planned(
        today(
            "quick fresh-pack dill pickles",
            "pint",
            8,
            "pickling cucumbers",
            mass_kg=5.0,
        )
    )
    (task,) = [task for task in plan.evening_tasks if "12 h" in task.what]
    (caution,) = [c for c in plan.batches[0].cautions if c.text == task.what]
    assert task.source == caution.source
    assert task.what not in [c.text for c in plan.cautions]
    others = [task for task in plan.evening_tasks if task.what != caution.text]
    assert others
    assert {other.source for other in others} == {""}


def test_a_day_without_a_plan_says_among_its_cautions_what_soaks_overnight():
    """It has no evening list: nobody is to cut anything for it yet."""
    this = today(
        "quick fresh-pack dill pickles",
        "pint",
        8,
        "pickling cucumbers",
        mass_kg=5.0,
    )
    plan = planned(replace(this, ends=dt.time(8, 10)))
    assert not plan.evening_before
    assert [c.text for c in plan.cautions if "12 h" in c.text]


def test_what_soaks_overnight_is_said_for_all_batches_of_the_day():
    """One batch's salt for three batches' cucumbers was a third of what is printed."""
    plan = planned(
        today(
            "quick fresh-pack dill pickles",
            "pint",
            24,
            "pickling cucumbers",
            mass_kg=15.0,
        )
    )
    assert [batch.multiple for batch in plan.batches] == [1, 1, 1]
    (line,) = [line for line in plan.evening_before if "12 h" in line]
    assert "all 3 batches" in line
    assert "24 lb pickling cucumbers" in line
    assert "6 gallons water and 2 1/4 cups canning salt" in line
    assert line in [task.what for task in plan.evening_tasks]
    assert not [c.text for c in plan.cautions if "12 h" in c.text]  # it is told once


@pytest.mark.parametrize(
    ("product", "food", "where"),
    [
        ("dried apples", "apples", "in the dryer"),
        ("sauerkraut", "cabbage", "in the crock"),
    ],
)
def test_what_is_not_finished_that_day_cannot_be_had_by_an_hour(product, food, where):
    this = today(product, "quart", 2, food, mass_kg=15.0)
    by_one = replace(this.wants[0], by=dt.time(13, 0))
    said = [c.text for c in planned(replace(this, wants=(by_one,))).cautions]
    (told,) = (text for text in said if "is promised by 13:00" in text)
    assert f"stands {where} then: none of it is in a jar that day" in told
    assert not any("is promised" in c.text for c in planned(this).cautions)


@pytest.mark.parametrize(
    ("product", "food", "where"),
    [
        ("dried apples", "apples", "in the dryer"),
        ("sauerkraut", "cabbage", "in the crock"),
    ],
)
def test_such_a_promise_is_never_called_kept(product, food, where):
    """ "Nothing late", and "there by 13:00: nearly always", was said of it."""
    this = today(product, "quart", 2, food, mass_kg=15.0)
    plan = planned(replace(this, wants=(replace(this.wants[0], by=dt.time(13, 0)),)))
    said = (
        f"Promised and in no jar by then: 2 quart jars of {product} by 13:00 "
        f"({where} then). Nothing else is late."
    )
    assert said in how_good(plan)
    assert plan.problem is not None
    assert plan.problem.wants == ()  # the odds know of no promise that can be kept
    (lost,) = not_made_as_json(plan)
    assert (lost["jars"], lost["by"], lost["stands"]) == (2, "13:00", where)
    assert "Nothing late" in how_good(planned(this))


def test_calcium_set_jam_is_refused_with_a_way_out():
    plan = planned(
        today(
            "strawberry jam with calcium pectin",
            "half-pint",
            4,
            "strawberries",
            mass_kg=5.0,
        )
    )
    (unmet,) = plan.unmet
    assert "sets by calcium" in unmet.reason
    assert "leaflet in the box" in unmet.instead


def test_too_little_fruit_says_how_much_is_missing():
    plan = planned(today("dried apples", "pint", 4, "apples", mass_kg=1.0))
    (unmet,) = plan.unmet
    assert "apples" in unmet.reason
    assert "more" in unmet.reason
