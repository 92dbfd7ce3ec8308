"""Pots of a pack, divided in other ways than by the plain rule; work is counted."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from kitchens import CUP, day, kitchen, person, stores

from stillroom.methods.kitchen import Pot
from stillroom.methods.today import air_in
from stillroom.planning.cpsat.solve import Search, find_timetable
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.dayplan import DayPlan, Divided
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.other_days.what_if import plans_at_hand
from stillroom.planning.problem import Problem
from stillroom.planning.sentence import first_sentence
from stillroom.planning.timetable import Answer
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.day_divided import Sizes
from stillroom.planning.which_batches.divisions import divisions
from stillroom.planning.which_batches.kitchen_problem import _is_ready, problem_of
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.planning.which_batches.sizes import (
    LEAST_PROVEN_GAIN_MIN,
    better_sizes,
)
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.words.division_words import division_words
from stillroom.refusal import granted

FRUIT = (
    Lot(name="apples", what="apples", mass_kg=60.0),
    Lot(name="pears", what="pears", mass_kg=60.0),
    Lot(name="quarts", what="quart jars", count=60),
    Lot(name="more juice", what="apple juice", volume_m3=80 * CUP),
    *stores(),
)


def sauce_day(*wants: Want, **changes: object) -> Day:
    return day(*wants, shelf=FRUIT, **changes)


def stated(today: Day, sizes: Sizes) -> Problem:
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    made = make_batches(today, place, Shelf(today.shelf), sizes)
    return granted(problem_of(today, made, place.air))


def sauce_and_a_deep_canner() -> Day:
    # sixteen pints fill one load, and by the rule one pot; two people can fill it from
    # two pots that cook side by side
    (plain,) = kitchen().canners
    deep = replace(plain, places={"half-pint": 18, "pint": 16, "quart": 14})
    return sauce_day(
        Want(product="applesauce", jars=16, jar="pint"),
        kitchen=kitchen(canners=(deep,)),
        people=(person("Ada"), person("Bo")),
    )


def best_end(problem: Problem) -> int:
    found = find_timetable(problem, None, Search(0.0, 2, 1, True, 10.0))
    assert found.timetable is not None
    assert violations(problem, found.timetable) == ()
    assert found.bound == score(problem, found.timetable)  # solved to the end
    return found.bound


def test_every_division_solved_by_itself_is_no_better_than_what_is_chosen():
    today = sauce_and_a_deep_canner()
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    made = make_batches(today, place, Shelf(today.shelf))
    (group,) = made.groups
    ways = [way.sizes for way in divisions(group.chosen, 16, place)]
    assert ways == [(16,), (8, 8), (6, 5, 5)]
    ends = {sizes: best_end(stated(today, {group.name: sizes})) for sizes in ways}
    search = Search(0.0, 2, 1, True, 8.0)
    sized = better_sizes(made, place, lambda sizes: stated(today, sizes), search)
    assert sized is not None
    assert sized.sizes == {group.name: min(ways, key=ends.__getitem__)}
    (told,) = sized.told
    assert (told.plain_ends_min, told.other_ends_min) == (ends[16,], ends[8, 8])
    assert ends[16,] - ends[8, 8] >= LEAST_PROVEN_GAIN_MIN


def test_two_pots_side_by_side_fit_a_day_that_one_large_one_does_not():
    # solved to the end, one pot of sixteen takes 193 minutes and two of eight 174
    today = replace(sauce_and_a_deep_canner(), ends=dt.time(11, 4))
    plan = plan_the_day(today, seconds=3.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    assert [batch.jars for batch in plan.batches] == [8, 8]
    assert plan.left_out == ()
    assert plan.problem is not None
    assert violations(plan.problem, plan.answer.timetable) == ()
    (told,) = plan.divided
    assert told.plain_ends_min is None
    assert "only the first finds room" in division_words(told, "08:00")


def test_a_gain_of_no_more_than_a_pot_to_wash_changes_nothing(monkeypatch):
    gain = "stillroom.planning.which_batches.sizes.LEAST_PROVEN_GAIN_MIN"
    monkeypatch.setattr(gain, 600)
    plan = plan_the_day(sauce_and_a_deep_canner(), seconds=2.0, deterministic=True)
    assert [batch.jars for batch in plan.batches] == [16]
    (told,) = plan.divided
    assert not told.taken
    assert told.other == (8, 8)
    assert "would be little better" in division_words(told, "08:00")


@pytest.fixture(scope="module")
def one_large_pot() -> DayPlan:
    """Sixteen pints in one pot, by the plain rule; two pots end 19 min sooner."""
    with pytest.MonkeyPatch.context() as patch:
        gain = "stillroom.planning.which_batches.sizes.LEAST_PROVEN_GAIN_MIN"
        patch.setattr(gain, 600)
        plan = plan_the_day(sauce_and_a_deep_canner(), seconds=2.0)
    assert isinstance(plan, DayPlan)
    assert [batch.jars for batch in plan.batches] == [16]
    return plan


def test_a_plan_at_hand_does_not_keep_the_pots_from_being_divided_better(one_large_pot):
    """As the day written out is planned, so is the same day with a plan at hand."""
    today = sauce_and_a_deep_canner()
    at_hand = plans_at_hand(one_large_pot)
    changed = plan_the_day(today, seconds=2.0, begin_with=at_hand)
    written = plan_the_day(today, seconds=2.0)
    assert [batch.jars for batch in changed.batches] == [8, 8]
    assert changed.problem == written.problem
    assert changed.answer.finish_min == written.answer.finish_min
    (told,) = changed.divided
    assert told.taken
    assert told.plain_ends_min == one_large_pot.answer.finish_min


def test_a_plan_at_hand_in_other_pots_is_never_given_up_for_the_rule():
    today = sauce_and_a_deep_canner()
    best = plan_the_day(today, seconds=2.0)
    at_hand = plans_at_hand(best)
    for seconds in (0.1, 1.0):
        again = plan_the_day(today, seconds=seconds, begin_with=at_hand)
        assert [batch.jars for batch in again.batches] == [8, 8]
        assert score(again.problem, again.answer.timetable) <= score(
            best.problem, best.answer.timetable
        )
        assert again.divided[0].taken  # so that the next day like it knows its pots


def test_pots_are_not_tried_where_the_plan_at_hand_leaves_nothing_to_gain(monkeypatch):
    today = sauce_day(Want(product="pears", jars=10, jar="quart"))
    plan = plan_the_day(today, seconds=0.5)
    least = "stillroom.planning.which_batches.sizes.lower_bound_min"
    monkeypatch.setattr(least, lambda _: plan.answer.finish_min - 14)
    again = plan_the_day(today, seconds=0.5, begin_with=plans_at_hand(plan))
    assert again.divided == ()
    monkeypatch.setattr(least, lambda _: plan.answer.finish_min - 15)
    again = plan_the_day(today, seconds=0.5, begin_with=plans_at_hand(plan))
    assert again.divided != ()


def test_what_is_proven_of_one_division_is_not_said_of_the_kitchen(one_large_pot):
    assert one_large_pot.answer.proven
    better = plan_the_day(sauce_and_a_deep_canner(), seconds=2.0)
    assert better.answer.finish_min < one_large_pot.answer.lower_bound_min
    assert one_large_pot.bound_of == "these batches"
    assert first_sentence(one_large_pot).endswith(
        " No plan of these batches can end sooner."
    )


def test_what_every_division_is_proven_of_is_said_of_the_kitchen(monkeypatch):
    plan = plan_the_day(sauce_and_a_deep_canner(), seconds=2.0)
    least = "stillroom.planning.however_divided.window_bound_min"
    monkeypatch.setattr(least, lambda problem, least: plan.answer.lower_bound_min)
    all_ = plan_the_day(sauce_and_a_deep_canner(), seconds=2.0)
    assert all_.answer.proven
    assert all_.bound_of == "this kitchen"
    assert first_sentence(all_).endswith(" No plan for this kitchen can end sooner.")
    # one way only, so that there is nothing else to prove
    jelly = plan_the_day(day(Want(product="plum jelly", jars=7, jar="half-pint")))
    assert jelly.bound_of == "this kitchen"


def test_the_day_is_planned_as_it_is_told_and_the_same_again():
    # ten quarts by the rule are pots of 5 and 5
    want = Want(product="pears", jars=10, jar="quart")
    today = sauce_day(want, people=(person("Ada"),))
    plan = plan_the_day(today, seconds=0.5, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert plan.problem is not None
    (told,) = plan.divided
    assert told.plain == (5, 5)
    assert told.ways > 2
    sizes = told.other if told.taken else told.plain
    assert tuple(batch.jars for batch in plan.batches) == sizes
    assert violations(plan.problem, plan.answer.timetable) == ()
    again = plan_the_day(today, seconds=0.5, deterministic=True)
    assert again.answer.timetable == plan.answer.timetable
    assert again.divided == plan.divided


def test_a_keepers_own_pots_and_tested_batches_are_not_divided_otherwise():
    own = Want(product="pears", jars=6, jar="quart", multiple=4)
    plan = plan_the_day(sauce_day(own), seconds=0.5, deterministic=True)
    assert [batch.jars for batch in plan.batches] == [4, 2]
    assert plan.divided == ()
    jelly = plan_the_day(day(), seconds=0.5, deterministic=True)
    assert jelly.divided == ()


def test_pots_that_hold_no_more_leave_one_way():
    small = kitchen(pots=(Pot(name="saucepan", volume_m3=0.0019),))
    want = Want(product="applesauce", jars=2, jar="quart")
    today = replace(sauce_day(want), kitchen=small)
    plan = plan_the_day(today, seconds=0.5, deterministic=True)
    assert [batch.jars for batch in plan.batches] == [1, 1]
    assert plan.divided == ()


def test_what_is_said_of_a_division_has_both_figures():
    told = Divided(
        product="pears",
        jar="quart",
        plain=(7, 7),
        other=(5, 5, 4),
        taken=True,
        why="more, smaller pots",
        plain_ends_min=500,
        other_ends_min=475,
        plain_loads=2,
        other_loads=3,
        searched=True,
        ways=4,
    )
    assert division_words(told, "07:30") == (
        "pears: three batches, two of 5 quarts and one of 4 (more, smaller pots), "
        "rather than two batches of 7 quarts: in a short search of each, done by 15:25 "
        "rather than 15:50, 25 min sooner, with 3 canner loads rather than 2"
    )
    level = division_words(replace(told, other_loads=2), "07:30")
    assert level.endswith("25 min sooner, with 2 canner loads either way")
    kept = replace(told, taken=False, other_ends_min=512, other_loads=2)
    assert "would be no better" in division_words(kept, "07:30")
    assert "no better: in a short search of each, done by" in division_words(
        kept, "07:30"
    )
    assert "12 min later" in division_words(kept, "07:30")
    by_hand = replace(kept, searched=False)
    assert "planned by hand, done by" in division_words(by_hand, "07:30")
    dried = replace(
        kept, product="dried apples", one_is="lb", in_pots=False, canned=False
    )
    said = division_words(dried, "07:30")
    assert "two batches of 7 lb, as few even batches as may be" in said
    assert not any(word in said for word in ("pot", "canner", "quart"))
    alone = replace(told, other=None, taken=False, other_ends_min=None)
    assert "of 3 other ways" in division_words(alone, "07:30")
    full = replace(told, plain_ends_min=None)
    assert "finds room in the day" in division_words(full, "07:30")


@pytest.mark.parametrize(
    ("what", "said"),
    [("pears", "x are ready"), ("plum juice", "x is ready"), ("citrus", "x is ready")],
)
def test_a_lot_is_ready_and_lots_of_fruit_are(what: str, said: str) -> None:
    assert _is_ready(Lot(name="x", what=what)) == said
