"""The odds of a day that was planned again: what had begun by then is known."""

from __future__ import annotations

from planning.small_days import day
from planning.written_out import at, batch, labour

from stillroom.methods.step import Spread
from stillroom.planning.day_odds.odds import Odds, odds_of
from stillroom.planning.timetable import Timetable

PLAN = Timetable(steps=(at("a", "do", 80, 100, "p1"),), loads=(), breaks=())


def since(minute: int) -> Odds:
    """Twenty minutes from 80 on, or ten to forty of them."""
    unsure = labour(20, spread=Spread(10, 20, 40))
    return odds_of(day(batch("a", unsure)), PLAN, days=200, since_min=minute)


def test_what_had_begun_takes_its_minutes_on_every_day() -> None:
    begun = since(81)
    assert (begun.sd_min, begun.even_min, begun.chance_as_planned) == (0.0, 100, 1.0)
    assert since(80).sd_min > 1.0


def test_what_had_not_begun_begins_as_soon_as_it_may_and_not_before_then() -> None:
    assert since(81).at_plan_min == 100
    assert since(80).at_plan_min == 100
    assert since(50).at_plan_min == 70
