"""The solver's choice of batches, beside every subset tried; work is counted."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, permutations

import pytest
from planning.small_days import butter, canner, jelly, person
from planning.small_days import day as small_day
from planning.test_rinses import milled

from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.cpsat.solve import Search, find_timetable
from stillroom.planning.cpsat.which_batches import which_batches
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Burner, Problem, Window
from stillroom.planning.ways.held_plan import only
from stillroom.planning.what_fits import what_fits

SEARCH = Search(until=0.0, workers=2, seed=1, deterministic=True, seconds=20.0)
BATCHES = (
    jelly("jelly-1"),
    replace(jelly("fresh"), product="fresh jelly", jars=7),
    butter("butter-1"),
)


def has_a_plan(problem: Problem) -> bool:
    if lower_bound_min(problem) > problem.horizon_min:
        return False
    found = find_timetable(problem, by_hand(problem, seconds=1e9, shuffles=3), SEARCH)
    assert found.timetable is not None or found.impossible  # no answer is no answer
    return found.timetable is not None


def all_that_fit(problem: Problem) -> list[frozenset[str]]:
    names = [b.id for b in problem.batches]
    return [
        frozenset(some)
        for number in range(len(names) + 1)
        for some in combinations(names, number)
        if not some or has_a_plan(only(problem, some))
    ]


@pytest.mark.parametrize("hours", [(100, 100), (215, 215), (245, 110)])
def test_no_subset_is_better_than_the_one_that_is_chosen(hours: tuple[int, int]):
    # one person who stays the first figure, in a day of the second or as long
    ends = max(hours)
    people = (person("Ada", leaves_min=hours[0]),)
    problem = small_day(*BATCHES, people=people, horizon_min=ends)
    if hours[1] < hours[0]:  # the fresh one is in the pot early or never
        early = Window(step="boil", latest_min=20)
        batches = [
            replace(b, windows=(early,)) if b.id == "fresh" else b for b in BATCHES
        ]
        problem = replace(problem, batches=tuple(batches))
    fitting = all_that_fit(problem)
    assert frozenset(b.id for b in problem.batches) not in fitting or ends > 240
    for order in permutations([b.id for b in problem.batches]):
        best = max(fitting, key=lambda names: [n in names for n in order])
        got = which_batches(problem, order, SEARCH)
        assert set(got.kept) == best, order
        assert got.proven_out == set(order) - best  # all of it was searched
        if got.timetable is not None:
            assert violations(only(problem, got.kept), got.timetable) == ()


def test_of_two_butters_that_need_the_mill_at_once_one_is_made():
    # each is an hour at the one mill, and neither can be there later than the other
    slow = [
        replace(s, duration_min=60) if s.id == "mill" else s for s in butter().steps
    ]
    first = butter("butter-1", steps=tuple(slow))
    other = replace(first, id="other", product="other butter", jars=6)
    problem = small_day(first, other, people=2, horizon_min=260)
    fitting = all_that_fit(problem)
    assert sorted(map(len, fitting)) == [0, 1, 1]
    for order in permutations(["butter-1", "other"]):
        got = which_batches(problem, order, SEARCH)
        assert got.kept == order[:1]
        assert got.proven_out == {order[1]}


def test_one_is_given_up_for_another_that_would_be_missed_more():
    # handed a plan of both jellies, the solver finds that the butter has room instead
    # of one; a set that is only added to would keep them
    problem = small_day(*BATCHES, people=1, horizon_min=215)
    order = ["butter-1", "jelly-1", "fresh"]
    kept = ["jelly-1", "fresh"]
    start = by_hand(only(problem, kept), seconds=1e9, shuffles=3)
    assert start is not None
    got = which_batches(problem, order, SEARCH, kept=kept, start=start)
    assert got.kept == ("butter-1", "jelly-1")


def test_a_batch_that_nobody_can_make_is_out_and_stands_in_nobodys_way():
    alone = replace(butter("huge"), pots=("nowhere",))
    problem = small_day(jelly("jelly-1"), alone, people=1)
    got = which_batches(problem, ["huge", "jelly-1"], SEARCH)
    assert got.kept == ("jelly-1",)
    assert got.proven_out == {"huge"}


def test_what_is_left_out_is_proven_to_have_no_room_where_bounds_say_so():
    # three jellies alike in a day that is too short for two of them
    like = [replace(jelly(name), product="jelly") for name in ("a", "b", "c")]
    problem = small_day(*like, people=1, horizon_min=90)
    got = what_fits(problem, ["a", "b", "c"], seconds=1.0, deterministic=True)
    assert got is not None
    assert got.left_out == ("b", "c")
    assert got.no_more == {"b", "c"}
    again = what_fits(problem, ["a", "b", "c"], seconds=1.0, deterministic=True)
    assert again is not None
    assert again.answer.timetable == got.answer.timetable


def test_a_start_that_runs_one_of_two_like_canners_more_often_is_taken():
    # six jellies that may not wait go into six loads, all of them in the first canner;
    # two like canners are given room for four each by their jars alone
    jellies = [jelly(f"jelly-{n}", closed_wait_at_most_min=5) for n in range(6)]
    fires = tuple(Burner(id=f"strong-{n}", power_w=3000.0) for n in (1, 2))
    burners = (*small_day().burners[:-1], *fires)
    one = small_day(*jellies, people=2, burners=burners, horizon_min=900)
    start = by_hand(one, seconds=1e9, shuffles=3)
    assert start is not None
    assert len(start.loads) == 6
    two = replace(one, canners=(*one.canners, canner("other", burners=("strong-2",))))
    order = [b.id for b in jellies]
    search = replace(SEARCH, seconds=1.0)
    found = which_batches(two, order, search, kept=order, start=start)
    assert set(found.kept) == set(order)


@pytest.mark.parametrize(
    ("ends", "order", "kept"),
    [
        (27, "acb", {"a", "b"}),  # 10 + a rinse of 2 + 10 + a wash of 5
        (29, "cab", {"c"}),  # milled 10, washed 5, milled 10: no time to wash again
        (30, "cab", {"c", "a"}),
    ],
)
def test_nothing_is_rinsed_for_a_batch_that_is_left_out(ends, order, kept):
    """Two of one product and one of another on one mill."""
    batches = (milled("a"), milled("b"), milled("c", "grape butter"))
    problem = replace(small_day(*batches), horizon_min=ends)
    found = which_batches(problem, list(order), SEARCH)
    assert set(found.kept) == kept
    assert violations(only(problem, found.kept), found.timetable) == ()
