"""What no plan can beat when everything is asked for together."""

from __future__ import annotations

import itertools
import time
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st
from planning.day_strategies_small import random_days, random_pan_days
from planning.small_days import canner, day, jelly, person, step
from planning.test_any_day import SLOW, assume_sense

from stillroom.methods.step import Link, Skill, Step
from stillroom.planning.bounding.beside import BoundBeside
from stillroom.planning.bounding.cheapest import (
    NEVER,
    Tie,
    cheapest,
    running_least,
    tree_of,
)
from stillroom.planning.bounding.marks import stretches
from stillroom.planning.bounding.pans import pans, side_by_side_min
from stillroom.planning.bounding.prices import Prices, Stretches, weigh
from stillroom.planning.bounding.supplies import capacity
from stillroom.planning.bounding.together import (
    bound_together,
    by_stretch,
    smeared,
)
from stillroom.planning.bounds import Bound, lower_bound_min
from stillroom.planning.by_hand import by_hand
from stillroom.planning.network import network_of
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Batch, Break, Pot, Problem, Window
from stillroom.planning.timetable import Answer
from stillroom.planning.windows import window_bound_min

NOTHING = Bound(0, "nothing is known")


def bound_min(problem: Problem) -> int:
    return bound_together(problem, NOTHING).minute


def pan_batch(name: str = "a", **changes: object) -> Batch:
    """Watched for ten minutes, then ten that take all of the same hands."""
    fire = {"skill": Skill.PAN, "burner_w": 2000.0, "in_pot": True}
    given_: dict[str, object] = {
        "steps": (
            step("watch", 10, 2, **fire, same_hands="pan"),
            step("boil", 10, 4, **fire, same_hands="pan"),
        ),
        "links": (Link(before="watch", after="boil", at_most_min=0),),
        "process": None,
        "ready_after": "",
        "pots": (),
    }
    return jelly(name, **{**given_, **changes})


# --- never too late ------------------------------------------------------------------


@settings(max_examples=60, deadline=None, suppress_health_check=SLOW)
@given(random_days() | random_pan_days())
def test_no_plan_by_hand_ends_before_the_bound(problem: Problem) -> None:
    assume_sense(problem)
    plan = by_hand(problem, shuffles=2)
    if plan is not None:
        least = bound_min(problem)
        event("later" if least > lower_bound_min(problem) else "not later")
        assert least <= plan.finish_min


@settings(max_examples=20, deadline=None, suppress_health_check=SLOW)
@given(random_days() | random_pan_days())
def test_no_proven_plan_ends_before_the_bound(problem: Problem) -> None:
    assume_sense(problem)
    # wants are left out, so that what is proven is the earliest finish of all
    problem = replace(problem, wants=())
    answer = plan_day(problem, seconds=1.0)
    if isinstance(answer, Answer):
        event("proven" if answer.proven else "not proven")
        assert bound_min(problem) <= answer.finish_min


@settings(max_examples=60, deadline=None, suppress_health_check=SLOW)
@given(random_days() | random_pan_days(), st.data())
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
        asked.spared,
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


@pytest.mark.parametrize(
    ("change", "is_pan"),
    [
        ({}, True),
        ({"same_hands": ""}, False),  # another may take over at the boil
        ({"attention_quarters": 1}, False),  # three others may be watched beside it
        ({"attention_quarters": 3}, False),  # whole hands anyway
    ],
)
def test_what_is_a_pan(change: dict[str, object], is_pan: bool) -> None:
    watch, boil = pan_batch().steps
    batch = pan_batch(steps=(replace(watch, **change), boil))
    assert (0 in pans(batch)) is is_pan


def test_a_pan_that_may_wait_before_it_boils_is_none() -> None:
    batch = pan_batch(links=(Link(before="watch", after="boil", at_most_min=1),))
    assert not pans(batch)


def stirring(name: str, minutes: int) -> Batch:
    fire = {"skill": Skill.PAN, "burner_w": 2000.0}
    return pan_batch(name, steps=(step("stir", minutes, 2, **fire),), links=())


def test_three_stirrings_are_not_all_beside_another() -> None:
    # 20 min each: two side by side and then the third, or each beside half of another
    problem = day(*(stirring(n, 20) for n in "abc"), canners=())
    assert lower_bound_min(problem) == 30
    answer = plan_day(problem, seconds=2.0)
    assert isinstance(answer, Answer)
    assert answer.finish_min == 40
    assert bound_min(problem) == 40


def watched(minutes: int) -> Batch:
    watch, boil = pan_batch().steps
    return pan_batch("pan", steps=(replace(watch, duration_min=minutes), boil))


@pytest.mark.parametrize(
    ("stirred", "pan_min", "side_by_side"),
    [
        ((), 0, 0),
        ((30,), 0, 0),
        ((30,), 12, 12),  # the pan lies at its end
        ((30, 30), 0, 30),
        ((30, 30), 12, 30),  # 18 beside one another and then the pan; or 30 and none
        ((30, 30, 25), 12, 42),  # two side by side, the third with the pan
        ((18, 30), 12, 30),  # 18 within the first 18 of 30, and the pan at its end
        ((90, 20, 20, 20), 0, 75),  # half of all; 60 can be had
        ((10,), 12, 10),  # no more than the stirring itself
    ],
)
def test_minutes_side_by_side(
    stirred: tuple[int, ...], pan_min: int, side_by_side: int
) -> None:
    batches = [stirring(f"s{n}", minutes) for n, minutes in enumerate(stirred)]
    if pan_min:
        batches.append(watched(pan_min))
    problem = day(*batches, canners=())
    everyone = frozenset(p.id for p in problem.people)
    assert side_by_side_min(problem, everyone) == side_by_side


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(1, 4), min_size=1, max_size=3),
    st.lists(st.integers(1, 3), max_size=2),
)
def test_no_more_is_ever_side_by_side(stirred: list[int], watch: list[int]) -> None:
    # every way to place them in one pair of hands; a boil of one minute after each pan
    problem = day(
        *(stirring(f"s{n}", minutes) for n, minutes in enumerate(stirred)),
        *(replace(watched(minutes), id=f"w{n}") for n, minutes in enumerate(watch)),
        canners=(),
    )
    allowed = side_by_side_min(problem, frozenset(p.id for p in problem.people))
    for starts in itertools.product(range(7), repeat=len(stirred) + len(watch)):
        given_ = [0] * 12
        for minutes, start in zip([*stirred, *watch], starts, strict=True):
            for m in range(start, start + minutes):
                given_[m] += 2
        both = sum(quarters == 4 for quarters in given_)
        for minutes, start in zip(watch, starts[len(stirred) :], strict=True):
            given_[start + minutes] += 4
        if max(given_) <= 4:
            assert both <= allowed


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


# --- its parts -----------------------------------------------------------------------


@given(
    st.lists(st.integers(0, 99), min_size=1, max_size=12),
    st.integers(-15, 15),
    st.integers(0, 15),
    st.sampled_from(["both", "least", "most"]),
)
def test_the_running_least(line: list[int], least: int, width: int, sides: str) -> None:
    low = None if sides == "most" else least
    high = None if sides == "least" else least + width
    found = running_least(np.array(line), low, high)
    for t in range(len(line)):
        inside = [
            cost
            for at, cost in enumerate(line)
            if (low is None or at >= t + low) and (high is None or at <= t + high)
        ]
        assert found[t] == min(inside, default=NEVER)


@given(st.data())
def test_the_cheapest_place_is_the_cheapest_of_all(data: st.DataObject) -> None:
    size, chains = 6, 3
    cost = st.one_of(st.integers(-20, 20), st.just(NEVER))
    costs = [
        np.array(data.draw(st.lists(cost, min_size=size, max_size=size)))
        for _ in range(chains)
    ]
    ties = {}
    tree: dict[int, list[Tie]] = {}
    for chain in range(1, chains):
        above = data.draw(st.integers(0, chain - 1))
        least = data.draw(st.integers(-2, 3))
        most = data.draw(st.one_of(st.none(), st.integers(least, least + 3)))
        ties[above, chain] = least, most
        tree.setdefault(above, []).append(Tie(chain, least, most))
        back = Tie(above, None if most is None else -most, -least)
        tree.setdefault(chain, []).append(back)
    best = min(
        (
            sum(int(c[s]) for c, s in zip(costs, starts, strict=True))
            for starts in itertools.product(range(size), repeat=chains)
            if all(
                least <= starts[b] - starts[a] <= (99 if most is None else most)
                for (a, b), (least, most) in ties.items()
            )
        ),
        default=NEVER,
    )
    (found, starts), *_ = cheapest(costs, tree, data.draw(st.integers(1, 3)))
    if best >= NEVER // 2:
        assert found >= NEVER // 2
    else:
        assert found == best
        assert sum(int(c[s]) for c, s in zip(costs, starts, strict=True)) == best


def test_a_ring_of_ties_loses_its_loosest() -> None:
    steps = tuple(Step(id=n, verb=n, duration_min=5) for n in "abc")
    links = (
        Link(before="a", after="b", at_most_min=2),
        Link(before="b", after="c", at_most_min=3),
        Link(before="a", after="c"),
    )
    batch = pan_batch(steps=steps, links=links)
    tree = tree_of(batch, network_of(batch))
    assert sorted(tie.other for tie in tree[1]) == [0, 2]
    assert [tie.other for tie in tree[0]] == [1]


def test_minutes_in_stretches() -> None:
    # from 5 to 25, twice: 5, 10 and 5 minutes of three stretches of ten
    assert stretches([(5, -2), (25, 2)], 10, 3).tolist() == [10, 20, 10]


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
        beside.reckon()
        found.append(beside.stop())
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
