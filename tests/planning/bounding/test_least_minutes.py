"""The fewest minutes, loads and hands that a proof counts with, worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import (
    HALF_PINT,
    LONG_PINT,
    PINT,
    canner,
    day,
    jelly,
    person,
    step,
    work,
)
from planning.written_out import closed

from stillroom.methods.step import Skill
from stillroom.planning.bounding.bounds import (
    able_people,
    after_closing_min,
    canners_for,
    closed_min,
    hands_by,
    least_cycle_min,
    least_load_min,
    least_loads,
    lifters_of,
    out_alone_min,
)
from stillroom.planning.bounding.canning import canning_of
from stillroom.planning.bounding.kinds import kinds_of
from stillroom.planning.bounding.supplies import (
    Fires,
    capacity,
    like_canners,
    supplies_of,
)
from stillroom.planning.problem import Break, Burner, ComeUp, Link, Problem

PINTS = canner("pints", places={"half_pint": 0, "pint": 9}, come_up_min=7)


def test_a_load_is_lowered_boils_is_processed_rests_and_is_lifted() -> None:
    """4 + 12 + 10 + 5 + 4, and five more where the process takes 15."""
    assert least_cycle_min(canner(), HALF_PINT) == 35
    assert least_cycle_min(canner(), LONG_PINT) == 40


def test_a_canner_without_a_place_for_a_size_takes_none_of_it() -> None:
    problem = day(closed("a"), canners=(canner(), PINTS))
    assert [c.id for c in canners_for(problem, "half_pint")] == ["canner"]
    assert [c.id for c in canners_for(problem, "pint")] == ["canner", "pints"]
    assert canners_for(problem, "quart") == []


def test_jars_are_out_by_the_quickest_canner_and_process_that_they_may_ride_in() -> (
    None
):
    two = (canner(), PINTS)
    assert after_closing_min(day(canners=two), closed("a")) == 35
    assert after_closing_min(day(canners=two), closed("a", process="pint-10")) == 30
    assert after_closing_min(day(canners=two), closed("a", process="pint-15")) == 35
    assert after_closing_min(day(canners=two), closed("a", process=None)) == 0
    assert after_closing_min(day(canners=(PINTS,)), closed("a")) == 0


def test_jars_are_closed_after_their_closing_step_or_the_last() -> None:
    links = (Link(before="fill", after="wash"),)
    two = step("fill", 10, 0), step("wash", 25, 0)
    made = work("a", *two, links=links, ready_after="fill")
    assert closed_min(made) == 10
    assert closed_min(work("a", *two, links=links)) == 35


def test_all_goods_of_a_product_are_out_with_the_last_of_its_batches() -> None:
    """Closed at 5 and out at 40; what goes into no canner is there when closed."""
    late = work("c", step("press", 50, 0), product="a")
    problem = day(closed("a"), closed("b", product="other"), late)
    assert out_alone_min(problem, "a") == 50
    assert out_alone_min(problem, "other") == 40
    assert out_alone_min(problem, "none of it") == 0


def test_a_canner_has_no_quicker_load_than_the_jars_of_the_day_allow() -> None:
    """Pints of 15 ride in no load of 10; those of 10 may wait for one of 15."""
    slow = day(closed("a", process="pint-15"))
    assert least_load_min(slow, canner()) == 40
    assert least_load_min(day(closed("a", process="pint-10")), canner()) == 35
    assert least_load_min(day(closed("a")), PINTS) == 0
    assert least_load_min(day(closed("a", process=None)), canner()) == 0


@pytest.mark.parametrize(
    ("half_pints", "pints", "long_pints", "loads"),
    [(16, 0, 0, 1), (17, 0, 0, 2), (0, 4, 5, 1), (0, 5, 5, 2), (1, 1, 0, 2)],
)
def test_as_few_loads_as_hold_all_jars_that_may_ride_together(
    half_pints: int, pints: int, long_pints: int, loads: int
) -> None:
    """16 half-pints or 9 pints a load; pints of 10 min may ride with those of 15."""
    jars = {"half-pint-10": half_pints, PINT.id: pints, LONG_PINT.id: long_pints}
    batches = (closed(p, n, process=p) for p, n in jars.items() if n)
    assert least_loads(day(*batches)) == loads


def test_steps_in_the_same_hands_ask_for_all_that_they_take() -> None:
    pan, cold = {"skill": Skill.PAN}, {"skill": Skill.COLD}
    made = work(
        "a",
        step("boil", 5, 4, same_hands="cook", **pan),
        step("skim", 5, 2, same_hands="cook", **cold),
        step("look", 5, 0, same_hands="cook", skill=Skill.KNIFE),
        step("label", 5, 2, **cold),
    )
    people = (
        person("cook", skills=frozenset({"pan", "cold"})),
        person("minds a baby", skills=frozenset({"pan", "cold"}), quarters=3),
        person("child", skills=frozenset({"cold"})),
    )
    problem = day(made, people=people)
    able = [able_people(problem, made, n) for n in (0, 1, 3)]
    assert able[0] == able[1] == {"cook"}
    assert able[2] == {"cook", "minds a baby", "child"}


def test_hot_jars_take_three_quarters_of_somebody_who_lifts() -> None:
    people = (
        person("all"),
        person("three", quarters=3),
        person("two", quarters=2),
        person("cold", skills=frozenset({"cold"})),
    )
    assert [p.id for p in lifters_of(day(people=people))] == ["all", "three"]


@pytest.mark.parametrize(
    ("since", "until", "gives"),
    [
        (0, 480, 300 - 20 - 15),
        (0, 60, 0),  # she comes at 60
        (50, 70, 10),
        (355, 400, 5),  # and goes at 360
        (95, 110, 5),  # away from 100 to 120
        (110, 130, 10),
        (200, 215, 0),  # a rest of 15 that begins at 200
        (195, 205, 5),
        (210, 220, 5),
        (340, 200, 0),
    ],
)
def test_nobody_gives_minutes_of_their_absences_and_rests(
    since: int, until: int, gives: int
) -> None:
    meal = Break(duration_min=15, earliest_min=200, latest_start_min=200)
    ada = person(
        "Ada", arrives_min=60, leaves_min=360, away=((100, 120),), breaks=(meal,)
    )
    assert hands_by(ada, since, until) == gives


def test_of_a_rest_only_what_cannot_lie_outside_is_not_given() -> None:
    """15 min begun from 90 to 100: of the minutes 95 to 110 at least 5 are rest."""
    meal = Break(duration_min=15, earliest_min=90, latest_start_min=100)
    ada = person("Ada", breaks=(meal,))
    assert hands_by(ada, 95, 110) == 5
    assert hands_by(ada, 80, 100) == 20
    assert hands_by(ada, 80, 104) == 24 - 4
    assert hands_by(ada, 80, 130) == 50 - 15


def test_jelly_alone_is_out_when_its_load_is() -> None:
    problem = day(jelly())
    closed_at = closed_min(problem.batches[0])
    assert out_alone_min(problem, problem.batches[0].product) == closed_at + 35


def test_a_fire_is_asked_for_as_long_as_a_load_of_that_process_comes_up() -> None:
    # lowering 4, way up 12 or 30, process 10; until lowering the quickest flame
    def held(problem: Problem) -> set[tuple[int, int]]:
        supplies = supplies_of(problem)
        (kind,) = canning_of(problem, supplies, kinds_of(problem, supplies)).kinds
        fires = {n for n, s in enumerate(supplies) if isinstance(s, Fires)}
        return {(at, weight) for n, at, weight in kind.lowering if n in fires}

    raw = {"half-pint-10": ComeUp(minutes=30)}
    one = day(jelly(), canners=(canner(),))
    other = replace(one, canners=(canner(come_up_of=raw),))
    assert {at for at, weight in held(one) if weight > 0} == {4 + 12 + 10}
    assert {at for at, weight in held(other) if weight > 0} == {4 + 30 + 10}


def test_canners_in_which_raw_packs_come_up_otherwise_are_not_alike() -> None:
    slow, slower = ({"half-pint-10": ComeUp(minutes=minutes)} for minutes in (30, 40))
    for other, sorts in ((slow, 1), (slower, 2), ({}, 2)):
        canners = (
            canner("north", come_up_of=slow),
            canner("south", come_up_of=other),
        )
        assert len(like_canners(day(jelly(), canners=canners))) == sorts


def test_a_burner_counts_for_no_proof_while_it_is_somebody_elses() -> None:
    mine = Burner(id="left", power_w=2000.0)
    theirs = Burner(id="right", power_w=2000.0, taken=((2, 4), (3, 5)))
    both = day(jelly(), burners=(mine, theirs), canners=())
    assert list(capacity(both, Fires(2000.0), 7)) == [2, 2, 1, 1, 1, 2, 2]
