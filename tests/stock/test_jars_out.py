"""When jars were filled and came out, where not all of it was said."""

import datetime as dt
from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest

from stillroom.stock.after import day_after, open_of
from stillroom.stock.events import Lot, Made
from stillroom.stock.fold import Stock
from stillroom.stock.jars_out import filled_at, hours_since, jars_out_at, out_on
from tests.stock.kitchen import Farm


def entry(on: str, booked: dt.datetime, **batch: object) -> tuple[Made, Lot]:
    """One of so long ago that it kept no clock of its own, and its hours as typed."""
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry")
    now = farm.stock.made(farm.last)
    assert now is not None
    lot = replace(now.lot, day=on)
    told = replace(now.batch, utc_offset_min=None, **batch)  # type: ignore[arg-type]
    return replace(now, lot=lot, batch=told, occurred_at=booked), lot


def test_out_of_the_canner_after_midnight_is_the_next_day():
    farm = Farm()
    evening = farm.at.date() - dt.timedelta(days=1)
    times = {"filled_at": "23:40", "out_at": "00:20"}
    assert farm.made("8 half-pints plum jelly, pantry", on=evening, **times) is None
    (load,) = day_after(farm.stock, farm.at)
    assert load.out_at == farm.at.replace(hour=0, minute=20)


def test_jars_whose_hour_was_not_said_came_out_after_they_were_filled():
    farm = Farm()
    evening = farm.at.date() - dt.timedelta(days=1)
    farm.made("8 half-pints plum jelly, pantry", on=evening, filled_at="21:40")
    (load,) = day_after(farm.stock, farm.at)
    assert load.out_at == farm.at.replace(day=24, hour=21, minute=50)  # 10 min of it


def test_small_hours_of_an_earlier_day_are_those_of_the_night_after():
    farm = Farm()
    day = farm.at.date() - dt.timedelta(days=1)
    assert out_on(day, "00:20", "", farm.at) == farm.at.date().isoformat()
    assert out_on(day, "03:59", "", farm.at) == farm.at.date().isoformat()
    assert out_on(day, "04:00", "", farm.at) == ""
    assert out_on(day, "00:20", "23:40", farm.at) == ""  # that tells it already
    assert out_on(farm.at.date(), "00:20", "", farm.at) == "", "no time to come"
    assert out_on(day, "", "", farm.at) == ""
    batch = {"out_at": "00:20", "out_on": farm.at.date().isoformat()}
    farm.made("8 half-pints plum jelly, pantry", on=day, **batch)
    made = farm.stock.made(farm.last)
    lot = farm.stock.lots[farm.last]
    night = farm.at.replace(hour=0, minute=20)
    assert (filled_at(made, lot), jars_out_at(made, lot)) == (night, night)


@pytest.mark.parametrize(
    ("on", "filled", "booked", "out"),
    [
        # it names an hour to come: its jars were out when it was booked
        ("2026-11-25", "21:40", "2026-11-25 09:00", "2026-11-25 09:00"),
        # booked behind midnight, while the ten minutes of its process still ran
        ("2026-11-24", "23:55", "2026-11-25 00:01", "2026-11-25 00:05"),
    ],
)
def test_jars_of_an_old_entry_were_out_no_later_than_it_may_be(on, filled, booked, out):
    """So long ago hours were taken down as they were typed."""
    hour = dt.datetime.fromisoformat(booked).replace(tzinfo=dt.UTC)
    made, lot = entry(on, hour, filled_at=filled, out_at="")
    assert f"{jars_out_at(made, lot, dt.UTC):%Y-%m-%d %H:%M}" == out


def test_of_an_earlier_day_without_an_hour_the_whole_day_is_counted():
    """Fewer hours would offer a second process to jars that stood too long."""
    farm = Farm()
    yesterday = farm.at.date() - dt.timedelta(days=1)
    farm.made("8 half-pints plum jelly, pantry", on=yesterday)
    made, lot = farm.stock.made(farm.last), farm.stock.lots[farm.last]
    assert made is not None
    assert hours_since(made, lot, farm.at) == 24 + 9
    farm.made("8 half-pints plum jelly, pantry")
    made, lot = farm.stock.made(farm.last), farm.stock.lots[farm.last]
    assert made is not None
    assert hours_since(made, lot, farm.at) == 0


def test_hours_are_counted_in_the_night_in_which_the_clocks_are_set():
    """From nine in the evening to nine in the morning are thirteen hours then."""
    ohio = ZoneInfo("America/New_York")
    booked = dt.datetime(2026, 10, 31, 22, 0, tzinfo=ohio)
    made, lot = entry("2026-10-31", booked.astimezone(dt.UTC), out_at="21:00")
    morning = dt.datetime(2026, 11, 1, 9, 0, tzinfo=ohio)
    assert hours_since(made, lot, morning) == 13


def test_of_jars_that_are_not_out_yet_no_hours_are_counted():
    made, lot = entry("2026-11-25", Farm().at, out_at="10:00")
    assert hours_since(made, lot, Farm().at) == 0


def test_an_old_entry_is_read_by_the_clock_of_the_kitchen():
    """It kept none of its own, and the ledger gives it back in UTC."""
    here = dt.timezone(dt.timedelta(hours=-7))
    booked = dt.datetime(2026, 11, 25, 9, 0, tzinfo=here)
    made, lot = entry("2026-11-25", booked.astimezone(dt.UTC), out_at="08:00")
    stock = Stock()
    stock.apply(made)
    found = open_of(stock, lot.code, booked.replace(hour=13))
    assert found is not None
    assert found.seals == "too early: look from 20:00"
