import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.science.kettle import (
    boil_down_s,
    dissolved_volume_m3,
    heating_s,
    mass_after_boil_down_kg,
    pot_needed_m3,
)
from stillroom.science.ranges import OutOfRange
from stillroom.science.syrup import density_kg_m3

CUP_M3 = 2.365882365e-4
masses = st.floats(0.1, 20)


def test_heating_a_batch_by_hand():
    # 1.590 kg at 3.04 kJ/(kg K) over 81 K, 3.5 kW at 40 %: 391.5 kJ / 1.4 kW.
    seconds = heating_s(1.590, 3040.0, 293.15, 374.15, 3500.0, 0.40)
    assert seconds / 60 == pytest.approx(4.66, abs=0.05)


def test_boiling_down_a_batch_by_hand():
    # 0.4844 kg of water at 2.25 MJ/kg on 3.5 kW at 40 %: 12.98 min.
    seconds = boil_down_s(1.5904, 0.452, 0.65, 2.25e6, 3500.0, 0.40)
    assert seconds / 60 == pytest.approx(12.98, abs=0.05)


def test_a_net_kilowatt_boils_away_1_6_kg_an_hour():
    # 3.6 MJ / 2.25 MJ/kg; halving the mass of 2 kg boils 1 kg away.
    seconds = boil_down_s(2.0, 0.3, 0.6, 2.25e6, 1000.0, 1.0)
    assert 3600 / seconds == pytest.approx(1.6, abs=0.01)


# Mass balance m_out / m_in = w_in / w_out, in percent.
@pytest.mark.parametrize(
    ("before", "after", "ratio"),
    [(45.2, 65, 0.6954), (50, 65, 0.7692), (60, 65, 0.9231), (12, 43, 0.2791)],
)
def test_what_is_left_after_boiling_down(before, after, ratio):
    left = mass_after_boil_down_kg(1.0, before / 100, after / 100)
    assert left == pytest.approx(ratio, abs=0.0005)


def test_the_yield_of_a_boiled_down_jelly():
    # 4 cups of juice at 12 % (0.9904 kg) and 600 g of sugar, to 65 %: 1.106 kg, or
    # 3.55 half-pints at 1316.3 kg/m³.
    mix_kg = 0.9904 + 0.600
    solids = (0.9904 * 0.12 + 0.600) / mix_kg
    left = mass_after_boil_down_kg(mix_kg, solids, 0.65)
    assert left == pytest.approx(1.1059, abs=0.002)
    assert left / density_kg_m3(0.65, 293.15) / CUP_M3 == pytest.approx(3.55, abs=0.01)


def test_five_cups_of_juice_and_seven_of_sugar_are_8_7_cups():
    # Story S2: 8.7 cups, so that sugar adds 0.53 of its cups; four times is 8.3 L.
    mix = dissolved_volume_m3(5 * CUP_M3, 1.4)
    assert mix / CUP_M3 == pytest.approx(8.7, abs=0.05)
    assert (mix / CUP_M3 - 5) / 7 == pytest.approx(0.53, abs=0.005)
    assert pot_needed_m3(mix) * 1000 == pytest.approx(8.3, abs=0.05)


def test_the_mix_is_measured_by_hand():
    # 1 L of water and 1 kg of sugar: 1.9982 kg at 50.05 % and 1229.8 kg/m³ = 1.625 L.
    assert dissolved_volume_m3(1e-3, 1.0, 0.0) == pytest.approx(1.625e-3, abs=2e-6)
    assert dissolved_volume_m3(1e-3, 0.0) == pytest.approx(1e-3, rel=1e-12)


@given(masses, masses, st.floats(280, 370), st.floats(0.1, 1))
def test_more_takes_longer_and_more_fire_is_quicker(one, other, start, share):
    low, high = sorted((one, other))
    quick = heating_s(low, 3500.0, start, 374.0, 2000.0, share)
    assert heating_s(high, 3500.0, start, 374.0, 2000.0, share) >= quick
    assert heating_s(low, 3500.0, start, 374.0, 2500.0, share) < quick
    assert heating_s(low, 3500.0, start, 374.0, 2000.0, share, 50.0) > quick


@given(masses, st.floats(0.05, 0.6), st.floats(0.0, 0.3))
def test_solids_are_conserved(mass, before, rise):
    after = before + rise
    left = mass_after_boil_down_kg(mass, before, after)
    assert left * after == pytest.approx(mass * before)
    assert left <= mass * (1 + 1e-12)


@given(st.floats(1e-4, 5e-3), st.floats(0.0, 1.0), st.floats(0.001, 1.0))
def test_sugar_always_adds_less_than_its_own_cups(liquid, parts, more):
    sugar = liquid * 1000 * parts
    before = dissolved_volume_m3(liquid, sugar)
    after = dissolved_volume_m3(liquid, sugar + more * liquid * 1000)
    added = after - before
    assert 0 < added < more * liquid * 1000 / 0.2 * CUP_M3


def test_what_is_warm_enough_takes_no_time():
    assert heating_s(1.0, 4187.0, 374.0, 373.0, 2000.0, 0.4) == 0.0


def test_an_array_gives_what_its_elements_give():
    masses_kg = np.array([0.5, 1.0, 2.0])
    together = boil_down_s(masses_kg, 0.4, 0.65, 2.25e6, 2000.0, 0.4)
    each = [boil_down_s(float(m), 0.4, 0.65, 2.25e6, 2000.0, 0.4) for m in masses_kg]
    assert together == pytest.approx(each)
    warm = heating_s(
        masses_kg, 3500.0, np.array([373.0, 374.0, 375.0]), 374.0, 2e3, 0.4
    )
    assert warm[0] > 0
    assert list(warm[1:]) == [0.0, 0.0]


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: heating_s(-1, 4187, 293, 373, 2e3, 0.4), r"mass_kg = -1 .* kilograms"),
        (lambda: heating_s(1, 4.187, 293, 373, 2e3, 0.4), r"Give J/\(kg K\): water"),
        (lambda: heating_s(1, 4187, 20, 100, 2e3, 0.4), r"from_k = 20 .* kelvin"),
        (lambda: heating_s(1, 4187, 293, 999, 2e3, 0.4), "to_k = 999"),
        (lambda: heating_s(1, 4187, 293, 373, 0, 0.4), "1 kW is 1000"),
        (lambda: heating_s(1, 4187, 293, 373, 2e3, 40), "40 % is 0.40"),
        (lambda: heating_s(1, 4187, 293, 373, 2e3, 0.4, -1), "loss_w = -1"),
        (lambda: heating_s(1, 4187, 293, 373, 1e3, 0.4, 500), "stronger burner"),
        (lambda: boil_down_s(1, 0.4, 0.65, 2.25, 2e3, 0.4), "latent_heat"),
        (lambda: mass_after_boil_down_kg(1, 0.65, 0.4), "never lowers the solids"),
        (lambda: mass_after_boil_down_kg(1, 40, 65), r"solids_in = 40 .* 0.65"),
        (lambda: dissolved_volume_m3(5, 1.4), "a cup is 2.366e-4"),
        (lambda: dissolved_volume_m3(1e-3, -1), "a cup of sugar is about 0.2"),
        (lambda: dissolved_volume_m3(1e-3, 1, 12), "12 °Brix is 0.12"),
        (lambda: dissolved_volume_m3(1e-4, 2), "outside 0 to 0.84"),
        (lambda: pot_needed_m3(8), "a litre is 0.001"),
        (lambda: pot_needed_m3(1e-3, 0.5), r"times = 0.5 .* common practice"),
    ],
)
def test_a_figure_outside_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
