"""A share is found again where it is known, and one box of bad lids does not spoil."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from stillroom.learning.shares import UNSEALED, UNSEALED_WORTH, shared

REPEATS = 200


def seals(lots):
    return shared(lots, book=UNSEALED, worth=UNSEALED_WORTH)


def test_no_jars_are_the_book():
    assert seals([]).mean == pytest.approx(UNSEALED)


def test_many_jars_are_the_data():
    assert seals([(1, 8)] * 2000).mean == pytest.approx(0.125, rel=0.01)


@pytest.mark.parametrize("lots", [2, 12, 60])
def test_the_share_is_found_within_its_interval_as_often_as_is_said(lots):
    generator = np.random.default_rng(lots)
    a, b = UNSEALED_WORTH * UNSEALED, UNSEALED_WORTH * (1 - UNSEALED)
    hits = 0
    for _ in range(REPEATS):
        truth = generator.beta(a, b)
        jars = generator.integers(6, 10, lots)
        found = seals([(int(generator.binomial(n, truth)), int(n)) for n in jars])
        hits += found.low < truth < found.high
    assert 0.84 <= hits / REPEATS <= 0.95


def test_it_is_the_conjugate_answer_of_the_library():
    lots = [(0, 8), (1, 8), (0, 7), (1, 9)]
    found = seals(lots)
    wanted = stats.beta(2 + 2, 48 + 30)
    assert found.mean == pytest.approx(wanted.mean())
    assert found.low == pytest.approx(wanted.ppf(0.05))
    assert found.high == pytest.approx(wanted.ppf(0.95))


@settings(deadline=None)
@given(st.integers(0, 9), st.integers(3, 30))
def test_one_box_of_bad_lids_counts_for_a_few_jars_at_most(failed, lots):
    usual = [(0, 8)] * (lots - 1) + [(1, 8)]
    without, with_it = seals(usual), seals([*usual, (failed, 9)])
    assert with_it.mean - without.mean < 0.03
    assert with_it.seen == without.seen + failed  # what was seen is said as it was


def test_a_plain_share_would_have_been_spoilt():
    usual = [(0, 8)] * 3
    plain = (2 + 9) / (50 + 33)
    assert plain - seals(usual).mean > 0.09
    assert seals([*usual, (9, 9)]).mean - seals(usual).mean < 0.03


def test_bad_lids_week_after_week_are_learned():
    assert seals([(4, 8)] * 40).mean == pytest.approx((2 + 160) / (50 + 320))


def test_spare_jars_grow_with_the_share():
    few, many = seals([(0, 8)] * 30), seals([(1, 8)] * 30)
    assert few.enough(80) < many.enough(80)
    assert seals([]).enough(0) == 0
