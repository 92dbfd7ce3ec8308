"""Clock times that cannot be, and those over midnight that can."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from stillroom.stock.after import day_after
from tests.stock.kitchen import MORNING, Farm

YESTERDAY = MORNING.date() - dt.timedelta(days=1)
JELLY = "9 half-pints plum jelly, pantry"


@pytest.mark.parametrize(
    ("on", "filled", "out", "reason", "instead"),
    [
        (YESTERDAY, "09:00", "09:05", "are 5 min, and its process alone", "or later"),
        (YESTERDAY, "09:00", "09:09", "are 9 min, and its process alone", "or later"),
        (YESTERDAY, "23:55", "00:04", "are 9 min, and its process alone", "or later"),
        (YESTERDAY, "09:00", "08:00", "23 h 00 min later; over midnight", "both clock"),
        (YESTERDAY, "20:00", "08:01", "12 h 01 min later; over midnight", "both clock"),
        (None, "08:50", "09:01", "at 09:01 on 2026-11-25, in the future", "are out"),
        (None, "23:40", "00:20", "at 00:20 on 2026-11-26, in the future", "yesterday"),
        (None, "", "09:01", "in the future: it is 09:00", "yesterday"),
        (None, "21:40", "", "at 21:50 on 2026-11-25, in the future", "yesterday"),
        (None, "08:55", "", "at 09:05 on 2026-11-25, in the future", "are out"),
    ],
)
def test_times_that_cannot_be_are_refused(on, filled, out, reason, instead):
    farm = Farm()
    no = farm.made(JELLY, on=on, filled_at=filled, out_at=out)
    assert reason in no.reason
    assert instead in no.instead
    assert farm.stock.sequence == 0


@pytest.mark.parametrize(
    ("on", "filled", "began", "out", "came_out"),
    [
        (YESTERDAY, "09:00", "", "09:10", MORNING.replace(day=24, minute=10)),
        (YESTERDAY, "23:40", "", "00:20", MORNING.replace(hour=0, minute=20)),
        (YESTERDAY, "20:00", "20:40", "08:00", MORNING.replace(hour=8)),
        (None, "08:40", "", "09:00", MORNING),
        (None, "08:50", "", "", MORNING),
        (None, "", "", "08:00", MORNING.replace(hour=8)),
        (None, "", "", "", MORNING),
    ],
)
def test_times_that_can_be_are_taken_also_over_midnight(
    on, filled, began, out, came_out
):
    farm = Farm()
    times = {"filled_at": filled, "process_began": began, "out_at": out}
    assert farm.made(JELLY, on=on, **times) is None
    (load,) = day_after(farm.stock, farm.at)
    assert load.out_at == came_out


def test_summer_time_that_began_in_the_night_puts_nothing_into_the_future():
    farm = Farm()
    farm.at = dt.datetime(2026, 3, 8, 8, 5, tzinfo=ZoneInfo("America/Los_Angeles"))
    times = {"filled_at": "20:30", "process_began": "21:00", "out_at": "08:00"}
    assert farm.made(JELLY, on=dt.date(2026, 3, 7), **times) is None


def test_without_a_process_the_two_times_may_be_the_same():
    farm = Farm()
    times = {"filled_at": "08:00", "out_at": "08:00"}
    assert farm.made(JELLY, process_min=None, **times) is None
