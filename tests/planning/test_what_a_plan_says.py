"""The words and sums of a day's answer, each of what it is about."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stillroom.methods.method import Kept
from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Want
from stillroom.planning.dayplan import DayPlan, LeftOut, MadeBatch, jars_by_kind
from stillroom.planning.goal_order import Goal, in_order
from stillroom.planning.one_thing_more import with_one_more
from stillroom.planning.problem import Burner, Counter
from stillroom.planning.timetable import Answer, Timetable
from stillroom.planning.way_changes import (
    Change,
    Kind,
    changed,
    starting_earlier,
    without,
)
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import Caution, granted
from tests.kitchens import day as kitchen_day
from tests.planning.small_days import Want as DueWant
from tests.planning.small_days import butter, day, jelly, person

TWO = kitchen_day(
    Want(product="plum jelly", jars=16, jar="half-pint"),
    Want(product="plum jelly", jars=4, jar="pint"),
)


def batches(today: Day) -> list[MadeBatch]:
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    return make_batches(today, place, Shelf(today.shelf)).batches


def left_out(**changes: object) -> LeftOut:
    one = LeftOut(
        batches=("plum jelly 1",),
        product="plum jelly",
        jar="half-pint",
        jars=8,
        why="",
        fruit="",
        spoils=False,
    )
    return replace(one, **changes)  # type: ignore[arg-type]


def answer(**changes: object) -> DayPlan:
    plan = DayPlan(
        day=TWO,
        air=granted(air_in(TWO.kitchen)),
        batches=(),
        problem=None,
        answer=None,
        shopping=(),
        unmet=(),
        leftovers=(),
        evening_before=(),
        afterwards=(),
        cautions=(),
    )
    return replace(plan, **changes)  # type: ignore[arg-type]


# --- batches and their jars -----------------------------------------------------


def test_jars_are_summed_over_the_batches_of_one_product_and_size():
    made = batches(TWO)
    first, second, pints = made
    assert jars_by_kind(made) == {
        ("plum jelly", "half-pint"): first.jars + second.jars,
        ("plum jelly", "pint"): pints.jars,
    }
    assert min(first.jars, second.jars, pints.jars) > 1  # else jars are as batches


@pytest.mark.parametrize(
    ("kept", "said"),
    [
        (Kept.DRY, "kept dry"),
        (Kept.FREEZER, f"kept in the {Kept.FREEZER}"),
        (Kept.COLD, f"kept in the {Kept.COLD}"),
    ],
)
def test_what_has_no_process_says_what_keeps_it(kept, said):
    batch = batches(TWO)[0]
    assert batch.process is not None
    assert batch.keeping == f"{batch.process.total_min} min process"
    assert replace(batch, process=None, kept=kept).keeping == said


def test_cautions_of_the_process_go_with_those_of_the_batch():
    batch = batches(TWO)[0]
    assert batch.process is not None
    steam = Caution("steam", "the book")
    process = replace(batch.process, cautions=(steam,))
    assert replace(batch, process=process).all_cautions == (*batch.cautions, steam)
    assert replace(batch, process=None).all_cautions == batch.cautions


def test_what_recipe_and_process_say_in_other_words_is_said_once():
    """Of pear butter it stood there twice that Asian pears are not acid enough."""
    batch = batches(TWO)[0]
    assert batch.process is not None
    of_recipe = Caution("European pears only; Asian pears are not acid enough.", "one")
    again = Caution("European pears; Asian pears need added acid.", "another")
    steam = Caution("steam", "the book")
    process = replace(batch.process, cautions=(again, steam))
    both = replace(batch, cautions=(of_recipe,), process=process)
    assert both.all_cautions == (of_recipe, steam)


# --- what is left out, and what is proven ---------------------------------------


def test_what_is_proven_of_what_is_left_out_is_said_and_no_more():
    assert left_out().room == (
        "no room was found for it; that there is none is not proven"
    )
    assert left_out(proven=True).room == (
        "proven: no plan has room for it beside what is kept"
    )
    cannot = left_out(proven=True, cannot=True)
    assert cannot.room == "it cannot be made as the day stands, however long the day is"
    assert replace(cannot, short_day=True).room == "it cannot be made in so short a day"


def test_a_bound_is_one_of_the_kitchen_only_where_nothing_is_left_out():
    assert answer().bound_of == "this kitchen"
    assert answer(left_out=(left_out(),)).bound_of == "these batches"
    assert answer(however_divided=False).bound_of == "these batches"
    assert answer(on_strongest_fires=False).bound_of == "these batches"


def test_the_gap_is_a_share_of_the_plan_and_not_of_the_bound():
    found = Answer(
        timetable=Timetable(steps=(), loads=(), breaks=()),
        by_hand=None,
        made_by="solver",
        finish_min=400,
        lateness=0,
        lower_bound_min=300,
        proven=False,
        solve_s=1.0,
        first_plan_s=0.1,
    )
    assert found.gap == 0.25
    assert replace(found, lower_bound_min=500).gap == 0.0


def test_a_goal_that_is_named_twice_counts_once_at_its_first_place():
    named = in_order([Goal.CALM, Goal.EARLY, Goal.CALM])
    assert named[:2] == (Goal.CALM, Goal.EARLY)
    assert sorted(named) == sorted(Goal)


# --- the same day with something changed ----------------------------------------


def test_one_more_burner_is_as_strong_as_the_strongest():
    problem = replace(
        day(jelly(), canners=()),
        burners=(Burner(id="weak", power_w=900.0), Burner(id="hot", power_w=3200.0)),
    )
    more = dict(with_one_more(problem))
    added = more["one more burner of 3.2 kW"].burners[-1]
    assert (added.id, added.power_w) == ("one more burner", 3200.0)


def test_jars_of_the_day_before_are_taken_away_by_the_same_clock():
    """Their places are free at 9:00, also on a day that begins an hour sooner."""
    counter = Counter(places=30, cooling_min=720, taken=((12, 90),))
    problem = day(jelly(), counter=counter)
    assert starting_earlier(problem, 60).counter.taken == ((12, 150),)


def test_nobody_comes_before_the_day_begins():
    problem = day(jelly(), people=(person("Ada"), person("Ben", arrives_min=20)))
    sooner = changed(problem, (Change(kind=Kind.COMES, subject="Ben", amount=45),))
    assert [p.arrives_min for p in sooner.people] == [0, 0]


def test_a_promise_goes_with_the_batches_that_it_was_for():
    wants = (
        DueWant(product="jelly", by_min=300),
        DueWant(product="butter", by_min=400),
    )
    problem = day(jelly(), butter(), wants=wants)
    assert [w.product for w in without(problem, {"jelly-1"}).wants] == ["butter"]
