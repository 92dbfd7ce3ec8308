"""What no plan can beat when everything is asked for together."""

from __future__ import annotations

import time
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st
from planning.day_strategies_small import random_days, random_pan_days
from planning.pan_days import NOTHING, bound_min, pan_batch
from planning.small_days import canner, day, jelly, person, step
from planning.stirring_days import random_stirring_days
from planning.test_any_day import SLOW, assume_sense

from stillroom.methods.step import Link, Skill
from stillroom.planning.bounding.beside import BoundBeside
from stillroom.planning.bounding.bounds import Bound, lower_bound_min
from stillroom.planning.bounding.pans import pans
from stillroom.planning.bounding.prices import Prices, Stretches, weigh
from stillroom.planning.bounding.supplies import capacity, spared_min
from stillroom.planning.bounding.together import (
    FINE,
    FINEST,
    bound_together,
    by_stretch,
    smeared,
)
from stillroom.planning.bounding.windows import window_bound_min
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Break, Pot, Problem, Window
from stillroom.planning.timetable import Answer

# --- never too late ------------------------------------------------------------------


@settings(max_examples=60, deadline=None, suppress_health_check=SLOW)
@given(random_days() | random_pan_days() | random_stirring_days())
def test_no_plan_by_hand_ends_before_the_bound(problem: Problem) -> None:
    assume_sense(problem)
    plan = by_hand(problem, shuffles=2)
    if plan is not None:
        least = bound_min(problem)
        event("later" if least > lower_bound_min(problem) else "not later")
        assert least <= plan.finish_min


@settings(max_examples=20, deadline=None, suppress_health_check=SLOW)
@given(random_days() | random_pan_days() | random_stirring_days())
def test_no_proven_plan_ends_before_the_bound(problem: Problem) -> None:
    assume_sense(problem)
    # wants are left out, so that what is proven is the earliest finish of all
    problem = replace(problem, wants=())
    answer = plan_day(problem, seconds=1.0)
    if isinstance(answer, Answer):
        event("proven" if answer.proven else "not proven")
        assert bound_min(problem, FINEST) <= answer.finish_min


@settings(max_examples=60, deadline=None, suppress_health_check=SLOW)
@given(random_days() | random_pan_days() | random_stirring_days(), st.data())
def test_no_prices_whatever_prove_that_a_plan_is_none(
    problem: Problem, data: st.DataObject
) -> None:
    assume_sense(problem)
    plan = by_hand(problem, shuffles=2)
    if plan is None:
        return
    asked = smeared(problem)
    stretch = Stretches(plan.finish_min, data.draw(st.integers(1, 40)))
    seed = data.draw(st.integers(0, 2**32))
    drawn = np.random.default_rng(seed)

    def some(lines: int, most: int) -> tuple[np.ndarray, ...]:
        rare = drawn.random((lines, stretch.count)) < drawn.random((lines, 1))
        return tuple(drawn.integers(0, most, (lines, stretch.count)) * rare)

    prices = Prices(
        some(len(asked.supplies), 9),
        some(len(asked.canning.jars), 40),
        some(len(asked.canning.kinds), 40),
        {n: int(drawn.integers(0, 9)) for n in asked.pairs(stretch.end)},
        tuple(int(n) for n in drawn.integers(-50, 50, len(asked.canning.families))),
    )
    there = [
        by_stretch(capacity(problem, s, stretch.end), stretch) for s in asked.supplies
    ]
    verdict = weigh(
        stretch,
        prices,
        asked.kinds,
        asked.canning,
        asked.rests(stretch),
        there,
        [spared_min(asked.problem, s, stretch.end) for s in asked.supplies],
        asked.pairs(stretch.end),
    )
    assert verdict.surplus <= 0


# --- the smallest days ---------------------------------------------------------------


def test_two_pans_in_one_pair_of_hands_one_after_the_other() -> None:
    # two quarters each for 10 min would fit beside one another, 30 in all; but then
    # both boil at once, and each boil takes all four: 20 + 20
    problem = day(pan_batch("a"), pan_batch("b"), canners=())
    assert lower_bound_min(problem) == 30
    assert bound_min(problem) == 40
    answer = plan_day(problem, seconds=2.0)
    assert isinstance(answer, Answer)
    assert answer.finish_min == 40


def test_a_pan_fits_beside_the_end_of_slow_stirring() -> None:
    # stir for 20 min and watch beside it all the while, then boil: 20 + 10
    fire = {"skill": Skill.PAN, "burner_w": 2000.0, "in_pot": True}
    slow = pan_batch("slow", steps=(step("stir", 20, 2, **fire),), links=())
    watch, boil = pan_batch().steps
    pan = pan_batch(steps=(replace(watch, duration_min=20), boil))
    problem = day(pan, slow, canners=())
    answer = plan_day(problem, seconds=2.0)
    assert isinstance(answer, Answer)
    assert answer.finish_min == 30
    assert bound_min(problem) == 30


def test_pans_that_end_in_one_boil_may_be_watched_side_by_side() -> None:
    # both are watched for 10 min, then one boil of 10: 20 in one pair of hands
    fire = {"skill": Skill.PAN, "burner_w": 2000.0, "same_hands": "pan"}
    batch = pan_batch(
        steps=(
            step("one", 10, 2, **fire),
            step("other", 10, 2, **fire),
            step("boil", 10, 4, **fire),
        ),
        links=(
            Link(before="one", after="boil", at_most_min=0),
            Link(before="other", after="boil", at_most_min=0),
        ),
    )
    assert len(pans(batch)) == 1
    problem = day(batch, canners=())
    plan = by_hand(problem, shuffles=2)
    assert plan is not None
    assert plan.finish_min == 20
    assert bound_min(problem) == 20


def test_two_steps_in_one_pot_share_its_fire() -> None:
    # heated for 10 min, and looked into for 10: at the same time, the judge allows it
    fire = {"burner_w": 3000.0, "in_pot": True, "skill": Skill.PAN}
    steps = (step("heat", 10, 0, **fire), step("look", 10, 1, **fire))
    batch = pan_batch(steps=steps, links=(), pots=("big",))
    problem = day(batch, canners=())
    plan = by_hand(problem, shuffles=2)
    assert plan is not None
    at_once = tuple(replace(s, start_min=0, end_min=10) for s in plan.steps)
    assert violations(problem, replace(plan, steps=at_once)) == ()
    assert bound_min(problem) == 10


def test_a_batch_that_may_go_into_either_pot_asks_for_neither_alone() -> None:
    # 10 min in a pot each, the first only in the small one: the second has the big
    steps = (step("stand", 10, 0, in_pot=True),)
    first = pan_batch("a", steps=steps, links=(), pots=("small",))
    either = [pan_batch(n, steps=steps, links=(), pots=("small", "big")) for n in "bc"]
    pots = (Pot(id="s", size="small"), Pot(id="b", size="big"))
    two = replace(day(first, either[0], canners=()), pots=pots)
    assert bound_min(two) == 10
    assert bound_min(replace(two, batches=(first, *either))) > 10


def test_one_batch_is_bounded_by_its_own_length() -> None:
    # two people: heat 15 before fill; boil 23, fill 5, lid 4, then 35 in the canner
    problem = day(jelly(), people=2)
    answer = plan_day(problem, seconds=2.0)
    assert isinstance(answer, Answer)
    assert answer.finish_min == 67
    assert bound_min(problem) == 67


def test_hands_and_canner_together_are_worth_more_than_each() -> None:
    # one person, one canner: while the last load is in it, there is little left to do
    # than to wash up, so that the work cannot be spread until the end
    problem = day(*(jelly(f"j{n}") for n in range(4)), big_pots=2)
    windows = window_bound_min(problem, lower_bound_min(problem))
    assert bound_min(problem) > windows


def test_a_break_within_the_day_takes_its_time() -> None:
    # 40 min of one person's boiling, and a break of 15 that begins by minute 20
    rest = Break(duration_min=15, earliest_min=10, latest_start_min=20)
    batches = (pan_batch("a"), pan_batch("b"))
    problem = day(*batches, people=(person("p", breaks=(rest,)),), canners=())
    assert bound_min(problem) == 55
    answer = plan_day(problem, seconds=2.0)
    assert isinstance(answer, Answer)
    assert answer.finish_min == 55


def test_a_break_after_the_work_takes_none() -> None:
    rest = Break(duration_min=15, earliest_min=10, latest_start_min=60)
    batches = (pan_batch("a"), pan_batch("b"))
    problem = day(*batches, people=(person("p", breaks=(rest,)),), canners=())
    assert bound_min(problem) == 40


def test_who_minds_a_baby_has_fewer_quarters() -> None:
    # two quarters to give: two steps of two quarters, ten minutes each, in turn
    watch = step("watch", 10, 2)
    batches = [pan_batch(n, steps=(watch,), links=()) for n in "ab"]
    assert bound_min(day(*batches, canners=())) == 10
    minder = person("minder", quarters=2)
    assert bound_min(day(*batches, people=(minder,), canners=())) == 20


def test_who_has_two_quarters_gives_both_to_one_thing() -> None:
    # half of a person is all of a minder: one watching of ten minutes takes ten
    minder = person("minder", quarters=2)
    watch = step("watch", 10, 2)
    batches = [pan_batch(n, steps=(watch,), links=()) for n in "abc"]
    assert bound_min(day(batches[0], canners=(), people=(minder,))) == 10
    assert bound_min(day(*batches, canners=(), people=(minder,))) == 30


def test_a_step_is_not_before_its_hour() -> None:
    # the boil not before minute 100 by the clock, so that watching begins at 90
    dripped = pan_batch("a", windows=(Window(step="boil", earliest_min=100),))
    assert bound_min(day(dripped, canners=())) == 110


def test_like_batches_with_other_hours_are_not_alike() -> None:
    # one by the clock at 100, the other at once: the first alone ends at 110
    dripped = pan_batch("a", windows=(Window(step="boil", earliest_min=100),))
    problem = day(dripped, pan_batch("b"), canners=())
    answer = plan_day(problem, seconds=2.0)
    assert isinstance(answer, Answer)
    assert bound_min(problem) == answer.finish_min == 110


def test_a_step_is_not_after_its_hour() -> None:
    # two in one pair of hands, 40 min in all, both to be watched from 15 on at latest
    hurried = [
        pan_batch(n, windows=(Window(step="watch", latest_min=15),)) for n in "ab"
    ]
    assert bound_min(day(*hurried, canners=(), horizon_min=60)) == 61


def test_nothing_fits_is_one_past_the_end() -> None:
    problem = day(*(jelly(f"j{n}") for n in range(6)), horizon_min=120)
    found = bound_together(problem, NOTHING)
    assert found.minute == 121
    assert "the hands of p1" in found.why


def test_what_is_known_is_kept() -> None:
    known = Bound(400, "somebody said so")
    assert bound_together(day(jelly()), known) == known


def test_no_proof_is_tried_beyond_a_plan() -> None:
    problem = day(pan_batch("a"), pan_batch("b"), canners=())
    assert bound_together(problem, NOTHING, at_most=35).minute == 35


def test_time_that_is_over_proves_nothing() -> None:
    assert bound_together(day(jelly()), NOTHING, is_over=lambda: True) == NOTHING


def test_finer_stretches_prove_what_coarser_leave_open() -> None:
    # five pans of 20 minutes that each take a whole pair of hands: three in one of them
    pans = (pan_batch(f"p{n}") for n in range(5))
    problem = day(*pans, people=2, canners=())
    assert bound_min(problem) == 59
    assert bound_min(problem, FINEST) == 60


def test_a_round_over_the_finest_is_counted_as_twelve() -> None:
    asked = []

    def rounds(stretches: int) -> int:
        asked.clear()
        pans = (pan_batch(f"p{n}") for n in range(3))
        smeared(day(*pans, canners=())).cannot_end_by(
            59, stretches, is_over=lambda: bool(asked.append(0))
        )
        return len(asked)

    assert rounds(FINE) > 0
    assert rounds(FINEST) % 12 == 0
    assert rounds(FINEST) > 0


def test_a_day_of_nothing() -> None:
    assert bound_together(day(), NOTHING) == NOTHING


def test_canners_of_two_speeds_are_both_used() -> None:
    # quick and slow: neither the slow one's times nor the quick one's hold for all
    quick = canner("quick", burners=("strong-1",), come_up_min=2, first_heat_min=0)
    slow = canner("slow", burners=("middle-1",), come_up_min=40, first_heat_min=0)
    problem = day(
        *(jelly(f"j{n}", pots=()) for n in range(3)), people=4, canners=(quick, slow)
    )
    answer = plan_day(problem, seconds=3.0)
    assert isinstance(answer, Answer)
    assert bound_min(problem) <= answer.finish_min


# --- beside the search ---------------------------------------------------------------


def test_bounds_are_told_as_they_came() -> None:
    beside = BoundBeside(day(jelly()), NOTHING, None, time.monotonic())
    beside.told = [(1.0, 50), (3.0, 60)]
    told = beside.told_in([(0.5, 90, 40), (2.0, 80, 40), (4.0, 70, 65)])
    assert told == (
        (0.5, 90, 40),
        (1.0, 90, 50),
        (2.0, 80, 50),
        (3.0, 80, 60),
        (4.0, 70, 65),
    )


def test_the_bound_beside_is_the_same_each_time_when_it_is_not_hurried() -> None:
    problem = day(pan_batch("a"), pan_batch("b"), canners=())
    found = []
    for _ in range(2):
        beside = BoundBeside(problem, NOTHING, None, time.monotonic())
        beside.start_counted(5.0, latest=float("inf"))
        found.append(beside.stop(now=False))
    assert found[0] == found[1]
    assert found[0].minute == 40


def test_what_fails_beside_is_not_lost(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object, **__: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("stillroom.planning.bounding.beside.bound_together", fails)
    beside = BoundBeside(day(jelly()), NOTHING, None, time.monotonic())
    beside.start(5.0)
    with pytest.raises(ZeroDivisionError):
        beside.stop()


def test_what_is_short_is_named_as_it_is_there() -> None:
    # no hands at all: two batches of ten minutes in the one pot, or on the one mill
    pot = step("stand", 10, 0, in_pot=True)
    mill = step("mill", 10, 0, on_mill=True)
    for one, pots, said in (
        (pot, ("big",), "the pot is taken until then"),
        (mill, (), "the mill is taken until then"),
    ):
        batches = [pan_batch(n, steps=(one,), links=(), pots=pots) for n in "ab"]
        problem = day(*batches, canners=(), pots=(Pot(id="big-1", size="big"),))
        assert bound_together(problem, NOTHING) == Bound(20, said)


def test_the_plan_says_what_is_short() -> None:
    problem = day(pan_batch("a"), pan_batch("b"), canners=())
    answer = plan_day(problem, seconds=2.0, deterministic=True)
    assert isinstance(answer, Answer)
    assert answer.lower_bound_min == 40
    assert answer.lower_bound_why == "the hands of p1 are taken until then"


def test_no_hands_are_taken_before_they_are_there() -> None:
    # two stirrings in one pair of hands: 40 min; p2 comes at 200, and is not taken by
    # then, though she may do all that p1 does
    problem = day(
        pan_batch("a"),
        pan_batch("b"),
        canners=(),
        people=(person("p1"), person("p2", arrives_min=200)),
    )
    found = bound_together(problem, NOTHING)
    assert found == Bound(40, "the hands of p1 are taken until then")
