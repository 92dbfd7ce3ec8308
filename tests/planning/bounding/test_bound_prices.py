"""What prices prove, by hand, on days of four stretches with little to make."""

from __future__ import annotations

import numpy as np

from stillroom.planning.bounding import prices as prices_
from stillroom.planning.bounding.canning import Canning, Jars, LoadKind
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


def test_loads_that_gain_are_counted_as_often_as_all_canners_could_hold_them() -> None:
    # a place is worth 3 and a load takes two of four minutes: two canners, four loads
    kind = LoadKind(
        process="pints",
        canners=2,
        places=1,
        earliest=0,
        cycle=2,
        lowering=(),
        lifting=(),
    )
    loads = Canning(kinds=(kind,), jars=(), rides=(), families=())
    worth = Prices(supply=(), closed=(), place=(np.full(4, 3),), pan={}, load=())
    found = weigh(DAY, worth, [], loads, [], [], [], {})
    assert found.loads == ((-3, 0, 0),)
    assert found.surplus == -3 * 2 * 2


def test_a_closed_jar_costs_no_more_than_its_cheapest_place_within_its_wait() -> None:
    """
    Stretches of ten minutes. Closed in the first, by minute 9, it rides by 14, in the
    first or second: 9 or 3. In the last there is no other, and 2 is less already.
    """
    day = Stretches(end=40, width=10)
    waits, stands = Jars("pints", wait_min=5), Jars("pints", wait_min=None)
    loads = Canning(kinds=(), jars=(waits, stands), rides=((0,), (0,)), families=())
    place = np.array([9, 3, 1, 9])
    closed = np.array([9, 9, 9, 2])
    asked = Prices(supply=(), closed=(closed, closed), place=(place,), pan={}, load=())
    five, any_ = prices_._no_dearer_than_places(day, asked, loads)
    assert five.tolist() == [3, 1, 1, 2]
    assert any_.tolist() == [1, 1, 1, 2]
