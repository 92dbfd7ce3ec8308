"""Our own quantiles against a general library, and what must hold of them."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from stillroom.learning.quantiles import beta_quantile, beta_share_below, t_quantile
from stillroom.methods.learned import beta_binomial_quantile

SHARES = st.floats(0.001, 0.999)
SHAPES = st.floats(0.2, 400.0)


@settings(deadline=None)
@given(SHARES, st.floats(1.0, 500.0))
def test_students_t_is_the_librarys(share, degrees):
    wanted = float(stats.t.ppf(share, degrees))
    assert t_quantile(share, degrees) == pytest.approx(wanted, rel=1e-8, abs=1e-8)


@settings(deadline=None)
@given(st.floats(0.0, 1.0), SHAPES, SHAPES)
def test_the_share_below_is_the_librarys(x, a, b):
    wanted = float(stats.beta.cdf(x, a, b))
    assert beta_share_below(x, a, b) == pytest.approx(wanted, abs=1e-11)


@settings(deadline=None)
@given(SHARES, st.floats(0.5, 400.0), st.floats(0.5, 400.0))
def test_the_quantile_of_a_share_is_the_librarys(share, a, b):
    wanted = float(stats.beta.ppf(share, a, b))
    assert beta_quantile(share, a, b) == pytest.approx(wanted, rel=1e-7, abs=1e-9)


@settings(deadline=None)
@given(st.floats(0.5, 90.0), st.floats(0.5, 900.0), st.integers(0, 200), SHARES)
def test_enough_is_the_librarys_beta_binomial(a, b, n, share):
    # within rounding of a step of the distribution function either side will do
    found = beta_binomial_quantile(a, b, n, share)
    assert stats.betabinom.cdf(found, n, a, b) >= share - 1e-9
    if found:
        assert stats.betabinom.cdf(found - 1, n, a, b) < share + 1e-9


@pytest.mark.parametrize("share", [0.0, 1.0, -0.2])
def test_a_share_outside_0_to_1_is_no_quantile(share):
    with pytest.raises(ValueError, match="outside 0 to 1"):
        t_quantile(share, 4.0)
    with pytest.raises(ValueError, match="outside 0 to 1"):
        beta_quantile(share, 1.0, 1.0)
