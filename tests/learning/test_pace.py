"""The pace is found again where it is known, and one wild day does not spoil it."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from stillroom.learning.pace import BOOK, USUAL_SPREAD, WORTH, Pace, fitted

REPEATS = 200
NINE_IN_TEN = (0.05, 0.95)


def within(found, pace, truth):
    low, high = (found(pace)(share) for share in NINE_IN_TEN)
    return low < truth < high


def test_no_runs_are_the_book():
    assert fitted([]) == BOOK
    assert math.exp(BOOK.middle) == 1.0


@pytest.mark.parametrize("runs", [1, 4, 9, 30])
def test_the_middle_is_found_within_its_interval_as_often_as_is_said(runs):
    """
    A kitchen is drawn from what the prior says of kitchens, its runs from the kitchen.

    Nine in ten of 200 lie between 84 and 95 in 100, but for one set of draws in 100.
    """
    generator = np.random.default_rng(runs)
    hits = days = 0
    for _ in range(REPEATS):
        variance = WORTH * USUAL_SPREAD**2 / generator.chisquare(WORTH)
        truth = generator.normal(0.0, math.sqrt(variance / WORTH))
        logs = generator.normal(truth, math.sqrt(variance), runs + 1)
        pace = fitted(list(logs[:-1]))
        hits += within(lambda p: p.sure, pace, truth)
        days += within(lambda p: p.day, pace, logs[-1])
    assert 0.84 <= hits / REPEATS <= 0.95
    assert 0.84 <= days / REPEATS <= 0.95


@pytest.mark.parametrize("factor", [0.6, 1.0, 1.5])
@pytest.mark.parametrize("spread", [0.1, 0.3])
def test_many_runs_bring_a_known_factor_and_spread_back(factor, spread):
    generator = np.random.default_rng(7)
    found = [
        fitted(list(generator.normal(math.log(factor), spread, 400)))
        for _ in range(REPEATS)
    ]
    middles = [math.exp(pace.middle) for pace in found]
    assert np.mean(middles) == pytest.approx(factor, rel=0.02)
    # the distance of the book from the kitchen stays in it: a little wide, never narrow
    mean = float(np.mean([pace.spread for pace in found]))
    assert 0.96 * spread < mean < 1.15 * spread


def test_the_book_gives_way_to_the_data_run_by_run():
    truth = math.log(1.6)
    middles = [fitted([truth] * n).middle for n in (0, 1, 4, 20, 1000)]
    assert middles == sorted(middles)
    assert middles[0] == 0.0
    assert middles[2] == pytest.approx(truth / 2)  # worth as many runs as the book
    assert middles[4] == pytest.approx(truth, rel=0.005)


def test_without_a_wild_day_it_is_the_conjugate_answer():
    """Normal-inverse-chi-squared, written once more in another way: by updating."""
    logs = [0.10, -0.05, 0.22, 0.02, 0.12]
    middle, squares, worth = 0.0, WORTH * USUAL_SPREAD**2, float(WORTH)
    for x in logs:  # one run after the other instead of all at once
        squares += worth / (worth + 1.0) * (x - middle) ** 2
        middle = (worth * middle + x) / (worth + 1.0)
        worth += 1.0
    pace = fitted(logs)
    assert pace.middle == pytest.approx(middle)
    assert pace.spread == pytest.approx(math.sqrt(squares / worth))
    scale = pace.spread * math.sqrt(1.0 + 1.0 / worth)
    wanted = stats.t.ppf(0.95, worth, middle, scale)
    assert pace.day(0.95) == pytest.approx(float(wanted))


@settings(deadline=None)
@given(st.floats(0.0, 9.0), st.integers(0, 1000))
def test_one_wild_day_moves_a_week_of_runs_by_a_tenth_at_most(wild, seed):
    """A step left open over lunch, or overnight: e^9 times as long as the book says."""
    calm = list(np.random.default_rng(seed).normal(0.1, 0.15, 6))
    without, with_it = fitted(calm), fitted([*calm, wild])
    assert abs(with_it.middle - without.middle) < 0.1
    assert with_it.spread < without.spread * 2.0


def test_the_wilder_it_is_the_less_more_it_says():
    calm = [0.05, 0.1, 0.0, 0.15, 0.12, 0.08]
    assert fitted([*calm, 2.0]) == fitted([*calm, 20.0]) == fitted([*calm, 200.0])


def test_a_plain_mean_would_have_been_spoilt():
    """That the test above can fail: without pulling in, a day of 60 times is fatal."""
    calm = [0.05, 0.1, 0.0, 0.15, 0.12, 0.08]
    plain = (sum(calm) + math.log(60)) / (len(calm) + 1 + WORTH)
    assert plain - fitted(calm).middle > 0.3


def test_many_slow_days_are_no_wild_days():
    pace = fitted([math.log(3.0)] * 12)
    assert math.exp(pace.middle) == pytest.approx(3.0 ** (12 / 16))


def test_a_product_leans_on_the_others():
    others = fitted([0.4] * 40)
    own = fitted([0.1, 0.1, 0.1, 0.1], prior=others)
    assert own.middle == pytest.approx((others.middle + 0.1) / 2)
    assert own.runs == 4


def test_a_prior_is_worth_a_run_at_least():
    with pytest.raises(ValueError, match="less than 1"):
        fitted([], worth=0)


def test_a_pace_of_more_runs_is_surer():
    few, many = Pace(0.1, 0.2, 5.0, 1), Pace(0.1, 0.2, 50.0, 46)
    assert few.sure(0.95) > many.sure(0.95) > 0.1
    assert few.day(0.95) > many.day(0.95)
