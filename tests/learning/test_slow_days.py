"""The day's own share of the spread is found again where it is known."""

import math

import numpy as np
import pytest

from stillroom.learning.slow_days import WORTH_DAYS, share_between, slow_day
from stillroom.planning.day_odds.draws import SHARED_SLOW_DAY


def days(number, steps, share, seed=1, spread=0.2):
    generator = np.random.default_rng(seed)
    found = []
    for _ in range(number):
        own = generator.normal(0.0, math.sqrt(share) * spread)
        rest = generator.normal(0.0, math.sqrt(1.0 - share) * spread, steps)
        found.append(list(own + rest))
    return found


@pytest.mark.parametrize("share", [0.0, 0.3, 0.7])
def test_a_known_share_comes_back(share):
    found = [share_between(days(40, 25, share, seed)) for seed in range(60)]
    assert float(np.mean(found)) == pytest.approx(share, abs=0.03)


def test_it_is_the_analysis_of_variance_of_equal_days():
    """Written out for days of one length: MSB, MSW and n0 = n."""
    table = np.array(days(9, 6, 0.4))
    msb = 6 * table.mean(axis=1).var(ddof=1)
    msw = table.var(axis=1, ddof=1).mean()
    between = (msb - msw) / 6
    assert share_between(table.tolist()) == pytest.approx(between / (between + msw))


def test_few_days_lean_on_the_book_and_many_do_not():
    few, many = slow_day(days(4, 30, 0.0)), slow_day(days(400, 30, 0.0))
    assert few.days == 4
    assert few.share > 0.5 * SHARED_SLOW_DAY
    assert many.share < 0.02
    assert few.book == many.book == SHARED_SLOW_DAY


def test_at_the_books_own_share_nothing_moves():
    found = [slow_day(days(12, 30, SHARED_SLOW_DAY, seed)).share for seed in range(80)]
    assert float(np.mean(found)) == pytest.approx(SHARED_SLOW_DAY, abs=0.04)


def test_one_step_left_open_does_not_make_a_slow_day():
    calm = days(8, 12, 0.1)
    wild = [list(day) for day in calm]
    wild[3][5] = 6.0
    assert slow_day(wild).share == pytest.approx(slow_day(calm).share, abs=0.05)


@pytest.mark.parametrize("told", [[], [[0.1, 0.2]] * 2, [[0.1]] * 9, [[0.0, 0.0]] * 9])
def test_where_it_cannot_be_told_it_is_not(told):
    assert slow_day(told) is None


def test_the_book_is_worth_some_days():
    alike = slow_day([[0.5, 0.5], [-0.5, -0.5], [0.1, 0.1]])
    wanted = (WORTH_DAYS * SHARED_SLOW_DAY + 3) / (WORTH_DAYS + 3)
    assert alike.share == pytest.approx(wanted)
