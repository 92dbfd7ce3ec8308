"""Days simulated from known figures bring those figures back, through real events."""

import datetime as dt
import math

import numpy as np
import pytest

from stillroom.learning.learn import LEAST_RUNS, learned
from stillroom.refusal import granted
from stillroom.running.commands import BeginDay, BeginStep, FinishStep
from stillroom.running.decide import decide
from stillroom.running.events import RunLoad, RunStep
from stillroom.running.fold import NOT_BEGUN, fold
from stillroom.stock.fold import Stock

MORNING = dt.datetime(2026, 1, 5, 8, 0, tzinfo=dt.UTC)
LOAD = RunLoad(
    id="l1",
    name="load 1",
    canner="canner",
    process_min=10,
    source="invented for a test",
    jar="half-pint",
    jars=(("b1", 8),),
)


def simulated_day(number, logs, product="plum jelly", book_min=10):
    """One day through the real decide: each of its steps takes e^log times the book."""
    at = MORNING + dt.timedelta(days=number)
    steps = tuple(
        RunStep(batch=f"b{n}", step="fill", product=product, book_min=book_min)
        for n in range(len(logs))
    )
    events = granted(decide(NOT_BEGUN, BeginDay(loads=(LOAD,), steps=steps, at=at)))
    for n, log in enumerate(logs):
        state = fold(events)
        begin = BeginStep(batch=f"b{n}", step="fill", at=at)
        events += granted(decide(state, begin))
        at += dt.timedelta(minutes=book_min * math.exp(log))
        done = FinishStep(batch=f"b{n}", step="fill", at=at)
        events += granted(decide(fold(events), done))
    return events


def known(days, product="plum jelly"):
    return learned(days, Stock()).of_step(product, "fill")


@pytest.mark.parametrize("truth", [0.7, 1.0, 1.4])
def test_a_known_pace_comes_back_and_its_interval_says_how_surely(truth):
    generator = np.random.default_rng(11)
    hits = 0
    for _ in range(40):
        days = [
            simulated_day(n, generator.normal(math.log(truth), 0.2, 5))
            for n in range(24)
        ]
        found = known(days)
        assert found.runs == 120
        assert found.middle == pytest.approx(truth, rel=0.08)
        hits += found.surely_above < truth < found.surely_below
    assert hits >= 30  # nine in ten of 40 less what the book still pulls


def test_a_step_left_open_over_lunch_does_not_spoil_it():
    calm = [simulated_day(n, [0.1, 0.0, 0.2]) for n in range(3)]
    lunch = simulated_day(9, [math.log(9.0)])  # ten minutes took an hour and a half
    before, after = known(calm), known([*calm, lunch])
    assert after.runs == before.runs + 1
    assert after.middle == pytest.approx(before.middle, rel=0.06)


def test_two_runs_leave_the_book_alone():
    assert known([simulated_day(0, [0.3] * (LEAST_RUNS - 1))]) is None
    assert known([simulated_day(0, [0.3] * LEAST_RUNS)]) is not None


def test_a_product_never_made_leans_on_the_others():
    days = [simulated_day(0, [0.3] * 8)]
    assert known(days, "pear butter").middle == known(days).middle
    lent = known(days, "pear butter")
    assert (lent.runs, lent.others) == (0, 8)
    assert lent.words == "learned from 8 of your runs with other products"


def test_own_runs_weigh_more_than_those_of_others_and_each_counts_once():
    days = [
        simulated_day(0, [0.4] * 8, product="pear butter"),
        simulated_day(1, [0.0] * 8, product="plum jelly"),
    ]
    found = known(days)
    assert (found.runs, found.others) == (8, 8)
    assert 1.0 < found.middle < 1.12
    assert found.words == "learned from 8 runs of yours and 8 with other products"
