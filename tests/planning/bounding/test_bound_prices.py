"""What prices prove, reckoned by hand on days of four minutes with nothing to make."""

from __future__ import annotations

import numpy as np

from stillroom.planning.bounding.canning import Canning
from stillroom.planning.bounding.prices import Prices, Rest, Stretches, weigh

DAY = Stretches(end=4, width=1)
NO_LOADS = Canning(kinds=(), jars=(), rides=(), families=())
ONE_PERSON = np.array([1, 1, 1, 1])
PRICE = np.array([1, 3, 1, 1])
PRICES = Prices(supply=(PRICE,), closed=(), place=(), pan={}, load=())


def surplus(*rests: Rest, spared: int = 0) -> int:
    return weigh(DAY, PRICES, [], NO_LOADS, rests, [ONE_PERSON], [spared], {}).surplus


def test_what_there_is_costs_its_price() -> None:
    # 1 + 3 + 1 + 1 is asked for by nobody
    assert surplus() == -6


def test_a_break_pays_for_the_start_that_is_cheapest() -> None:
    # it may be taken in minute 0 for 1, or in minute 1 for 3: a plan may choose, so
    # that no more than 1 is proven
    either = Rest(shares=((0, 1),), taken=np.array([[1, 0, 0, 0], [0, 1, 0, 0]]))
    assert surplus(either) == 1 - 6
    late = Rest(shares=((0, 1),), taken=np.array([[0, 1, 0, 0]]))
    assert surplus(late) == 3 - 6


def test_a_break_of_two_minutes_pays_for_both_and_for_each_share() -> None:
    long = Rest(shares=((0, 2),), taken=np.array([[1, 1, 0, 0], [0, 0, 1, 1]]))
    assert surplus(long) == 2 * 2 - 6


def test_what_may_be_spared_is_reckoned_at_the_dearest_minute() -> None:
    # two minutes more may be asked of it, nobody knows when: at 3 each
    assert surplus(spared=2) == -6 - 2 * 3
