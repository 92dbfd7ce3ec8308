"""The kitchen's clock in winter and in summer."""

import datetime as dt
import time
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.running.clock import HERE, WallClock

DENVER = ZoneInfo("America/Denver")


@pytest.fixture(scope="module", autouse=True)
def in_denver():
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("TZ", "America/Denver")
        time.tzset()
        yield
    time.tzset()


def test_a_clock_time_of_august_is_one_of_summer_time_all_year():
    """UTC-6 in August, UTC-7 in November (IANA time zone database)."""
    summer = dt.datetime(2026, 8, 20, 14, 5, tzinfo=HERE)
    winter = dt.datetime(2026, 11, 20, 14, 5, tzinfo=HERE)
    assert summer.astimezone(dt.UTC).hour == 20
    assert winter.astimezone(dt.UTC).hour == 21


@given(st.integers(1_700_000_000, 1_900_000_000))
def test_every_moment_is_told_as_the_time_zone_database_tells_it(second: int):
    moment = dt.datetime.fromtimestamp(second, dt.UTC)
    here, there = moment.astimezone(HERE), moment.astimezone(DENVER)
    assert here.replace(tzinfo=None) == there.replace(tzinfo=None)
    assert here.utcoffset() == there.utcoffset()
    assert here.astimezone(dt.UTC) == moment


def test_the_hour_that_comes_twice_is_told_apart():
    first = dt.datetime(2026, 11, 1, 7, 30, tzinfo=dt.UTC)
    second = first + dt.timedelta(hours=1)
    assert first.astimezone(HERE).time() == second.astimezone(HERE).time()
    assert first.astimezone(HERE).utcoffset() != second.astimezone(HERE).utcoffset()


def test_the_clock_of_the_wall_is_that_of_the_place():
    now = WallClock().now()
    assert now.tzinfo is HERE
    assert abs(now - dt.datetime.now(dt.UTC)) < dt.timedelta(minutes=1)
