"""The nights in which clocks go back or forward: which moment a clock time was."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from stillroom.stock.clock_offsets import ended_after
from stillroom.stock.commands import Process
from stillroom.stock.jars_out import filled_at, hours_since, jars_out_at
from stillroom.web.stock_deeds import process_times
from tests.stock.kitchen import Farm

ZONE = ZoneInfo("America/Los_Angeles")
BACK = dt.date(2026, 11, 1)
FORWARD = dt.date(2026, 3, 8)


def utc(day: dt.date, hour: int, minute: int) -> dt.datetime:
    return dt.datetime.combine(day, dt.time(hour, minute), tzinfo=dt.UTC)


def jelly(on: dt.date, filled: str, out: str, *, now: dt.datetime, **batch: object):
    farm = Farm()
    farm.at = now
    times = {"filled_at": filled, "out_at": out}
    no = farm.made("9 half-pints plum jelly, pantry", on=on, **times, **batch)
    return farm, no


MORNING = dt.datetime.combine(BACK, dt.time(9), tzinfo=ZONE)


@pytest.mark.parametrize(
    ("filled", "out", "minutes", "filled_utc", "out_utc"),
    [
        ("01:30", "01:10", 10, (8, 30), (9, 10)),  # the second ten past one
        ("01:30", "01:40", 10, (8, 30), (8, 40)),  # the first is long enough
        ("01:30", "01:40", 60, (8, 30), (9, 40)),  # only the second is
        ("00:50", "01:20", 10, (7, 50), (8, 20)),
        ("00:50", "02:20", 10, (7, 50), (10, 20)),
        ("02:10", "02:40", 10, (10, 10), (10, 40)),
        ("01:30", "", 10, (8, 30), (8, 40)),
        ("04:10", "", 10, (12, 10), (12, 20)),
    ],
)
def test_an_out_in_the_hour_that_comes_twice_is_the_one_that_can_be(
    filled, out, minutes, filled_utc, out_utc
):
    batch = {"process_min": minutes, "due_min": minutes}
    farm, no = jelly(BACK, filled, out, now=MORNING, **batch)
    assert no is None
    made, lot = farm.stock.made(farm.last), farm.stock.lots[farm.last]
    assert filled_at(made, lot, ZONE) == utc(BACK, *filled_utc)
    assert jars_out_at(made, lot, ZONE) == utc(BACK, *out_utc)
    since = MORNING.astimezone(dt.UTC) - utc(BACK, *out_utc)
    assert hours_since(made, lot, farm.at) == since.total_seconds() / 3600


def test_a_process_that_is_too_short_by_either_of_the_two_is_refused():
    _, no = jelly(BACK, "01:30", "01:10", now=MORNING, process_min=55, due_min=55)
    assert "are 40 min, and its process alone was 55 min" in no.reason


def test_on_any_other_night_an_out_before_its_filling_is_of_the_next_day():
    day = BACK + dt.timedelta(days=1)
    now = MORNING + dt.timedelta(days=1)
    _, no = jelly(day, "01:30", "01:10", now=now)
    assert "23 h 40 min later" in no.reason


def test_what_is_over_is_not_to_come_while_the_hour_comes_again():
    now = dt.datetime.combine(BACK, dt.time(1, 5), tzinfo=ZONE).replace(fold=1)
    _, no = jelly(BACK, "01:20", "01:40", now=now)  # 25 min ago
    assert no is None


def test_a_night_in_which_clocks_go_forward_is_an_hour_shorter():
    now = dt.datetime.combine(FORWARD, dt.time(9), tzinfo=ZONE)
    farm, no = jelly(FORWARD, "01:50", "03:20", now=now)
    assert no is None
    made, lot = farm.stock.made(farm.last), farm.stock.lots[farm.last]
    took = jars_out_at(made, lot, ZONE) - filled_at(made, lot, ZONE)
    assert took == dt.timedelta(minutes=30)
    _, no = jelly(FORWARD, "01:50", "03:20", now=now, process_min=40)
    assert "are 30 min, and its process alone was 40 min" in no.reason


def test_an_end_before_its_begin_is_of_that_hour_or_of_the_next_day():
    began = dt.datetime.combine(BACK, dt.time(1, 30), tzinfo=ZONE)
    ended = ended_after(began, began.replace(minute=10))
    assert (ended.day, ended.fold) == (1, 1)
    other = began + dt.timedelta(days=1)
    assert ended_after(other, other.replace(minute=10)).day == 3


def test_a_process_over_that_hour_is_typed_in_late_with_its_true_minutes():
    farm, _ = jelly(BACK, "01:20", "", now=MORNING, process_min=None)
    began, ended = process_times("2026-11-01", "01:50", "01:05", MORNING)
    said = {"began": began, "ended": ended, "who": "Tilda", "at": farm.at}
    assert farm.do(Process(lot=farm.last, **said)) is None
    assert farm.stock.processed(farm.last).minutes == 15


def test_a_process_from_the_hour_that_comes_twice_is_the_shorter_it_can_be():
    farm, _ = jelly(BACK, "01:40", "", now=MORNING, process_min=None)
    began = dt.datetime.combine(BACK, dt.time(1, 50), tzinfo=ZONE)
    ended = began.replace(hour=2, minute=0)
    farm.do(Process(lot=farm.last, began=began, ended=ended, who="A", at=MORNING))
    late = farm.stock.processed(farm.last)
    assert late is not None
    assert late.minutes == 10  # and not 70
