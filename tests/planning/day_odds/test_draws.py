"""The fortunes of the days: what is drawn, against closed forms and plain draws."""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np
import pytest

from benchmarks.event_by_event import Happenings, OneDayAtATime
from stillroom.methods.step import Spread
from stillroom.planning.day_odds.draws import (
    FEWEST_SLICES,
    TICKS_A_MINUTE,
    Draws,
    log_widths,
)
from stillroom.planning.day_odds.finishing import Finishing
from stillroom.planning.day_odds.forward import Pass, spreads_of
from stillroom.planning.day_odds.odds import finishes_of
from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import Answer
from stillroom.planning.waits.precedence import precedence_of
from tests.planning.day_odds.test_odds import chain_day, unsure
from tests.planning.small_days import butter, day, jelly

EVEN = Spread(30, 60, 120)  # as much above as below: widths are equal


def test_all_days_together_meet_each_fortune_once() -> None:
    """Latin hypercube: sorted, every row is the quantiles of its own law."""
    days = FEWEST_SLICES
    rows = Draws([60] * 3, [EVEN] * 3, days=days, rho=0.0).all_rows()
    width = log_widths(EVEN)[0]
    quantiles = [
        60 * math.exp(width * NormalDist().inv_cdf((k + 0.5) / days))
        for k in range(days)
    ]
    for row in rows:
        assert np.allclose(np.sort(row), quantiles, atol=1 / TICKS_A_MINUTE)


def test_what_one_step_meets_says_nothing_of_another() -> None:
    rows = Draws([60] * 40, [EVEN] * 40, days=10_000, rho=0.0).all_rows()
    apart = np.corrcoef(np.log(rows)) - np.eye(40)
    # as of independent draws: standard error 1/sqrt(10,000), 780 pairs
    assert np.abs(apart).max() < 0.045
    assert math.sqrt(float(np.square(apart).sum()) / (40 * 39)) < 0.012


def test_a_long_chain_varies_as_much_as_its_steps_together() -> None:
    """Rows that are read at even distances would meet again and again: 15 % off."""
    ratios = []
    for seed in range(6):
        draws = Draws([60] * 150, [EVEN] * 150, days=10_000, rho=0.0, seed=seed)
        rows = draws.all_rows()
        logs = np.log(rows.astype(float))
        ratios.append(logs.sum(axis=0).var() / logs.var(axis=1).sum())
    # of independent days: standard error sqrt(2/10,000) = 0.014 each
    assert np.abs(np.array(ratios) - 1.0).max() < 0.05


@pytest.mark.parametrize("days", [1, 7, 60])
def test_few_days_are_no_narrower_than_many(days: int) -> None:
    means = [
        Draws([60], [EVEN], days=days, seed=seed, rho=0.0).all_rows()[0].mean()
        for seed in range(400)
    ]
    s = log_widths(EVEN)[0]
    sd = 60 * math.exp(s * s / 2) * math.sqrt(math.exp(s * s) - 1)
    assert np.std(means) == pytest.approx(sd / math.sqrt(days), rel=0.15)


def test_minutes_are_whole_ticks_and_sums_of_them_exact() -> None:
    drawn = Draws([60, 5], [EVEN, Spread(2, 5, 9)], days=500).all_rows()
    ticks = drawn * TICKS_A_MINUTE
    assert np.array_equal(ticks, np.rint(ticks))
    assert drawn.dtype == np.float32
    whole = drawn.astype(np.float64)
    assert np.array_equal(drawn[0] + drawn[1], whole[0] + whole[1])


@pytest.mark.parametrize("rho", [0.0, 0.3, 1.0])
def test_pert_on_a_chain_mean_and_variance(rho: float) -> None:
    """
    Log-normals in a row, their logarithms correlated by ``rho``.

    The mean is the sum of the means; the variance is the sum of all covariances
    m_i m_j (exp(rho s_i s_j) - 1), and of the variances where i = j. Both within three
    standard errors of as many independent days.
    """
    minutes, days = [30, 60, 45, 20, 80], 20_000
    problem, plan = chain_day(minutes, lambda m: Spread(m // 2, m, 2 * m))
    widths = [log_widths(Spread(m // 2, m, 2 * m)) for m in minutes]
    assert max(abs(a - b) for a, b in widths) < 0.05  # 45 // 2 is not quite half
    s = [(a + b) / 2 for a, b in widths]
    mean = [m * math.exp(w * w / 2) for m, w in zip(minutes, s, strict=True)]
    variance = sum(
        mean[i] * mean[j] * (math.exp((1.0 if i == j else rho) * s[i] * s[j]) - 1)
        for i in range(5)
        for j in range(5)
    )
    finishes = finishes_of(problem, plan, days=days, rho=rho).astype(float)
    error = math.sqrt(variance / days)
    assert abs(finishes.mean() - sum(mean)) < 3 * error + 0.2  # 45 // 2 again
    fourth = float(np.mean((finishes - finishes.mean()) ** 4))
    of_variance = math.sqrt((fourth - variance**2) / days)
    assert abs(finishes.var() - variance) < 3 * of_variance + 0.01 * variance


def test_a_plan_ends_as_likely_by_each_minute_as_with_plain_draws() -> None:
    """The days are spread evenly over all fortunes; no chance is changed by it."""
    problem = day(
        unsure(jelly("jelly-1")), unsure(jelly("jelly-2")), unsure(butter()), people=2
    )
    answer = plan_day(problem, seconds=1)
    assert isinstance(answer, Answer)
    net = precedence_of(problem, answer.timetable)
    planned = [node.planned_min for node in net.nodes]
    spreads = spreads_of(net, problem, answer.timetable)
    one_by_one, events = OneDayAtATime(planned, spreads, seed=8), Happenings(net)
    plain = np.sort([events.run_one_day(one_by_one.minutes())[1] for _ in range(4000)])
    drawn = Draws(planned, spreads, days=10_000)
    ours = np.sort(Finishing(Pass(net)).finishes(drawn).astype(float))
    assert ours.mean() == pytest.approx(plain.mean(), abs=4 * plain.std() / 63)
    # two-sample Kolmogorov-Smirnov: 1.95 is passed by chance once in a thousand times
    at = np.concatenate([plain, ours])
    below = np.searchsorted(plain, at, side="right") / 4000
    ours_below = np.searchsorted(ours, at, side="right") / 10_000
    assert np.abs(below - ours_below).max() < 1.95 * math.sqrt(1 / 4000 + 1 / 10_000)
