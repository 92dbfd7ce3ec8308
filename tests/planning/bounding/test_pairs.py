"""Two stirrings at once: what they lose before, and the pans they take, by hand."""

from __future__ import annotations

import pytest

from stillroom.planning.bounding.pairs import Pairs, _Both
from stillroom.planning.bounding.stirrings import Stirring

LONG = Stirring(cooked=30, minutes=20)
SHORT = Stirring(cooked=12, minutes=8)


def pairs(
    *stirred: tuple[Stirring, int], of_day: int = 4, shortest: int = 10, beside: int = 1
) -> Pairs:
    return Pairs(
        stirrings=stirred or ((LONG, 2), (SHORT, 2)),
        shortest=shortest,
        of_day=of_day,
        pan_min=25,
        beside_min=5,
        beside=beside,
    )


def test_the_last_minutes_before_count_one_more_than_the_shortest_cooking() -> None:
    # both cook from 30 before; of that 11 minutes count, and the pan of 25 that boils
    # no sooner than both end, at 20, may begin 5 before
    assert _Both(pairs(), LONG, LONG, 0).lost(None) == (-11, -5)
    # the other, 15 later, ends at 35: that pan begins when the first is stirred
    assert _Both(pairs(), LONG, LONG, 15).lost(None) == (-11, 0)
    # one that cooked for 12 began to after the minutes that would count
    assert _Both(pairs(), LONG, SHORT, 5).lost(None) == (-7, -5)


def test_where_there_are_three_in_a_day_all_of_it_counts_and_the_third_as_well() -> (
    None
):
    three = pairs((LONG, 2), (SHORT, 1), of_day=3)
    assert _Both(three, LONG, LONG, 0).lost(None) == (-30, -5)
    # the short one began to cook 20 before its end; it lies within the 30
    assert _Both(three, LONG, LONG, 0).lost(SHORT) == (-30, -5)
    # beside one of the pair it cooks from 20 before, the other from 12 before 5
    assert _Both(three, LONG, SHORT, 5).lost(SHORT) == (-20, -5)


def test_of_many_stirrings_the_longest_may_lie_where_a_pair_cooks() -> None:
    many = pairs((LONG, 2), (SHORT, 2))
    assert many.left(SHORT, SHORT) == [LONG]
    assert many.left(LONG, SHORT) == [LONG]
    assert many.left(LONG, LONG) == [SHORT]
    # of three each that is left is tried, and there may be none
    assert pairs((LONG, 2), (SHORT, 1), of_day=3).left(LONG, LONG) == [SHORT]
    assert pairs((LONG, 2), of_day=2).left(LONG, LONG) == []


@pytest.mark.parametrize(
    ("beside", "room", "alone", "after"),
    [
        # four stirrings: with one pan or three the half is rounded down, and a pair
        # then takes one pan less
        (1, 2, 0, 1),
        (2, 4, 1, 2),
        (3, 3, 0, 1),
        (4, 4, 1, 2),
    ],
)
def test_a_pair_takes_a_pan_and_one_more_for_the_stirring_before_it(
    beside: int, room: int, alone: int, after: int
) -> None:
    found = pairs(beside=beside)
    assert (found.many, found.most, found.room) == (4, 2, room)
    assert (found.takes(after=False), found.takes(after=True)) == (alone, after)
