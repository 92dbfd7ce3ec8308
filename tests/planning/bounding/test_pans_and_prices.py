"""The parts of the bound: pans, side by side, cheapest places, stretches."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from planning.pan_days import bound_min, pan_batch, stirring, watched
from planning.small_days import day

from stillroom.methods.step import Link, Step
from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.bounding.cheapest import (
    NEVER,
    Tie,
    cheapest,
    running_least,
    tree_of,
)
from stillroom.planning.bounding.marks import stretches
from stillroom.planning.bounding.pans import pans, side_by_side_min
from stillroom.planning.network import network_of
from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import Answer


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


def test_three_stirrings_are_not_all_beside_another() -> None:
    # 20 min each: two side by side and then the third, or each beside half of another
    problem = day(*(stirring(n, 20) for n in "abc"), canners=())
    assert lower_bound_min(problem) == 30
    answer = plan_day(problem, seconds=2.0)
    assert isinstance(answer, Answer)
    assert answer.finish_min == 40
    assert bound_min(problem) == 40


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
        ((5, 3), 1, 5),  # half of all is 4 1/2: never rounded to less than there may be
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
