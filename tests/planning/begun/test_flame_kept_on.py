"""The flame under a canner: on for a load that is to start hot, and not for a pot."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from stillroom.planning.begun.as_known import _with_its_flame
from stillroom.planning.begun.put_off import PutOff
from stillroom.planning.begun.slipped import _kept_hot
from stillroom.planning.timetable import PlacedLoad, Timetable
from tests.planning.small_days import placed_load

DONE, MEANT = 56, 75


def load(number: int, canner: str = "canner", *, lower: int, hot: bool) -> PlacedLoad:
    """Invented: ten minutes by the clock from 16 minutes after its lowering."""
    heat = lower if hot else lower - 30
    return placed_load(f"{canner}/{number}", lower, hot=hot, heat_min=heat)


KEPT_ON = replace(load(1, lower=30, hot=False), fire_free_min=MEANT)
"""Its clock is over at 56; its flame stays on for the load that goes in at 75."""
PUT_OUT = replace(KEPT_ON, fire_free_min=DONE)
"""Its flame is out at the end of its clock, and a pot may have the fire."""
HOT = load(2, lower=MEANT, hot=True)


def by_the_board(first: PlacedLoad, second: PlacedLoad, lowered: int) -> int:
    """Until when the first one's flame is on, as the stove knows the day."""
    plan = Timetable(steps=(), loads=(first, second), breaks=())
    later = PutOff(start={(second.id, "lower"): lowered}, breaks={})
    went = replace(first, fire_free_min=first.done_min)
    return _with_its_flame(went, plan, {first.id: went}, later).fire_free_min


def by_what_slipped(first: PlacedLoad, second: PlacedLoad, lowered: int) -> int:
    """The same, as it is taken to have gone after something that was late."""
    plan = Timetable(steps=(), loads=(first, second), breaks=())
    loads = (
        replace(first, fire_free_min=first.done_min),
        replace(second, lower_min=lowered),
    )
    went = Timetable(steps=(), loads=loads, breaks=())
    return _kept_hot(plan, went).loads[0].fire_free_min


@pytest.mark.parametrize("until", [by_the_board, by_what_slipped])
def test_it_stays_on_until_the_load_that_it_was_kept_on_for(
    until: Callable[[PlacedLoad, PlacedLoad, int], int],
) -> None:
    assert until(KEPT_ON, HOT, 95) == 95
    # never out before the clock of its own jars is over
    assert until(KEPT_ON, HOT, 50) == DONE


@pytest.mark.parametrize("until", [by_the_board, by_what_slipped])
def test_where_it_was_put_out_it_is_not_on_for_the_next(
    until: Callable[[PlacedLoad, PlacedLoad, int], int],
) -> None:
    """Nor for what goes into another canner at that very minute."""
    assert until(PUT_OUT, HOT, 95) == DONE
    elsewhere = load(1, "second", lower=MEANT, hot=True)
    assert until(KEPT_ON, elsewhere, 95) == DONE
