"""Which copies stay: by age, never the newest given up."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.records.ages import ALL_FOR, kept

NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
DAY = dt.timedelta(days=1)


def days(*ago: int) -> list[dt.datetime]:
    return [NOW - n * DAY for n in ago]


def test_all_of_seven_days_stay():
    hourly = [NOW - dt.timedelta(hours=n) for n in range(7 * 24 + 1)]
    assert kept(hourly, NOW) == set(hourly)


def test_one_a_week_stays_for_eight_weeks():
    """A copy a day: of days 8 to 55 the Sundays stay, and the ends of months."""
    stays = kept(days(*range(8, 56)), NOW, newest=1)
    older = {one.date() for one in stays if NOW - one > ALL_FOR}
    sundays = {dt.date(2026, 11, 15) - n * 7 * dt.timedelta(days=1) for n in range(7)}
    # The week that the copies end in is not over: its last one counts for it. So does
    # the last of the month.
    assert older == sundays - {dt.date(2026, 10, 4) - dt.timedelta(days=7)} | {
        dt.date(2026, 11, 17),
        dt.date(2026, 10, 31),
    }


def test_one_a_month_stays_for_a_year_and_then_goes():
    stays = kept(days(*range(60, 500)), NOW, newest=1)
    assert {one.strftime("%Y-%m") for one in stays} == {
        "2025-11",
        "2025-12",
        *(f"2026-{month:02}" for month in range(1, 10)),
    }


def test_the_newest_stay_however_old():
    old = days(2000, 2001, 2002, 2003)
    assert kept(old, NOW, newest=1) == {old[0]}
    assert kept(old, NOW, newest=3) == set(old[:3])


def test_a_clock_that_was_wrong_takes_nothing_away():
    future = [NOW + 400 * DAY, NOW + 401 * DAY, NOW + 402 * DAY]
    assert kept(future, NOW, newest=1) == set(future)


@pytest.mark.parametrize("newest", [0, -1])
def test_the_newest_is_never_given_up(newest: int):
    with pytest.raises(ValueError, match="at least 1 is kept"):
        kept(days(1), NOW, newest=newest)


@given(
    st.lists(st.integers(-5, 900 * 24), min_size=1, max_size=40, unique=True),
    st.integers(1, 5),
)
def test_what_holds_of_any_copies(ago: list[int], newest: int):
    made = [NOW - dt.timedelta(hours=n) for n in ago]
    stays = kept(made, NOW, newest=newest)
    assert set(sorted(made)[-newest:]) <= stays <= set(made)
    assert {one for one in made if NOW - one <= ALL_FOR} <= stays
    assert kept(stays, NOW, newest=newest) == stays


def test_giving_up_day_by_day_leaves_one_in_each_of_the_last_twelve_months():
    """What is given up today must not be what a later rule would have kept."""
    there: frozenset[dt.datetime] = frozenset()
    for n in range(500):
        now = NOW + n * DAY
        there = kept([*there, now], now)
    months = {one.strftime("%Y-%m") for one in there}
    assert len(months) >= 12
    assert len(there) <= 8 + 9 + 13 + 3
