import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.science.ranges import OutOfRange
from stillroom.science.refractometer import (
    corrected_solids,
    refractive_index,
    solids_from_index,
)
from stillroom.science.solutions import (
    brine_freezing_point_k,
    density_at_20_c_kg_m3,
    salt_share,
)
from stillroom.science.sugars import (
    CrystalRisk,
    crystal_risk,
    estimated_inversion,
    inversion_rate_per_s,
    solubility,
    solubility_newer,
)
from stillroom.science.syrup import (
    conductivity_w_per_m_k,
    freezing_point_k,
    heat_capacity_by_parts_j_per_kg_k,
    heat_capacity_j_per_kg_k,
    solids_from_density,
    viscosity_pa_s,
)
from stillroom.science.syrup import density_at_20_c_kg_m3 as syrup_density
from stillroom.science.water import conductivity_w_per_m_k as water_conductivity

celsius = st.floats(0.0, 100.0)


@given(st.floats(0.0, 0.84))
def test_an_index_and_its_solids_are_inverse(w):
    # Two fits to the same tables, 0.02 °Brix apart at 10 % and 0.13 at 84 %.
    assert solids_from_index(refractive_index(w)) == pytest.approx(w, abs=0.0014)


@given(st.floats(0.0, 0.84))
def test_a_density_and_its_solids_are_inverse(w):
    assert solids_from_density(syrup_density(w)) == pytest.approx(w, abs=1e-12)


@given(st.floats(0.10, 0.70), st.floats(12.0, 20.0), st.floats(12.0, 20.0))
def test_a_colder_drop_reads_too_high(reading, one, other):
    cold, warm = sorted((one, other))
    right = corrected_solids(reading, cold + 273.15, compensates=False)
    assert right <= reading
    if warm - cold > 1e-3:
        assert right < corrected_solids(reading, warm + 273.15, compensates=False)
    assert corrected_solids(reading, cold + 273.15, compensates=True) == reading


def test_between_two_printed_corrections_lies_a_straight_line():
    # OIV Table I, 15 °C: -0.34 at 20 %, -0.37 at 40 %, and 17 °C: -0.21, -0.23.
    told = corrected_solids(0.30, 289.15, compensates=False)
    assert 100 * (told - 0.30) == pytest.approx((-0.355 - 0.22) / 2, abs=1e-9)


@pytest.mark.parametrize("kelvin", [294.0, 298.15, 303.15, 280.0])
def test_a_warm_drop_is_refused_until_the_table_is_typed(kelvin):
    with pytest.raises(OutOfRange, match=r"OIV-MA-AS2-02.*Cool and stir the sample"):
        corrected_solids(0.65, kelvin, compensates=False)


def test_the_corner_of_the_table_that_was_not_seen_is_refused():
    with pytest.raises(OutOfRange, match=r"above 65 % it was seen from 12 °C"):
        corrected_solids(0.68, 283.15, compensates=False)
    with pytest.raises(OutOfRange, match="Give a mass fraction"):
        corrected_solids(65, 293.15, compensates=False)


@given(celsius, celsius)
def test_hot_water_holds_more_sugar(one, other):
    low, high = sorted((one, other))
    if high - low > 1e-6:
        assert solubility(low + 273.15) < solubility(high + 273.15)
        assert solubility_newer(low + 273.15) < solubility_newer(high + 273.15)


def test_the_two_solubilities_part_by_half_a_percent_in_a_cellar():
    for t in (15.0, 25.0, 40.0):
        apart = solubility(t + 273.15) - solubility_newer(t + 273.15)
        assert 0.003 < apart < 0.006


@pytest.mark.parametrize(
    ("solids", "inverted", "store_c", "risk"),
    [
        (0.65, 0.0, 10.0, CrystalRisk.NEAR),
        (0.68, 0.0, 10.0, CrystalRisk.LIKELY),
        (0.68, 0.20, 10.0, CrystalRisk.NONE),
        (0.76, 0.20, 5.0, CrystalRisk.HELD_BACK),
        (0.60, 0.0, 20.0, CrystalRisk.NONE),
    ],
)
def test_crystals_grow_where_sucrose_is_more_than_stays_dissolved(
    solids, inverted, store_c, risk
):
    assert crystal_risk(solids, inverted, store_c + 273.15) is risk


@given(st.floats(2.5, 4.5), st.floats(2.5, 4.5), st.floats(350, 385))
def test_ten_times_the_acid_inverts_ten_times_as_fast(one, other, kelvin):
    ratio = inversion_rate_per_s(one, kelvin) / inversion_rate_per_s(other, kelvin)
    assert ratio == pytest.approx(10.0 ** (other - one))


def test_inversion_is_the_integral_of_its_rate():
    steady = estimated_inversion([0, 600], [375.15, 375.15], 3.1)
    rate = inversion_rate_per_s(3.1, 375.15)
    assert steady.value == pytest.approx(1 - np.exp(-600 * rate), rel=1e-12)
    twice = estimated_inversion([0, 600, 1200], [375.15] * 3, 3.1)
    assert 1 - twice.value == pytest.approx((1 - steady.value) ** 2)
    assert steady.low < steady.value < steady.high < 1.0


@pytest.mark.parametrize("time", [[0], [0, 0], [60, 0]])
def test_a_boil_needs_a_log_that_runs_forward(time):
    with pytest.raises(OutOfRange, match="each after the last"):
        estimated_inversion(time, [375.15] * len(time), 3.1)


def test_a_single_sugar_weighs_about_what_sucrose_does():
    # So that a half-inverted jelly may be weighed as if it were sucrose.
    for w in (0.10, 0.20, 0.40):
        single = [density_at_20_c_kg_m3(s, w) for s in ("fructose", "glucose")]
        assert sum(single) / 2 == pytest.approx(syrup_density(w), rel=0.002)


def test_brine_by_the_whole_is_not_brine_by_the_water():
    assert salt_share(0.050, 0.950) == pytest.approx(0.05, rel=1e-15)
    assert salt_share(0.050, 1.000) == pytest.approx(0.0476, abs=5e-5)
    assert brine_freezing_point_k(0.0) == 273.15
    with pytest.raises(OutOfRange, match="no density is known"):
        density_at_20_c_kg_m3("pectin", 0.1)
    with pytest.raises(OutOfRange, match=r"5 % is 0\.05"):
        density_at_20_c_kg_m3("salt", 5.0)


@given(st.floats(0.0, 0.69), st.floats(0.0, 0.69), st.floats(284, 352))
def test_thicker_syrups_pour_slower_and_warm_ones_quicker(one, other, kelvin):
    low, high = sorted((one, other))
    if high - low > 1e-6:
        assert viscosity_pa_s(low, kelvin) < viscosity_pa_s(high, kelvin)
    assert viscosity_pa_s(high, kelvin + 1.0) < viscosity_pa_s(high, kelvin)


def test_without_sugar_it_conducts_like_water():
    for t in (20.0, 50.0, 90.0):
        ours = conductivity_w_per_m_k(0.0, t + 273.15)
        assert ours == pytest.approx(water_conductivity(t + 273.15), rel=0.02)


def test_more_sugar_freezes_lower_from_water_down():
    w = np.linspace(0.0, 0.42, 43)
    assert freezing_point_k(0.0) == 273.15
    assert (np.diff(freezing_point_k(w)) < 0.0).all()


@given(st.floats(0.2, 0.7), st.floats(290, 370))
def test_the_plans_heat_capacity_is_the_larger_of_two(w, kelvin):
    parts = heat_capacity_by_parts_j_per_kg_k(w, kelvin)
    assert parts < heat_capacity_j_per_kg_k(w, kelvin) < 1.22 * parts


def test_an_array_gives_what_its_elements_give():
    w = np.array([0.12, 0.3, 0.65])
    for function in (refractive_index, syrup_density):
        assert function(w) == pytest.approx([function(float(x)) for x in w])
    n = refractive_index(w)
    assert solids_from_index(n) == pytest.approx(
        [solids_from_index(float(x)) for x in n], abs=1e-12
    )
    assert solids_from_density(syrup_density(w)) == pytest.approx(w)
    kelvin = np.array([280.0, 300.0, 340.0])
    assert solubility(kelvin) == pytest.approx([solubility(float(t)) for t in kelvin])


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: solids_from_index(13.5), "Give the index itself"),
        (lambda: solids_from_density(1.25), "1.25 g/mL is 1250"),
        (lambda: viscosity_pa_s(0.8, 293.15), "outside 0 to 0.7"),
        (lambda: freezing_point_k(0.5), "outside 0 to 0.42"),
        (lambda: solubility(20.0), r"°C \+ 273.15"),
        (lambda: crystal_risk(0.65, 20, 283.15), "30 % is 0.30"),
        (lambda: inversion_rate_per_s(9.0, 370.0), "Vukov"),
    ],
)
def test_a_figure_outside_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
