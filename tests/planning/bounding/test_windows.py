"""What no plan can beat, window by window, on sums that can be followed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from planning.day_strategies_small import random_days
from planning.small_days import canner, day, jelly
from planning.test_any_day import SLOW, assume_sense

from stillroom.methods.step import Link, Step
from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.bounding.windows import pieces_of, window_bound_min
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Burner, Problem
from stillroom.planning.timetable import Answer


@settings(max_examples=400, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_no_plan_ends_before_the_bound(problem: Problem) -> None:
    assume_sense(problem)
    plan = by_hand(problem, shuffles=2)
    least = window_bound_min(problem, lower_bound_min(problem))
    if plan is not None:
        assert least <= plan.finish_min


@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_no_proven_plan_ends_before_the_bound(problem: Problem) -> None:
    assume_sense(problem)
    answer = plan_day(problem, seconds=1.0)
    if isinstance(answer, Answer):
        assert window_bound_min(problem, 0) <= answer.finish_min


def test_one_fire_that_is_strong_enough() -> None:
    # heat 15 + boil 12 + 7 + 1 ...: with hands and pots for all, three batches share
    # the one burner that boils them, one after another
    problem = day(*(jelly(n) for n in "abc"), people=6, big_pots=3)
    boils = [s for s in problem.batches[0].steps if s.burner_w and s.in_pot]
    strongest = max(s.burner_w for s in boils)
    one = next(b for b in problem.burners if b.power_w >= strongest)
    others = tuple(
        replace(b, power_w=strongest - 1) for b in problem.burners if b.id != one.id
    )
    narrow = replace(problem, burners=(one, *others))
    on_fire = sum(s.duration_min for s in boils if s.burner_w == strongest)
    least = window_bound_min(narrow, lower_bound_min(narrow))
    assert least >= 3 * on_fire
    answer = plan_day(narrow, seconds=4.0)
    assert isinstance(answer, Answer)
    assert least <= answer.finish_min


def test_a_known_bound_is_never_lowered() -> None:
    problem = day(jelly("a"))
    assert window_bound_min(problem, 70) >= 70


@pytest.mark.parametrize(("jars", "loads"), [(1, 1), (8, 1)])
def test_each_load_is_lowered_and_lifted_once(jars: int, loads: int) -> None:
    problem = day(replace(jelly("a"), jars=jars))
    steps = sum(1 for s in problem.batches[0].steps if s.attention_quarters)
    assert len(pieces_of(problem)) == steps + 2 * loads


def test_more_work_than_the_day_holds_is_one_past_its_end() -> None:
    problem = day(*(jelly(f"j{n}") for n in range(6)), horizon_min=120)
    assert window_bound_min(problem, 0) == 121


def test_a_canner_is_counted_once_on_its_fires() -> None:
    # By hand: closed at 1, lowered by 2, boils at 3, ten minutes, lifted by 14; the
    # two steps of a minute stand beside the canner on fires of two strengths.
    batch = jelly("a")
    step = replace(
        batch.steps[0],
        duration_min=1,
        attention_quarters=0,
        burner_w=0.0,
        in_pot=False,
        on_mill=False,
        same_hands="",
    )
    powers = (0.0, 0.0, 0.0, 1000.0, 2000.0)
    steps = tuple(
        replace(step, id=f"s{n}", burner_w=power) for n, power in enumerate(powers)
    )
    links = tuple(Link(before=f"s{n}", after=f"s{n + 1}") for n in range(4))
    plain = replace(
        canner(),
        burners=("strong-1", "middle-1"),
        first_heat_min=0,
        load_min=1,
        come_up_min=1,
        rest_min=0,
        unload_min=1,
    )
    problem = day(
        replace(batch, steps=steps, links=links, pots=(), ready_after="s0"),
        burners=(
            Burner(id="weak-1", power_w=1000.0),
            Burner(id="middle-1", power_w=2000.0),
            Burner(id="middle-2", power_w=2000.0),
            Burner(id="strong-1", power_w=3000.0),
        ),
        canners=(plain,),
    )
    plan = by_hand(problem, shuffles=2)
    assert plan is not None
    assert plan.finish_min == 14
    assert window_bound_min(problem, 0) <= 14


def test_steps_of_one_batch_may_lie_beside_one_another_on_its_mill() -> None:
    problem = day(jelly("a"), mills=1)
    batch = problem.batches[0]
    side_by_side = replace(
        batch,
        steps=tuple(
            replace(s, on_mill=True, in_pot=False, burner_w=0.0, attention_quarters=0)
            for s in batch.steps
        ),
        links=(),
        process=None,
        pots=(),
    )
    alone = replace(problem, batches=(side_by_side,))
    longest = max(s.duration_min for s in side_by_side.steps)
    assert window_bound_min(alone, 0) <= longest


def test_a_load_holds_its_fires_once_whatever_class_they_are_of() -> None:
    # the canner covers two of the four burners; beside it a step on a strong fire and
    # one on any fire find room at once, so that nothing ends later than the load
    burners = (
        Burner(id="strong-1", power_w=2000.0),
        Burner(id="strong-2", power_w=2000.0),
        Burner(id="strong-3", power_w=2000.0),
        Burner(id="weak", power_w=1000.0),
    )
    batch = jelly(
        "a",
        steps=(
            Step(id="lid", verb="Lid", duration_min=1),
            Step(id="any", verb="Warm", duration_min=1, burner_w=1000.0),
            Step(id="strong", verb="Boil", duration_min=1, burner_w=2000.0),
        ),
        links=(
            Link(before="lid", after="any"),
            Link(before="any", after="strong"),
        ),
        pots=(),
    )
    over_two = canner(burners=("strong-1", "strong-2"), first_heat_min=0)
    problem = replace(day(batch), burners=burners, canners=(over_two,))
    answer = plan_day(problem, seconds=1.0)
    assert isinstance(answer, Answer)
    # closed at 1, then 4 + 12 + 10 + 5 + 4
    assert answer.finish_min == 36
    assert window_bound_min(problem, 0) == 36


def test_steps_beside_one_another_in_one_pot_share_its_burner() -> None:
    # two steps of ten minutes in one pot, in no order: one burner bears both at once
    batch = jelly(
        "a",
        steps=(
            Step(id="a", verb="Warm", duration_min=10, burner_w=2000.0, in_pot=True),
            Step(id="b", verb="Melt", duration_min=10, burner_w=2000.0, in_pot=True),
        ),
        links=(),
        process=None,
        ready_after="",
    )
    problem = replace(
        day(batch), burners=(Burner(id="only", power_w=2000.0),), canners=()
    )
    assert window_bound_min(problem, 0) == 10
