import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.science.air import pressure_pa
from stillroom.science.boiling import (
    boiling_point_rise_k,
    estimated_solids,
    solids_from_rise,
    sucrose_water_activity,
    water_activity_in_jar,
)
from stillroom.science.ranges import OutOfRange
from stillroom.science.water import boiling_point_k, saturation_pressure_pa

ATM = 101_325.0
solids = st.floats(0.0, 0.85)
shares = st.floats(0.0, 1.0)
pressures = st.floats(60_000, 150_000)


@given(solids, pressures)
def test_the_boil_balances_the_pressure_of_the_kitchen(w, pressure):
    boils = boiling_point_k(pressure) + boiling_point_rise_k(w, pressure)
    steam = sucrose_water_activity(w, boils) * saturation_pressure_pa(boils)
    assert steam == pytest.approx(pressure, rel=1e-7)


@given(solids, solids, pressures, shares)
def test_more_sugar_boils_hotter(one, other, pressure, inverted):
    low, high = sorted((one, other))
    rise = boiling_point_rise_k(low, pressure, inverted)
    assert rise >= -1e-12
    if high - low > 1e-6:
        assert boiling_point_rise_k(high, pressure, inverted) > rise


@given(st.floats(0.1, 0.8), shares, shares)
def test_inverted_sugar_boils_hotter_and_binds_more_water(w, one, other):
    low, high = sorted((one, other))
    if high - low > 1e-6:
        assert boiling_point_rise_k(w, ATM, low) < boiling_point_rise_k(w, ATM, high)
        assert water_activity_in_jar(w, low) > water_activity_in_jar(w, high)


@given(solids, st.floats(258, 400), shares)
def test_water_activity_is_a_share(w, kelvin, inverted):
    assert 0.0 < sucrose_water_activity(w, kelvin) <= 1.0
    assert 0.0 < water_activity_in_jar(w, inverted) <= 1.0


@given(st.floats(0.05, 0.84), pressures, shares)
def test_solids_and_rise_are_inverse(w, pressure, inverted):
    rise = boiling_point_rise_k(w, pressure, inverted)
    if rise <= 12.0:
        assert solids_from_rise(rise, pressure, inverted) == pytest.approx(w, abs=1e-9)


def test_the_kitchens_rule_and_65_percent_agree_for_an_acid_jelly_only():
    # USDA Guide 7: 8 °F; Cruess and McNair: 3.9 K at 65 °Brix.
    rule = 8.0 / 1.8
    assert solids_from_rise(rule, ATM) == pytest.approx(0.679, abs=0.001)
    assert solids_from_rise(rule, ATM, 0.27) == pytest.approx(0.65, abs=0.001)
    assert boiling_point_rise_k(0.65, ATM) == pytest.approx(3.9, abs=0.15)


def test_one_rise_serves_every_elevation():
    by_sea, in_the_hills = (
        boiling_point_rise_k(0.65, pressure_pa(z)) for z in (0.0, 3000.0)
    )
    assert 0.15 < by_sea - in_the_hills < 0.25


def test_a_thermometer_tells_solids_to_some_five_points():
    told = estimated_solids(40 / 9, ATM)
    assert told.low < 0.62 < told.value < 0.68 < told.high


def test_an_array_gives_what_its_elements_give():
    w = np.array([0.1, 0.5, 0.65])
    together = boiling_point_rise_k(w, ATM, np.array([0.0, 0.2, 0.4]))
    each = [
        boiling_point_rise_k(*pair)
        for pair in ((0.1, ATM, 0.0), (0.5, ATM, 0.2), (0.65, ATM, 0.4))
    ]
    assert together == pytest.approx(each, rel=1e-14)
    back = solids_from_rise(together, ATM, np.array([0.0, 0.2, 0.4]))
    assert back == pytest.approx(w)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: boiling_point_rise_k(65, ATM), r"65 .* Starzak .* 65 °Brix is 0.65"),
        (lambda: boiling_point_rise_k(0.65, 1013.25), "Give absolute pressure"),
        (lambda: boiling_point_rise_k(0.65, ATM, 30), "30 % inverted is 0.30"),
        (lambda: boiling_point_rise_k(float("nan"), ATM), "soluble_solids = nan"),
        (lambda: solids_from_rise(104.0, ATM), "less the reading in boiling water"),
        (lambda: sucrose_water_activity(0.65, 25.0), r"°C \+ 273.15"),
        (lambda: estimated_solids(0.1, ATM), "on their way to the set"),
    ],
)
def test_a_figure_outside_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
